package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/outlined"
)

// What the program finds is a guess until a person has looked. So the marks that are
// written say that nobody has, a question stays open in them, and marks that are there
// already, which a person may have drawn, are not touched without being told to.

// outlineOptions are the flags of outline.
type outlineOptions struct {
	chart       string
	json, force bool
	megapixels  int
	written     map[string]string // the photo of each marks file of this run
}

// outlineFlags adds the flags of outline.
func outlineFlags(f *pflag.FlagSet) action {
	o := &outlineOptions{written: map[string]string{}}
	f.StringVar(
		&o.chart,
		"chart",
		"",
		"chart `FILE`, or the name of a bundled chart (default: found beside the photo or by the name in its marks)",
	)
	onOff(f, &o.json, "json", "write no file; print one JSON object a photo, one a line")
	onOff(f, &o.force, "force", "replace marks that are there; what they say of the sample stays")
	f.IntVar(&o.megapixels, "max-megapixels", usualMegapixels, "refuse a photo with more megapixels than `N`, at most 1000")
	return o.run
}

// run checks the call. A chart that is named is tried before any photo, so that a
// slip in it is told once.
func (o *outlineOptions) run(e env, c called) int {
	photos := c.Args()
	streams := slices.Contains(photos, standardInput)
	switch {
	case len(photos) == 0:
		return e.misuse(c, errors.New("name a photo to outline"))
	case o.chart == standardInput:
		return e.misuse(c, errors.New("--chart takes a file; only the photo can come from standard input"))
	case streams && len(photos) > 1:
		return e.misuse(c, errors.New("a photo from standard input is outlined alone: write - once, and other photos in calls of their own"))
	case streams && (o.chart == "" || !o.json):
		return e.misuse(c, errors.New("no file lies beside a photo from standard input: name its chart with --chart, and print with --json"))
	case o.json && o.force:
		return e.misuse(c, errors.New("--json writes no file, so --force has nothing to replace"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	if o.chart != "" {
		if _, err := input.NamedChart(o.chart); err != nil {
			e.fail(err)
			return exitError
		}
	}
	return e.outlineEach(photos, o)
}

// outlineEach outlines the photos one by one. A photo in which nothing is found
// does not stop the others, and is told on standard error: what stands on standard
// output was found, and by --json each photo that could be decoded has its line.
func (e env) outlineEach(photos []string, o *outlineOptions) int {
	code, shown := exitOK, false
	for _, name := range photos {
		text, err := e.outline(name, o)
		if err != nil {
			called := name
			if name == standardInput {
				called = streamed
			}
			e.fail(fmt.Errorf("%s: %w", input.Shown(called), err))
			code = exitError
			continue
		}
		if shown && !o.json {
			text = "\n" + text
		}
		shown = true
		fmt.Fprint(e.out, text) // a failure is kept and told at the end of run
	}
	return code
}

// outline outlines one photo, and returns what is printed of it.
func (e env) outline(name string, o *outlineOptions) (string, error) {
	data, was, err := e.toOutline(name, o)
	if err != nil {
		return "", err
	}
	chart, err := chartToFind(nil, name, o.chart, was)
	if err != nil {
		return "", withNaming(err, false)
	}
	found, err := outlined.Photo(data, photoLimits(o.megapixels), chart.Chart, e.finder)
	if err != nil {
		return "", withFlag(err)
	}
	found = found.WithSample(was.Sample) // place, dip and bottle are not found in a photo
	called := filepath.Base(name)
	switch {
	case o.json && name == standardInput:
		called = streamed
		fallthrough
	case o.json:
		line, err := found.JSON(called)
		return string(line) + "\n", err
	case found.Marks == nil: // with --json this is an answer like any other
		return "", notOutlined(found, name)
	}
	if err := o.write(name, *found.Marks); err != nil {
		return "", err
	}
	return found.Text(input.Shown(called)) + lookAt(found, name), nil
}

// toOutline reads a photo, and the marks that lie beside it: these name the chart,
// and what they say of the sample is kept. Without --force they are in the way,
// which is told before anything is decoded; marks that cannot be read hold nothing.
func (e env) toOutline(name string, o *outlineOptions) (data []byte, was charts.Marks, err error) {
	if name == standardInput {
		data, err = e.stream()
		return data, was, err
	}
	if data, err = input.Photo(name); err != nil {
		return nil, was, err
	}
	was, file, err := input.Marks(name, "")
	var none *input.NoMarksError
	if errors.As(err, &none) {
		return data, charts.Marks{}, nil
	}
	// Photos of one name and two endings share a marks file: what was found in the first
	// is not to be lost by the second, whatever is forced.
	switch other := o.written[file]; {
	case other != "":
		return nil, was, fmt.Errorf("%s was written for %s just now; outline photos of one name in folders of their own",
			input.Shown(file), input.Shown(other))
	case !o.json && !o.force:
		return nil, was, fmt.Errorf("%s is there already; look at it with padband mark, or replace it with --force", input.Shown(file))
	}
	return data, was, nil
}

// chartToFind is the chart of a photo that is to be outlined: as for one that is
// read, and where no marks are there yet none is named in them.
func chartToFind(folders *input.Folders, name, chart string, was charts.Marks) (input.ChartFile, error) {
	c, err := folders.Chart(name, chart, was)
	var fault *input.ChartError
	if errors.As(err, &fault) && fault.Fault == input.Unnamed {
		own := input.Shown(input.Stem(name) + input.ChartEnding)
		return c, &input.ChartError{Fault: input.Unnamed, Err: fmt.Errorf("which chart it shows is not known, and %s is not there", own)}
	}
	return c, err
}

// write puts the marks beside the photo, whole or not at all.
func (o *outlineOptions) write(name string, marks charts.Marks) error {
	data, err := marks.Encode()
	if err != nil {
		return err
	}
	file := input.Stem(name) + input.MarksEnding
	err = writeWhole(filepath.Dir(name), []hosted.File{{Name: filepath.Base(file), Data: data}}, o.force)
	if err == nil {
		o.written[file] = name
	}
	return err
}

// lookAt says what was written, and what is for a person to do: outlines are looked at
// over the photo, which no text can show.
func lookAt(o outlined.Outlined, name string) string {
	var b strings.Builder
	file := input.Shown(filepath.Base(input.Stem(name) + input.MarksEnding))
	text := "Wrote " + file + "."
	if len(o.Questions) > 0 {
		text = "Wrote " + file + " with the best guess; what is asked above is for you to say."
	}
	lines.Paragraph(&b, "  ", text+" Nobody has looked at these outlines yet, and each reading made on them says so. "+
		"See them over the photo, and mend them or say yes:")
	lines.Paragraph(&b, "    ", "padband mark "+input.Shown(name))
	return b.String()
}

// notOutlined is the error of a photo in which nothing was found. It says both ways on:
// most such photos lack a part of the chart or are blurred.
func notOutlined(o outlined.Outlined, name string) error {
	why := lines.LowerFirst(lines.Clause(o.WhyNot()))
	if why == "" {
		why = "nothing was found"
	}
	return fmt.Errorf("%s; take the whole chart and the strip, sharp and without shine, or mark it by hand with padband mark %s",
		why, input.Shown(name))
}
