package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/beside"
)

// askOptions are the flags that say what readings are set against.
type askOptions struct {
	limits, units []string
	guard         string
}

func (o *askOptions) add(f *pflag.FlagSet) {
	f.StringArrayVar(&o.limits, "limit", nil, "say what the water means against `LIMIT`: us-epa, who, eu, usgs-hardness, treatment, a limit such as \"10 mg/L as N\" or 6.5-8.5, or a file of limits (.json); may be repeated")
	f.StringArrayVar(&o.units, "unit", nil, "say the value in this `UNIT` too, such as \"mg/L as NO3\" or gr/gal; may be repeated")
	f.StringVar(&o.guard, "guard", "", "the probability in `PERCENT` that \"above\" or \"below\" needs (default 95)")
}

// ask is what the flags ask; the error is a wrong flag's.
func (o askOptions) ask() (a strip.Ask, err error) {
	a.Guard = calib.DefaultGuard
	if o.guard != "" {
		if a.Guard, err = calib.ParseGuard(o.guard); err != nil {
			return a, fmt.Errorf("--guard: %w", err)
		}
	}
	for _, text := range o.units {
		u, err := charts.ParseUnit(text)
		if err != nil {
			return a, fmt.Errorf("--unit: %w", err)
		}
		a.Units = append(a.Units, u)
	}
	for _, text := range o.limits {
		c, err := limitChoice(text)
		if err != nil {
			return a, fmt.Errorf("--limit: %w", err)
		}
		a.Limits = append(a.Limits, c)
	}
	return a, nil
}

// limitChoice reads one limit: the name of a set, a figure, or a file.
func limitChoice(text string) (charts.LimitChoice, error) {
	if !strings.HasSuffix(strings.ToLower(text), ".json") {
		return charts.ParseLimit(text)
	}
	data, err := beside.ReadFile(text, 4<<20)
	if err != nil {
		return charts.LimitChoice{}, fmt.Errorf("%s: %w", beside.Shown(text), err)
	}
	s, err := charts.ParseLimits(data)
	if err != nil {
		return charts.LimitChoice{}, fmt.Errorf("%s: %w", beside.Shown(text), err)
	}
	return charts.LimitChoice{Set: s}, nil
}
