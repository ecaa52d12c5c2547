// Package history looks at many records. It searches them for readings, and it follows
// one place over time, in text, in a table and as a drawing. [Search] finds readings;
// [Gathering] makes a [Series] of each place, sampling point and analyte. The package
// verifies no record.
package history

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

// Row is one record of a series.
type Row struct {
	Time        time.Time // on the place's own clock
	Value       float64   // NaN when the reading has none
	Band, Water calib.Band
	Range       calib.Range
	Reliability calib.Reliability
	Lot         string
	Chart       string // name and version
	ChartSHA256 string
	// NewLot and NewChart are set where they are not those of the row before.
	NewLot, NewChart bool
	Converted        string // the unit it was in, when that was another
	Path             string
}

// Series is one analyte at one place and point, in order of time and in one unit.
type Series struct {
	Analyte, Unit string
	Where         string // place and sampling point
	Place, Point  string
	Rows          []Row
	Result        judge.TrendResult
	Limit         *SeriesLimit // nil when none was given
	Notes         []string     // what was left out or taken for granted, in sentences
}

// SeriesLimit is a limit in the series' unit, with how the values stand to it.
type SeriesLimit struct {
	Text        string  // "10 mg/L as N"
	Low, High   float64 // to stay between; a limit with one side has no Low: NaN
	Past, MayBe int     // values past it; values not past it whose water band is
}

// Text returns a series as text for people, in 80 columns: what it shows,
// by which test and with which figures, and a row a record.
func Text(s Series) string {
	var b strings.Builder
	lines.Paragraph(&b, "", s.title())
	for _, l := range append(trendWords(s.Result), s.limitWords()...) {
		lines.Paragraph(&b, "  ", l)
	}
	b.WriteString("\n")
	for _, l := range s.table() {
		b.WriteString(l + "\n")
	}
	if len(s.Notes) > 0 {
		b.WriteString("\n")
	}
	for _, n := range s.Notes {
		lines.Wrap(&b, "  - ", "    ", n)
	}
	return b.String()
}

// Meaning is the paragraph that ends the text of one or several series.
func Meaning() string {
	var b strings.Builder
	b.WriteString("\n")
	lines.Paragraph(&b, "", "The test asks whether the readings go up or down in the order of time, and not why; a season "+
		"looks like a change. Records were not verified here. A strip is a screening test: what matters to health is for "+
		"a certified laboratory and the local health authority.")
	return b.String()
}

// title is the analyte with its unit, and the place.
func (s Series) title() string {
	return lines.UpperFirst(lines.OneLine(lines.WithUnit(s.Analyte, s.Unit))) + ": " + lines.OneLine(s.Where)
}

// trendWords say what the test found, and how: the answer, the pairs that it rests on,
// and the name of the test with what was done about lots.
func trendWords(r judge.TrendResult) []string {
	of := fmt.Sprintf("%s of %s", lines.Count(r.Records, "record"), lots(r.Sources))
	if r.Word == judge.TooFew {
		return []string{"Too few records to show a change: " + of + ". The test needs five of one lot, or of five lots; " +
			"of two or three lots more.", "Test: Mann-Kendall, two-sided at 5 %."}
	}
	first := lines.UpperFirst(string(r.Word)) + ": " + chance(r.P) + ", " + of + "."
	if r.Word == judge.NoChange {
		first += " That does not show that nothing changed."
	}
	how := "Test: Mann-Kendall, two-sided at 5 %, each pair counted by how surely its ranges put it in order; "
	switch {
	case r.Mixed:
		how += "lots alternate, so pairs of one lot alone count"
	case r.Sources > 1 && r.Sources < r.Records:
		how += "between lots the ranges of the water count, and lots as a whole"
	case r.Sources > 1:
		how += "each record is of a lot of its own, so the ranges of the water count"
	default:
		how += "all of one lot, so the ranges of the colours count"
	}
	if r.Exact {
		how += "; exact."
	} else {
		how += "; normal approximation."
	}
	pairs := fmt.Sprintf("Of %s of records %d go up and %d down by more than their ranges, %d stay open; tau %s.",
		lines.Count(r.Up+r.Down+r.Open, "pair"), r.Up, r.Down, r.Open, lines.Signed(r.Tau, 2))
	return []string{first, pairs, how}
}

// lots counts kit lots with their charts: a lot read against two charts counts as two.
func lots(n int) string {
	return strings.Replace(lines.Count(n, "kit lot and chart"), "lot and charts", "lots and charts", 1)
}

// chance prints a probability so that it never rounds past 5 %, nor to nothing.
func chance(p float64) string {
	switch {
	case p < 0.001:
		return "p under 0.001"
	case p > 0.05 && p < 0.051:
		return "p just over 0.05"
	}
	return "p " + strconv.FormatFloat(p, 'f', 3, 64)
}

// limitWords say how the values stand to the limit; none without one.
func (s Series) limitWords() []string {
	if s.Limit == nil {
		return nil
	}
	l, past := s.Limit, "over"
	if !math.IsNaN(l.Low) {
		past = "outside"
	}
	return []string{fmt.Sprintf("Limit %s: %s of %d %s, %d more may be %s.", lines.OneLine(l.Text),
		lines.Count(l.Past, "value"), len(s.Rows), past, l.MayBe, past)}
}

// decimals are those of all figures of a series: what its narrowest usual band needs.
func (s Series) decimals() int {
	d := 0
	for _, r := range s.Rows {
		if width := r.Band.High.Value - r.Band.Low.Value; !r.Band.High.Open && !r.Band.Low.Open && width > 0 {
			d = max(d, lines.Decimals(width))
		}
	}
	return d
}

// reads is the value in words: "6.8", "25 or more".
func (r Row) reads(d int) string {
	switch {
	case math.IsNaN(r.Value):
		return "no value"
	case r.Range == calib.Above:
		return lines.Plain(r.Value) + " or more"
	case r.Range == calib.Below:
		return lines.Plain(r.Value) + " or less"
	}
	return lines.Figure(r.Value, d)
}
