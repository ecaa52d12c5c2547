package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/input"
)

// askOptions are the flags that say what readings are set against.
type askOptions struct {
	limits, units []string
	guard         string
	dilution      string
	undiluted     string
	standard      string
	standardPhoto string
	files         map[string][]byte // of sets that do not come with the program
	saidOptions
}

// saidOptions are the words that a person says of the photo's light and of the water.
type saidOptions struct {
	light, water string
	lamp         charts.Lamp  // what light says
	look         charts.Water // what water says
}

// add adds the flags of the words. An empty word is not said.
func (o *saidOptions) add(f *pflag.FlagSet) {
	f.StringVar(&o.light, "light", "", "the `WORD` for the light on it: daylight, lamp, tube or flash; leave it out for mixed light")
	f.StringVar(
		&o.water,
		"water",
		"",
		"the `WORD` for the water before the dip, in a white cup from above: clear, tint (like weak tea), dark (dyed) or cloudy",
	)
}

// parse reads the words, and keeps them as marks have them.
func (o *saidOptions) parse() (err error) {
	if o.lamp, err = charts.ParseLamp(o.light); err != nil {
		return fmt.Errorf("--light %w", err)
	}
	if o.look, err = charts.ParseWater(o.water); err != nil {
		return fmt.Errorf("--water %w", err)
	}
	o.light, o.water = string(o.lamp), string(o.look)
	return nil
}

// into puts the words into what the marks say of a sample. With over they win over the
// marks, and without it they are for a sample of which the marks say none.
func (o saidOptions) into(s *charts.SampleInfo, over bool) {
	if o.lamp != charts.LampUnsaid && (over || s.Light == charts.LampUnsaid) {
		s.Light = o.lamp
	}
	if o.look != charts.WaterUnsaid && (over || s.Water == charts.WaterUnsaid) {
		s.Water = o.look
	}
}

// add adds the flags that every command with readings shares. Each may be left
// out: without them a reading is set against nothing.
func (o *askOptions) add(f *pflag.FlagSet) {
	f.StringArrayVar(
		&o.limits,
		"limit",
		nil,
		"say what the water means against `LIMIT`: us-epa, who, eu, usgs-hardness, treatment, a limit such as \"10 mg/L as N\" or "+
			"6.5-8.5, or a file of limits (.json); may be repeated",
	)
	f.StringArrayVar(&o.units, "unit", nil, "say the value in this `UNIT` too, such as \"mg/L as NO3\" or gr/gal; may be repeated")
	f.StringVar(
		&o.dilution,
		"dilution",
		"",
		"the water was mixed before the dip: `PARTS` of it + parts of clean water, such as 1+1, or with the measuring's error \"1+4, 3 %\"",
	)
	o.saidOptions.add(f)
	f.StringVar(&o.guard, "guard", "", "the probability in `PERCENT` that \"above\" or \"below\" needs (default 95)")
}

// addOthers adds the flags of strips that stand beside the one asked about.
func (o *askOptions) addOthers(f *pflag.FlagSet) {
	f.StringVar(
		&o.undiluted,
		"undiluted",
		"",
		"with --dilution: the `PHOTO` of a strip dipped into the water itself, to check the two against each other",
	)
	f.StringVar(
		&o.standard,
		"check-standard",
		"",
		"a strip of the same bottle was dipped into water of this known `VALUE`, such as \"10 mg/L as N\" or 0 mg/L as N; say what "+
			"it reads beside",
	)
	f.StringVar(&o.standardPhoto, "standard-photo", "", "the `PHOTO` of that strip, with its marks beside it")
}

// ask is what the flags ask; the error is a wrong flag's.
func (o *askOptions) ask() (a strip.Ask, err error) {
	a.Guard = judge.DefaultGuard
	if err = o.saidOptions.parse(); err != nil {
		return a, err
	}
	if o.guard != "" {
		if a.Guard, err = judge.ParseGuard(o.guard); err != nil {
			return a, fmt.Errorf("--guard: %w", err)
		}
	}
	if o.dilution != "" {
		d, err := units.ParseDilution(o.dilution)
		if err != nil {
			return a, fmt.Errorf("--dilution: %w", err)
		}
		a.Dilution = &d
	}
	if err := o.others(&a); err != nil {
		return a, err
	}
	for _, text := range o.units {
		u, err := units.Parse(text)
		if err != nil {
			return a, fmt.Errorf("--unit: %w", err)
		}
		a.Units = append(a.Units, u)
	}
	for _, text := range o.limits {
		c, data, err := limitChoice(text)
		if err != nil {
			return a, fmt.Errorf("--limit: %w", err)
		}
		if data != nil {
			o.keepFile(c.Set.Name, data)
		}
		a.Limits = append(a.Limits, c)
	}
	return a, nil
}

// inputError is bad input behind a flag that is right as such.
type inputError struct{ error }

// wrong tells what is wrong with the flags, or with a file that they name.
func (e env) wrong(c called, err error) int {
	var in inputError
	if errors.As(err, &in) {
		e.fail(in.error)
		return exitError
	}
	return e.misuse(c, err)
}

// others reads the strips that stand beside the one asked about.
func (o askOptions) others(a *strip.Ask) error {
	switch {
	case (o.standard == "") != (o.standardPhoto == ""):
		return errors.New("--check-standard and --standard-photo go together")
	case o.undiluted == standardInput || o.standardPhoto == standardInput:
		return errors.New("--undiluted and --standard-photo take a photo's file, with its marks beside it")
	case o.undiluted != "" && o.dilution == "":
		return errors.New("--undiluted goes with --dilution")
	}
	if o.undiluted != "" {
		r, err := readBeside(o.undiluted)
		if err != nil {
			return err
		}
		a.Pure = r.Readings
	}
	if o.standard == "" {
		return nil
	}
	name, known, err := strip.ParseStandard(o.standard)
	if err != nil {
		return fmt.Errorf("--check-standard: %w", err)
	}
	r, err := readBeside(o.standardPhoto)
	if err != nil {
		return err
	}
	a.Standards = append(
		a.Standards,
		strip.Standard{Photo: input.Shown(filepath.Base(o.standardPhoto)), Analyte: name, Known: known, Readings: r.Readings},
	)
	return nil
}

// readBeside reads another photo with the files beside it.
func readBeside(name string) (*strip.Result, error) {
	in, err := readInput(name, "", "")
	if err != nil {
		return nil, inputError{fmt.Errorf("%s: %w", input.Shown(name), err)}
	}
	r, err := strip.Read(strip.Input{Photo: in.photo, Chart: in.chart.Chart, Marks: in.marks, Limits: photoLimits(usualMegapixels)})
	if err != nil {
		return nil, inputError{fmt.Errorf("%s: %w", input.Shown(name), withMarks(err, in.marksName))}
	}
	return r, nil
}

// keepFile keeps a set's file by the set's name.
func (o *askOptions) keepFile(name string, data []byte) {
	if o.files == nil {
		o.files = map[string][]byte{}
	}
	o.files[name] = data
}

// limitChoice reads one limit: the name of a set, a figure, or a file, and then
// its bytes too.
func limitChoice(text string) (c limits.LimitChoice, file []byte, err error) {
	if !strings.HasSuffix(strings.ToLower(text), ".json") {
		c, err = limits.ParseLimit(text)
		return c, nil, err
	}
	file, err = input.ReadFile(text, 4<<20)
	if err == nil {
		c.Set, err = limits.ParseLimits(file)
	}
	if err != nil {
		return c, nil, inputError{fmt.Errorf("%s: %w", input.Shown(text), err)}
	}
	return c, file, nil
}
