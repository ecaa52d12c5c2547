package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

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
	f, err := os.Open(name)
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, plainError(err)
	case info.IsDir():
		return nil, errors.New("is a folder; name a file")
	case info.Size() > limit:
		return nil, fmt.Errorf("is %d MB, over the limit of %d MB; make it smaller", info.Size()>>20, limit>>20)
	}
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, plainError(err)
	case int64(len(data)) > limit:
		return nil, fmt.Errorf("is over the limit of %d MB; make it smaller", limit>>20)
	case len(data) == 0:
		return nil, errors.New("the file is empty; send it again")
	}
	return data, nil
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
		return fmt.Errorf("cannot be read: %w", p.Err)
	}
	return err
}

// stem is the photo's name without its ending.
func stem(photo string) string { return strings.TrimSuffix(photo, filepath.Ext(photo)) }

// findMarks reads the named marks file, or the one beside the photo.
func findMarks(photo, named string) (charts.Marks, error) {
	name := named
	if name == "" {
		name = stem(photo) + ".marks.json"
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
			return charts.Marks{}, fmt.Errorf("no marks: %s is not there; mark the photo first, or name the file with --marks", name)
		}
	}
	data, err := readFile(name, fileBytes)
	if err != nil {
		return charts.Marks{}, fmt.Errorf("%s: %w", name, err)
	}
	m, err := charts.ParseMarks(data)
	if err != nil {
		return charts.Marks{}, fmt.Errorf("%s: %w", name, err)
	}
	return m, nil
}

// chartFile is a chart with the hash of the bytes it came from.
type chartFile struct {
	charts.Chart
	hash, from string
}

// findChart finds the chart of a photo: the named one; PHOTO.chart.json; by the
// marks' chart name among the chart files beside the photo; then among the
// bundled ones. Two that fit are an error.
func findChart(photo, named string, marks charts.Marks) (chartFile, error) {
	if named != "" {
		if data, ok := charts.BundledFile(named); ok {
			return parseChart(named, data)
		}
		return openChart(named)
	}
	own := stem(photo) + ".chart.json"
	if _, err := os.Stat(own); err == nil {
		return openChart(own)
	}
	if marks.Chart == "" {
		return chartFile{}, fmt.Errorf("the marks name no chart and %s is not there; name a chart with --chart", own)
	}
	found, err := chartBeside(photo, marks.Chart)
	if err != nil || found.from != "" {
		return found, err
	}
	if data, ok := charts.BundledFile(marks.Chart); ok {
		return parseChart(marks.Chart, data)
	}
	return chartFile{}, fmt.Errorf("there is no chart %q beside the photo or among the bundled ones; name its file with --chart", marks.Chart)
}

// chartBeside looks for the chart of that name among the chart files in the
// photo's folder. A file that is no chart is passed over: it may belong to
// another photo.
func chartBeside(photo, name string) (chartFile, error) {
	names, err := filepath.Glob(filepath.Join(escapeGlob(filepath.Dir(photo)), "*.chart.json"))
	if err != nil {
		return chartFile{}, err
	}
	var found chartFile
	for _, n := range names {
		c, err := openChart(n)
		if err != nil || c.Name != name {
			continue
		}
		if found.from != "" {
			if found.hash == c.hash {
				continue
			}
			return chartFile{}, fmt.Errorf("%s and %s are both the chart %q; name one with --chart", filepath.Base(found.from), filepath.Base(n), name)
		}
		found = c
	}
	return found, nil
}

// escapeGlob keeps a folder's name from being taken as a pattern.
func escapeGlob(dir string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(dir)
}

func openChart(name string) (chartFile, error) {
	data, err := readFile(name, fileBytes)
	if err != nil {
		return chartFile{}, fmt.Errorf("%s: %w", name, err)
	}
	return parseChart(name, data)
}

func parseChart(from string, data []byte) (chartFile, error) {
	c, err := charts.ParseChart(data)
	if err != nil {
		return chartFile{}, fmt.Errorf("%s: %w", from, err)
	}
	sum := sha256.Sum256(data)
	return chartFile{Chart: c, hash: hex.EncodeToString(sum[:]), from: from}, nil
}
