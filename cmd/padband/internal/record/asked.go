package record

import (
	"fmt"
	"strconv"
	"strings"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/record/bag"
)

// Asked is what a reading was set against, as a person typed it, so that the same can
// be asked again from the record alone.
type Asked struct {
	Limits   []AskedLimit
	Units    []string // such as "mg/L as NO3"
	Guard    string   // as "0.95"; empty for the usual
	Dilution string   // such as "1+1", where it is not in the marks
}

// AskedLimit is a limit as it was typed, or a set of limits with its file.
type AskedLimit struct {
	Text string
	File []byte // nil when it is no set
}

// These are the labels in bag-info.txt of what was asked, and the place where files of
// limits are.
const (
	labelLimit    = "Limit"
	labelUnit     = "Unit"
	labelGuard    = "Guard"
	labelDilution = "Dilution"
	limitsDir     = "data/limits/"
	limitsEnding  = ".limits.json"
)

// limitsPath is where a set's file is in the record.
func limitsPath(set string) string { return limitsDir + bag.SafeName(set, "limits") + limitsEnding }

// facts are the lines of bag-info.txt that say what was asked.
func (a Asked) facts() (out []bag.Fact) {
	for _, l := range a.Limits {
		out = append(out, bag.Fact{Label: labelLimit, Value: l.Text})
	}
	for _, u := range a.Units {
		out = append(out, bag.Fact{Label: labelUnit, Value: u})
	}
	for _, f := range []bag.Fact{{Label: labelGuard, Value: a.Guard}, {Label: labelDilution, Value: a.Dilution}} {
		if f.Value != "" {
			out = append(out, f)
		}
	}
	return out
}

// files are the files of the sets.
func (a Asked) files() (out []bag.File) {
	seen := map[string]bool{}
	for _, l := range a.Limits {
		if p := limitsPath(l.Text); l.File != nil && !seen[p] {
			seen[p] = true
			out = append(out, bag.File{Name: p, Data: l.File})
		}
	}
	return out
}

// askedOf reads from a record what was asked.
func askedOf(root *bag.Root, in bag.Info) (a Asked, err error) {
	for _, f := range in {
		switch f.Label {
		case labelLimit:
			l := AskedLimit{Text: f.Value}
			if p := limitsPath(f.Value); root.Has(p) {
				if l.File, err = root.Read(p, bag.TagBytes); err != nil {
					return a, fmt.Errorf("%s: %w", p, bag.Cause(err))
				}
			}
			a.Limits = append(a.Limits, l)
		case labelUnit:
			a.Units = append(a.Units, f.Value)
		case labelGuard:
			a.Guard = f.Value
		case labelDilution:
			a.Dilution = f.Value
		}
	}
	return a, nil
}

// Ask is the question itself. The error says what in it cannot be read.
func (a Asked) Ask() (out strip.Ask, err error) {
	out.Guard = judge.DefaultGuard
	if a.Guard != "" {
		if out.Guard, err = judge.ParseGuard(a.Guard); err != nil {
			return out, err
		}
	}
	if a.Dilution != "" {
		d, err := units.ParseDilution(a.Dilution)
		if err != nil {
			return out, err
		}
		out.Dilution = &d
	}
	for _, text := range a.Units {
		u, err := units.Parse(text)
		if err != nil {
			return out, err
		}
		out.Units = append(out.Units, u)
	}
	for _, l := range a.Limits {
		c, err := l.choice()
		if err != nil {
			return out, err
		}
		out.Limits = append(out.Limits, c)
	}
	return out, nil
}

// choice is the limit or the set, read again from its text or its file.
func (l AskedLimit) choice() (limits.LimitChoice, error) {
	if l.File == nil {
		return limits.ParseLimit(l.Text)
	}
	s, err := limits.ParseLimits(l.File)
	if err != nil {
		return limits.LimitChoice{}, fmt.Errorf("%s: %w", limitsPath(l.Text), err)
	}
	return limits.LimitChoice{Set: s}, nil
}

// AskedAs turns a question into the form that a record keeps. files are the files of
// sets that do not come with the program, by the set's name.
func AskedAs(a strip.Ask, files map[string][]byte) (out Asked) {
	for _, l := range a.Limits {
		if len(l.Set.Limits) == 0 {
			out.Limits = append(out.Limits, AskedLimit{Text: typed(l.Typed)})
			continue
		}
		data := files[l.Set.Name]
		if data == nil {
			data, _ = limits.LimitSetFile(l.Set.Name)
		}
		out.Limits = append(out.Limits, AskedLimit{l.Set.Name, data})
	}
	for _, u := range a.Units {
		out.Units = append(out.Units, u.String())
	}
	if a.Guard != 0 && a.Guard != judge.DefaultGuard {
		out.Guard = strconv.FormatFloat(a.Guard, 'g', -1, 64)
	}
	if a.Dilution != nil {
		out.Dilution = a.Dilution.String()
	}
	return out
}

// typed is a limit in the form in which it can be typed again.
func typed(l limits.Limit) string {
	text := l.Text()
	if l.Analyte == "" || strings.HasPrefix(text, l.Analyte+" ") {
		return text
	}
	return l.Analyte + " " + text
}
