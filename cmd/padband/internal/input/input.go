// Package input finds the files that lie beside a photo: its marks, its chart and its
// reading. Start at [Marks] and [Chart]; [MarksIn] and [ChartIn] look in a [Place]
// other than the disk. The package writes no files.
package input

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"padband/charts"
)

// Caps on what is read from disk.
const (
	photoBytes = 512 << 20
	fileBytes  = 4 << 20
)

// ReadFile reads a whole ordinary file of at most limit bytes. Its error does
// not repeat the name.
func ReadFile(name string, limit int64) ([]byte, error) {
	info, err := os.Stat(name) // before opening it: a pipe that is opened waits for its writer
	if err != nil {
		return nil, plainError(err)
	}
	if err := ordinary(info, limit); err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	return ReadOpened(f, err, limit)
}

// ReadOpened is [ReadFile] of a file that another way was opened, or of the error
// of that.
func ReadOpened(f fs.File, err error, limit int64) ([]byte, error) {
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, plainError(err)
	}
	if err := ordinary(info, limit); err != nil {
		return nil, err
	}
	data := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead)) // at most limit, and in one piece
	_, err = data.ReadFrom(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, plainError(err)
	case int64(data.Len()) > limit:
		return nil, fmt.Errorf("is over the limit of %d MB; make it smaller", limit>>20)
	case data.Len() == 0:
		return nil, errEmpty
	}
	return data.Bytes(), nil
}

// errEmpty lacks the advice, which is another for a photo than for a file that was written.
var errEmpty = errors.New("the file is empty")

// Photo reads a photo's file, and refuses the files that go with a photo
// when they are named in its place.
func Photo(name string) ([]byte, error) {
	data, err := ReadFile(name, photoBytes)
	if errors.Is(err, errEmpty) {
		return nil, fmt.Errorf("%w; copy it from the phone again", err)
	}
	if err != nil || !bytes.HasPrefix(bytes.TrimSpace(data), []byte("{")) {
		return data, err
	}
	switch {
	case strings.HasSuffix(name, MarksEnding):
		return nil, errors.New("this is a marks file; name the photo")
	case strings.HasSuffix(name, ChartEnding):
		return nil, errors.New("this is a chart file; name the photo")
	}
	return data, nil
}

// readJSON reads a marks or chart file; the error names it.
func readJSON(in Place, name string) ([]byte, error) {
	data, err := in.ReadFile(name, fileBytes)
	switch {
	case errors.Is(err, errEmpty):
		return nil, fmt.Errorf("%s: %w; save it again", Shown(name), err)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", Shown(name), err)
	}
	return data, nil
}

// ordinary refuses what is no file with an end: folders, pipes, devices and
// files of no size, which is what a system's own tables say they have.
func ordinary(info fs.FileInfo, limit int64) error {
	switch {
	case info.IsDir():
		return errors.New("is a folder; name a file")
	case !info.Mode().IsRegular():
		return errors.New("is a pipe or a device, not an ordinary file; save it and name the file")
	case info.Size() == 0:
		return errEmpty
	case info.Size() > limit:
		return fmt.Errorf("is %d MB, over the limit of %d MB; make it smaller", info.Size()>>20, limit>>20)
	}
	return nil
}

// plainError says what is wrong with a file in words that help.
func plainError(err error) error {
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file; check the name and the folder")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("may not be opened; check its permissions")
	case errors.As(err, &p):
		return fmt.Errorf("cannot be read: %w; check the name and the disk", p.Err)
	}
	return err
}

// Cause is what the system says, without the name or the address it says it of.
func Cause(err error) error {
	for err != nil {
		inner := errors.Unwrap(err)
		if inner == nil {
			break
		}
		err = inner
	}
	return err
}

// Shown is a file's name as it is printed: as it is when that leaves it on one
// line, else in quotes with whatever would steer the terminal escaped.
func Shown(name string) string {
	odd := func(r rune) bool { return !unicode.IsPrint(r) }
	if name == "" || !utf8.ValidString(name) || strings.TrimSpace(name) != name || strings.ContainsFunc(name, odd) {
		return strconv.Quote(name)
	}
	return name
}

// ShownAll are names as [Shown] has them.
func ShownAll(names []string) (out []string) {
	for _, n := range names {
		out = append(out, Shown(n))
	}
	return out
}

// Called is how one of several files is called: by its name without its folder where no
// other has the same, else as it was named, so that the two are told apart.
func Called(name string, all []string) string {
	base, same := filepath.Base(name), 0
	for _, o := range all {
		if filepath.Base(o) == base {
			same++
		}
	}
	if same > 1 {
		return name
	}
	return base
}

// Stem is the photo's name without its ending.
func Stem(photo string) string { return strings.TrimSuffix(photo, filepath.Ext(photo)) }

// NoMarksError says that a photo has no marks file beside it.
type NoMarksError struct{ Name string }

func (e *NoMarksError) Error() string {
	return "no marks: " + Shown(e.Name) + " is not there; mark the photo first"
}

// MarkedFirst are photos in their order, those with a marks file beside them first.
func MarkedFirst(photos []string) []string {
	var marked, bare []string
	for _, p := range photos {
		if (disk{}).Missing(Stem(p) + MarksEnding) {
			bare = append(bare, p)
			continue
		}
		marked = append(marked, p)
	}
	return append(marked, bare...)
}

// Marks reads the named marks file, or the one beside the photo, and
// returns its name too.
func Marks(photo, named string) (m charts.Marks, name string, err error) {
	if named == "" {
		return MarksIn(disk{}, photo)
	}
	return marksFile(disk{}, named)
}

// MarksIn reads the marks file beside a photo, and returns its name too.
func MarksIn(in Place, photo string) (m charts.Marks, name string, err error) {
	name = Stem(photo) + MarksEnding
	if in.Missing(name) {
		return m, name, &NoMarksError{name}
	}
	return marksFile(in, name)
}

func marksFile(in Place, name string) (m charts.Marks, _ string, err error) {
	data, err := readJSON(in, name)
	if err != nil {
		return m, name, err
	}
	m, err = charts.ParseMarks(data)
	if err != nil {
		return m, name, fmt.Errorf("%s: %w", Shown(name), err)
	}
	return m, name, nil
}

// ChartFile is a chart with the bytes it came from.
type ChartFile struct {
	charts.Chart
	// Hash is the SHA-256, in hexadecimal, of the file without what the chart remembers:
	// a chart stays the same chart while it learns how it looks.
	Hash string
	From string // the file's name, or the bundled chart's
	Data []byte
}

// Chart finds the chart of a photo: the named one; PHOTO.chart.json; by the
// marks' chart name among the chart files beside the photo; then among the
// bundled ones. Two that fit are an error.
func Chart(photo, named string, marks charts.Marks) (ChartFile, error) {
	return (*Folders)(nil).Chart(photo, named, marks)
}

// Chart is the function [Chart], which looks into each folder once.
func (f *Folders) Chart(photo, named string, marks charts.Marks) (ChartFile, error) {
	if named != "" {
		return NamedChart(named)
	}
	return ChartIn(disk{f}, photo, marks)
}

// NamedChart is the bundled chart of that name, or the one in that file.
func NamedChart(name string) (ChartFile, error) {
	if data, ok := charts.BundledFile(name); ok {
		return ParseChart(name, data)
	}
	if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
		var names []string
		for _, c := range charts.Bundled() {
			names = append(names, c.Name)
		}
		return ChartFile{}, fmt.Errorf("%s: no chart file and no bundled chart of this name; bundled: %s", Shown(name), strings.Join(names, ", "))
	}
	return OpenChart(name)
}

// How the names of marks, chart and reading files end.
const (
	MarksEnding   = ".marks.json"
	ChartEnding   = ".chart.json"
	ReadingEnding = ".reading.json"
)

// ParseChart reads a chart from bytes; from names them in the error.
func ParseChart(from string, data []byte) (ChartFile, error) {
	c, err := charts.ParseChart(data)
	if err != nil {
		return ChartFile{}, fmt.Errorf("%s: %w", Shown(from), err)
	}
	sum := sha256.Sum256(charts.Forget(data))
	return ChartFile{Chart: c, Hash: hex.EncodeToString(sum[:]), From: from, Data: data}, nil
}
