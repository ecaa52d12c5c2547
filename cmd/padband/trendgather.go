package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"padband/calib/reading"
	"padband/charts"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/record"
)

// Caps, so that what is held stays bounded: of readings in all, and of one
// series, whose pairs are all compared.
const (
	mostGathered = 200_000
	mostInSeries = 3_000
)

// gathering is what a trend collects from the records.
type gathering struct {
	choice
	limit             *charts.LimitChoice
	by                map[seriesKey]*gathered
	readings          int
	undated, presence int
	analytes          []string
}

// seriesKey tells series apart; names are folded, so that capitals and spaces do not.
type seriesKey struct{ place, point, analyte string }

// gathered is one series as it grows.
type gathered struct {
	place, point, analyte string
	rows                  []gatheredRow
	untimed               int
}

// gatheredRow is one reading with what is needed of its record.
type gatheredRow struct {
	record.Summary // without its readings
	read           reading.Reading
	time           time.Time
	offset         bool
}

func folded(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// add takes what is chosen of a record.
func (g *gathering) add(s record.Summary) {
	chosen, undated := g.record(s)
	if undated {
		g.undated++
	}
	row := gatheredRow{Summary: s}
	row.Readings = nil
	var timed bool
	row.time, row.offset, timed = record.ParseTime(s.Taken)
	for _, r := range s.Readings {
		if len(g.analytes) < mostNamed && !slices.Contains(g.analytes, r.Analyte) {
			g.analytes = append(g.analytes, r.Analyte)
		}
		if !chosen || !g.reading(r) {
			continue
		}
		if r.Presence.Given {
			g.presence++
			continue
		}
		if g.readings++; g.readings > mostGathered {
			continue
		}
		row.read = reading.Reading{Analyte: r.Analyte, Unit: r.Unit, As: r.As, Value: r.Value, Band: r.Band, WaterBand: r.WaterBand, Range: r.Range, Reliability: r.Reliability}
		of := g.of(s, r.Analyte)
		if !timed {
			of.untimed++
			continue
		}
		of.rows = append(of.rows, row)
	}
}

func (g *gathering) of(s record.Summary, analyte string) *gathered {
	key := seriesKey{folded(s.Place), folded(s.Point), folded(analyte)}
	if g.by[key] == nil {
		g.by[key] = &gathered{place: s.Place, point: s.Point, analyte: analyte}
	}
	return g.by[key]
}

// all are the series in order of place, point and analyte.
func (g *gathering) all(records int) (out []history.Series, err error) {
	switch {
	case g.readings > mostGathered:
		return nil, fmt.Errorf("over %d readings were found; choose some with --place, --point or --analyte", mostGathered)
	case g.readings == 0 && g.analyte != "" && !slices.ContainsFunc(g.analytes, func(a string) bool { return strings.EqualFold(a, strings.TrimSpace(g.analyte)) }):
		return nil, fmt.Errorf("no record holds %q; they hold %s", g.analyte, strings.Join(g.analytes, ", "))
	case g.readings == 0 && g.presence > 0:
		return nil, errors.New("the readings chosen are of present or not, which has no trend; padband find lists them")
	case g.readings == 0:
		return nil, fmt.Errorf("none of %s is chosen by the flags", number(records, "record"))
	}
	var keys []seriesKey
	for k := range g.by {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b seriesKey) int {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.point, b.point), cmp.Compare(a.analyte, b.analyte))
	})
	for _, k := range keys {
		s, err := g.by[k].series(g.limit)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// lines say what was left out of all series.
func (g *gathering) lines(bad int) (out []string) {
	if g.presence > 0 {
		out = append(out, "left out: "+number(g.presence, "reading")+" of present or not, which has no trend")
	}
	if g.undated > 0 {
		out = append(out, "left out by --from or --until: "+number(g.undated, "record")+" without a time")
	}
	if bad > 0 {
		out = append(out, "not read: "+number(bad, "record")+", named above")
	}
	return out
}
