package record

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"padband/calib/reading"
)

// Summary is what a look over many records needs of one: the facts of its
// bag-info.txt and the figures of its reading. Nothing in it was verified.
type Summary struct {
	Path                 string // of the folder or the zip file
	Place, Point, Tester string // empty when nobody gave them, as all facts here
	Taken, Dipped        string // as written; see [ParseTime]
	Lot, Expires         string
	Photo                string // the photo's SHA-256 as the reading has it
	Chart                reading.Chart
	Readings             []reading.Reading // in their own units
}

// Summarise reads bag-info.txt and data/reading.json of the record's folder or
// zip file of this name, and no other file of it. It follows no link. The error says what is
// wrong with it; [ErrNotRecord] that it is a zip file of something else.
func Summarise(name string) (Summary, error) {
	root, err := openForSummary(name)
	if err != nil {
		return Summary{}, err
	}
	defer root.Close()
	return summarise(root)
}

// ErrNotRecord is the error for a zip file that holds something else.
var ErrNotRecord = errors.New("is no record: it holds no bagit.txt")

func openForSummary(name string) (*Root, error) {
	info, err := os.Lstat(name)
	switch {
	case err != nil:
		return nil, cause(err)
	case info.IsDir():
		return openThree(name)
	case !info.Mode().IsRegular():
		return nil, errors.New("is neither a folder nor an ordinary file")
	}
	root, err := openZip(name)
	if err != nil {
		return nil, err
	}
	for _, f := range root.Findings {
		if root.has("bagit.txt") || strings.HasSuffix(f.About, "bagit.txt") {
			root.Close()
			return nil, fmt.Errorf("%s: %s", shown(f.About), f.Text)
		}
	}
	if !root.has("bagit.txt") {
		root.Close()
		return nil, ErrNotRecord
	}
	return root, nil
}

// openThree opens a record's folder for the files that a summary is made of.
func openThree(dir string) (*Root, error) {
	held, err := os.OpenRoot(dir) // what is opened through it cannot lead outside
	if err != nil {
		return nil, cause(err)
	}
	r := &Root{Name: dir, files: map[string]func() (io.ReadCloser, error){}, close: held.Close}
	for _, p := range []string{"bagit.txt", "bag-info.txt", readingPath} {
		name := filepath.FromSlash(p)
		info, err := held.Lstat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			held.Close()
			return nil, fmt.Errorf("%s: %w", p, cause(err))
		case !info.Mode().IsRegular():
			held.Close()
			return nil, fmt.Errorf("%s is a link or no ordinary file; a record holds files only", p)
		default:
			r.files[p] = func() (io.ReadCloser, error) { return held.Open(name) }
		}
	}
	return r, nil
}

func summarise(root *Root) (Summary, error) {
	s := Summary{Path: root.Name}
	data, err := root.read("bag-info.txt", tagBytes)
	var info Info
	if err == nil {
		info, err = parseInfo(data)
	}
	if err != nil {
		return s, fmt.Errorf("bag-info.txt: %w", cause(err))
	}
	s.facts(info)
	if data, err = root.read(readingPath, tagBytes); err == nil {
		err = s.reading(data)
	}
	if err != nil {
		return s, fmt.Errorf("%s: %w", readingPath, cause(err))
	}
	return s, nil
}

func (s *Summary) facts(in Info) {
	for label, to := range map[string]*string{"Place": &s.Place, "Sampling-Point": &s.Point, "Tester": &s.Tester,
		"Photo-Taken": &s.Taken, "Dipped": &s.Dipped, "Kit-Lot": &s.Lot, "Kit-Expires": &s.Expires} {
		*to = strings.Join(strings.Fields(in.Get(label)), " ")
	}
}

func (s *Summary) reading(data []byte) error {
	f, err := reading.Parse(data)
	var newer *reading.FormatError
	switch {
	case errors.As(err, &newer):
		return fmt.Errorf("%w; a newer padband reads it", err)
	case err != nil:
		return err
	}
	s.Photo, s.Chart, s.Readings = f.Photo.SHA256, f.Chart, f.Readings
	if s.Taken == "" {
		s.Taken = f.Photo.TakenText()
	}
	return nil
}
