package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"time"

	"padband/calib"
	"padband/calib/reading"
	"padband/cmd/padband/internal/record"
)

// text is a reading found: a line of what it says, and under it where it is.
func (h hit) text() string {
	says := []string{h.Analyte + " " + h.reads() + " (" + h.water() + ")"}
	if h.found != "" {
		says = append(says, h.found)
	}
	if h.Reliability != calib.Good {
		says = append(says, string(h.Reliability))
	}
	where, path := oneLine(h.where()), oneLine(h.Path)
	gap := "  "
	if len([]rune(indent+where+gap+path)) > lineWidth {
		gap = "\n" + indent
	}
	return h.day() + "  " + oneLine(strings.Join(says, ", ")) + "\n" + indent + where + gap + path + "\n"
}

// indent is as wide as a day and the gap after it.
const indent = "            "

// lineWidth is the terminal's columns that a line keeps to.
const lineWidth = 80

func (h hit) day() string {
	if t, _, ok := record.ParseTime(h.Taken); ok {
		return t.Format(time.DateOnly)
	}
	return "no date   "
}

func (h hit) where() string {
	switch {
	case h.Place == "" && h.Point == "":
		return "no place"
	case h.Point == "":
		return h.Place
	case h.Place == "":
		return h.Point
	}
	return h.Place + ", " + h.Point
}

// reads is the value in words, with its unit.
func (h hit) reads() string {
	unit := ""
	if h.Unit != "" && !strings.EqualFold(h.Unit, h.Analyte) {
		unit = " " + unitOf(h.Reading)
	}
	switch {
	case !h.Value.Known():
		return "without a value"
	case h.Range == calib.Above:
		return "at least " + h.short(float64(h.Value)) + unit
	case h.Range == calib.Below:
		return "at most " + h.short(float64(h.Value)) + unit
	}
	return h.short(float64(h.Value)) + unit
}

// water is the water band.
func (h hit) water() string {
	low, high := h.WaterBand.Ends()
	switch noLow, noHigh := math.IsInf(low, 0), math.IsInf(high, 0); {
	case noLow && noHigh:
		return "band open"
	case noHigh:
		return "at least " + h.short(low)
	case noLow:
		return "at most " + h.short(high)
	}
	return h.short(low) + " to " + h.short(high)
}

// short prints a figure of a reading with three digits and no exponent, and with
// the five that it was kept with where three would move it to the other side of
// an amount asked for.
func (h hit) short(v float64) string {
	r := rounded(v, 3)
	for _, l := range h.limits {
		if cmp.Compare(v, l) != cmp.Compare(r, l) {
			r = rounded(v, 5)
		}
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func rounded(v float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return math.NaN()
	}
	return r
}

// found is a reading found, as a line of JSON holds it.
type found struct {
	Path        string        `json:"path"`
	Taken       string        `json:"taken"`
	Place       string        `json:"place"`
	Point       string        `json:"point"`
	Tester      string        `json:"tester"`
	Lot         string        `json:"lot"`
	Expires     string        `json:"expires"`
	Chart       reading.Chart `json:"chart"`
	Analyte     string        `json:"analyte"`
	Unit        string        `json:"unit"`
	As          string        `json:"as,omitempty"`
	Value       *float64      `json:"value"`
	Band        ends          `json:"band"`
	WaterBand   ends          `json:"water_band"`
	Range       string        `json:"range"`
	Reliability string        `json:"reliability"`
	Warnings    []string      `json:"warnings"`
	Found       string        `json:"found,omitempty"`
}

// ends are a band's; a null end is open.
type ends struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

func endsOf(b *reading.Band) ends {
	low, high := b.Ends()
	return ends{finite(low), finite(high)}
}

// codes are those of the reading's warnings.
func (h hit) codes() []string {
	out := []string{}
	for _, w := range h.Warnings {
		out = append(out, string(w.Code))
	}
	return out
}

func (h hit) json() string {
	b, err := json.Marshal(found{h.Path, h.Taken, h.Place, h.Point, h.Tester, h.Lot, h.Expires, h.Chart, h.Analyte, h.Unit, h.As,
		finite(float64(h.Value)), endsOf(h.Band), endsOf(h.WaterBand), string(h.Range), string(h.Reliability), h.codes(), h.found})
	if err != nil { // it holds strings and finite numbers alone
		return "null"
	}
	return string(b)
}

// progress shows on a terminal how far a walk is, and nothing elsewhere.
type progress struct {
	to    *os.File // nil when there is no terminal
	last  time.Time
	shown bool
}

func (e env) progress() *progress {
	f, ok := e.err.(*os.File)
	if !ok || !terminal(f) {
		return &progress{}
	}
	return &progress{to: f, last: time.Now()}
}

// between is the least time from one count shown to the next.
const between = 200 * time.Millisecond

func (p *progress) at(n int) {
	if p.to == nil || time.Since(p.last) < between {
		return
	}
	p.last, p.shown = time.Now(), true
	fmt.Fprintf(p.to, "\r%d records looked at", n)
}

// done clears the line for what comes after it.
func (p *progress) done() {
	if p.shown {
		fmt.Fprint(p.to, "\r\x1b[K")
		p.shown = false
	}
}
