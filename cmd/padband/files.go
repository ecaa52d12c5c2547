package main

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

// readFile reads a whole ordinary file of at most limit bytes. Its error does
// not repeat the name.
func readFile(name string, limit int64) ([]byte, error) {
	info, err := os.Stat(name) // before opening it: a pipe that is opened waits for its writer
	if err != nil {
		return nil, plainError(err)
	}
	if err := ordinary(info, limit); err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
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

// readPhoto reads a photo's file, and refuses the files that go with a photo
// when they are named in its place.
func readPhoto(name string) ([]byte, error) {
	data, err := readFile(name, photoBytes)
	if errors.Is(err, errEmpty) {
		return nil, fmt.Errorf("%w; copy it from the phone again", err)
	}
	if err != nil || !bytes.HasPrefix(bytes.TrimSpace(data), []byte("{")) {
		return data, err
	}
	switch {
	case strings.HasSuffix(name, marksEnding):
		return nil, errors.New("this is a marks file; name the photo")
	case strings.HasSuffix(name, chartEnding):
		return nil, errors.New("this is a chart file; name the photo")
	}
	return data, nil
}

// readJSON reads a marks or chart file; the error names it.
func readJSON(name string) ([]byte, error) {
	data, err := readFile(name, fileBytes)
	switch {
	case errors.Is(err, errEmpty):
		return nil, fmt.Errorf("%s: %w; save it again", shown(name), err)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", shown(name), err)
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

// shown is a file's name as it is printed: as it is when that leaves it on one
// line, else in quotes with whatever would steer the terminal escaped.
func shown(name string) string {
	odd := func(r rune) bool { return !unicode.IsPrint(r) }
	if name == "" || !utf8.ValidString(name) || strings.TrimSpace(name) != name || strings.ContainsFunc(name, odd) {
		return strconv.Quote(name)
	}
	return name
}

// dashed adds, to what is wrong with the flags, how a file is named that looks like one.
func dashed(err error, args []string) error {
	for _, a := range args {
		if _, missing := os.Lstat(a); missing == nil && strings.HasPrefix(a, "-") {
			return fmt.Errorf("%w; for the file of that name write %s", err, shown("./"+a))
		}
	}
	return err
}

// stem is the photo's name without its ending.
func stem(photo string) string { return strings.TrimSuffix(photo, filepath.Ext(photo)) }

// findMarks reads the named marks file, or the one beside the photo, and
// returns its name too.
func findMarks(photo, named string) (m charts.Marks, name string, err error) {
	name = named
	if name == "" {
		name = stem(photo) + marksEnding
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
			return m, name, fmt.Errorf("no marks: %s is not there; mark the photo first, or name the file with --marks", shown(name))
		}
	}
	data, err := readJSON(name)
	if err != nil {
		return m, name, err
	}
	m, err = charts.ParseMarks(data)
	if err != nil {
		return m, name, fmt.Errorf("%s: %w", shown(name), err)
	}
	return m, name, nil
}

// chartFile is a chart with the bytes it came from and their hash.
type chartFile struct {
	charts.Chart
	hash, from string
	data       []byte
}

// findChart finds the chart of a photo: the named one; PHOTO.chart.json; by the
// marks' chart name among the chart files beside the photo; then among the
// bundled ones. Two that fit are an error.
func findChart(photo, named string, marks charts.Marks) (chartFile, error) {
	if named != "" {
		return namedChart(named)
	}
	own := stem(photo) + chartEnding
	if _, err := os.Lstat(own); err == nil { // also a link that leads nowhere
		return openChart(own)
	}
	if marks.Chart == "" {
		return chartFile{}, fmt.Errorf("the marks name no chart and %s is not there; name a chart with --chart", shown(own))
	}
	found, broken, err := chartBeside(photo, marks.Chart)
	if err != nil || found.from != "" {
		return found, err
	}
	if data, ok := charts.BundledFile(marks.Chart); ok {
		return parseChart(marks.Chart, data)
	}
	if broken != nil {
		return chartFile{}, fmt.Errorf("there is no chart %q beside the photo or among the bundled ones, but a broken chart file is there: %w; or name the chart's file with --chart", marks.Chart, broken)
	}
	return chartFile{}, fmt.Errorf("there is no chart %q beside the photo or among the bundled ones; name its file with --chart", marks.Chart)
}

// namedChart is the bundled chart of that name, or the one in that file.
func namedChart(name string) (chartFile, error) {
	if data, ok := charts.BundledFile(name); ok {
		return parseChart(name, data)
	}
	if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
		var names []string
		for _, c := range charts.Bundled() {
			names = append(names, c.Name)
		}
		return chartFile{}, fmt.Errorf("%s: no chart file and no bundled chart of this name; bundled: %s", shown(name), strings.Join(names, ", "))
	}
	return openChart(name)
}

// How the names of marks and chart files end.
const (
	marksEnding = ".marks.json"
	chartEnding = ".chart.json"
)

// chartBeside looks for the chart of that name among the chart files in the
// photo's folder. A file that cannot be read is passed over, for it may belong
// to another photo, and the first of them comes back as broken; but one that
// bears the chart's own name is an error.
func chartBeside(photo, name string) (found chartFile, broken, err error) {
	dir := filepath.Dir(photo)
	entries, err := os.ReadDir(dir)
	if err != nil {
		return chartFile{}, nil, fmt.Errorf("the folder %s: %w", shown(dir), plainError(err))
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), chartEnding) {
			continue
		}
		c, err := openChart(filepath.Join(dir, e.Name()))
		switch {
		case err != nil && e.Name() == name+chartEnding:
			return chartFile{}, nil, err
		case err != nil && broken == nil:
			broken = err
		case err != nil || c.Name != name || found.hash == c.hash:
		case found.from != "":
			return chartFile{}, nil, fmt.Errorf("%s and %s are both the chart %q; name one with --chart", shown(filepath.Base(found.from)), shown(e.Name()), name)
		default:
			found = c
		}
	}
	return found, broken, nil
}

func openChart(name string) (chartFile, error) {
	data, err := readJSON(name)
	if err != nil {
		return chartFile{}, err
	}
	return parseChart(name, data)
}

func parseChart(from string, data []byte) (chartFile, error) {
	c, err := charts.ParseChart(data)
	if err != nil {
		return chartFile{}, fmt.Errorf("%s: %w", shown(from), err)
	}
	sum := sha256.Sum256(data)
	return chartFile{Chart: c, hash: hex.EncodeToString(sum[:]), from: from, data: data}, nil
}
