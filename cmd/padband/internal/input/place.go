package input

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"padband/charts"
)

// Place is where files lie beside a photo: on this machine's disk ([Disk]), or in
// what a page keeps its files in.
type Place interface {
	// ReadFile is as the function [ReadFile].
	ReadFile(name string, limit int64) ([]byte, error)
	// Missing reports that there is no file of this name, nor where a link leads.
	Missing(name string) bool
	// There reports that something has this name, also a link that leads nowhere.
	There(name string) bool
	// ChartsBeside are the chart files beside a photo, sorted, named as it is.
	ChartsBeside(photo string) ([]string, error)
}

// Disk is the place of files that are named by their paths on this machine.
func Disk() Place { return disk{} }

type disk struct{ *Folders }

func (disk) ReadFile(name string, limit int64) ([]byte, error) { return ReadFile(name, limit) }

func (disk) Missing(name string) bool {
	_, err := os.Stat(name)
	return errors.Is(err, fs.ErrNotExist)
}

func (disk) There(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

func (d disk) ChartsBeside(photo string) (out []string, err error) {
	dir := filepath.Dir(photo)
	there, err := d.charts(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder %s: %w", Shown(dir), plainError(err))
	}
	for _, file := range there {
		out = append(out, filepath.Join(dir, file))
	}
	return out, nil
}

// ChartFault is why no chart is taken for a photo.
type ChartFault int

// The faults of a photo's chart. Naming a chart mends each of them.
const (
	Unnamed ChartFault = iota // the marks name none, and none lies beside the photo
	Nowhere                   // no chart has the name in the marks
	Broken                    // nor can a file beside the photo be read, which may be it
	Double                    // two have it
)

// ChartError is the error of a photo whose chart is to be named.
type ChartError struct {
	Fault ChartFault
	Err   error
}

func (e *ChartError) Error() string { return e.Err.Error() }
func (e *ChartError) Unwrap() error { return e.Err }

func noChart(fault ChartFault, format string, a ...any) error {
	return &ChartError{fault, fmt.Errorf(format, a...)}
}

// ChartIn finds the chart of a photo, as the function [Chart] does when none is
// named. Where naming one mends it, the error is a [*ChartError].
func ChartIn(in Place, photo string, marks charts.Marks) (ChartFile, error) {
	own := Stem(photo) + ChartEnding
	if in.There(own) {
		return OpenChartIn(in, own)
	}
	if marks.Chart == "" {
		return ChartFile{}, noChart(Unnamed, "the marks name no chart and %s is not there", Shown(own))
	}
	found, broken, err := chartBeside(in, photo, marks.Chart)
	if err != nil || found.From != "" {
		return found, err
	}
	if data, ok := charts.BundledFile(marks.Chart); ok {
		return ParseChart(marks.Chart, data)
	}
	if broken != nil {
		return ChartFile{}, noChart(Broken,
			"there is no chart %q beside the photo or among the bundled ones, but a broken chart file is there: %w", marks.Chart, broken)
	}
	return ChartFile{}, noChart(Nowhere, "there is no chart %q beside the photo or among the bundled ones", marks.Chart)
}

// chartBeside looks for the chart of that name among the chart files beside the
// photo. A file that cannot be read is passed over, for it may belong to another
// photo, and the first of them comes back as broken; but one that bears the
// chart's own name is an error. Of files that differ in no more than the bottles that
// they remember it takes the one with the most.
func chartBeside(in Place, photo, name string) (found ChartFile, broken, err error) {
	there, err := in.ChartsBeside(photo)
	if err != nil {
		return ChartFile{}, nil, err
	}
	for _, file := range there {
		c, err := OpenChartIn(in, file)
		switch {
		case err != nil && filepath.Base(file) == name+ChartEnding:
			return ChartFile{}, nil, err
		case err != nil && broken == nil:
			broken = err
		case err != nil || c.Name != name || c.Hash == found.Hash && len(c.Remembered) <= len(found.Remembered):
		case found.From != "" && c.Hash != found.Hash:
			one, other := Shown(filepath.Base(found.From)), Shown(filepath.Base(file))
			return ChartFile{}, nil, noChart(Double, "%s and %s are both the chart %q", one, other, name)
		default:
			found = c
		}
	}
	return found, broken, nil
}

// OpenChart reads a chart's file. The error names it.
func OpenChart(name string) (ChartFile, error) { return OpenChartIn(disk{}, name) }

// OpenChartIn is [OpenChart] of a file in some place.
func OpenChartIn(in Place, name string) (ChartFile, error) {
	data, err := readJSON(in, name)
	if err != nil {
		return ChartFile{}, err
	}
	return ParseChart(name, data)
}
