package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/readers"
)

// writeCompared writes the page and the figures that were asked for; all are
// made before the first is written.
func (o compareOptions) writeCompared(name string, all []agreement.Comparison) error {
	var page, figures []beside.File
	if o.html != "" {
		data, err := readers.HTML(filepath.Base(name), all)
		if err != nil {
			return fmt.Errorf("the page could not be made: %w; print it without --html", err)
		}
		page = []beside.File{{Name: filepath.Base(o.html), Data: data}}
	}
	if o.figures != "" {
		var err error
		if figures, err = figureFiles(all); err != nil {
			return fmt.Errorf("the figures could not be drawn: %w; print it without --figures", err)
		}
		if len(figures) == 0 {
			return errors.New("there is nothing to draw: no sample has calls of both readers that can be compared; leave --figures out")
		}
		if err := os.MkdirAll(o.figures, 0o777); err != nil {
			return fmt.Errorf("%s: cannot be made: %w; name another folder with --figures", beside.Shown(o.figures), pathless(err))
		}
	}
	if err := putFiles(filepath.Dir(o.html), page, o.force, "--html"); err != nil {
		return err
	}
	return putFiles(o.figures, figures, o.force, "--figures")
}

// figureFiles are the figures of all comparisons, numbered where there are several.
func figureFiles(all []agreement.Comparison) (out []beside.File, err error) {
	for i, c := range all {
		drawings, err := readers.Drawings(c)
		if err != nil {
			return nil, err
		}
		number := ""
		if len(all) > 1 {
			number = fmt.Sprintf("%d-", i+1)
		}
		for _, d := range drawings {
			out = append(out, beside.File{Name: number + d.Name + ".svg", Data: d.SVG}, beside.File{Name: number + d.Name + ".png", Data: d.PNG})
		}
	}
	return out, nil
}

// putFiles writes files that a flag asked for.
func putFiles(folder string, files []beside.File, force bool, flag string) error {
	if len(files) == 0 {
		return nil
	}
	var exists *beside.ExistsError
	err := beside.Write(folder, files, force)
	switch {
	case errors.As(err, &exists):
		return fmt.Errorf("%w; name another place with %s, or replace with --force", err, flag)
	case err != nil:
		return fmt.Errorf("%s: %w", beside.Shown(folder), err)
	}
	return nil
}
