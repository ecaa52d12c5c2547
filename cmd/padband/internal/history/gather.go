package history

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"time"

	"padband/calib/reading"
	"padband/charts/limits"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
)

// Caps, so that what is held stays bounded: of readings in all, and of one
// series, whose pairs are all compared.
const (
	mostGathered = 200_000
	mostInSeries = 3_000
)

// Gathering collects what is followed over time from records, one by one.
type Gathering struct {
	Choice
	Limit              *limits.LimitChoice // nil for none
	Undated            int                 // records left out, because a day was asked for and theirs is not known
	by                 map[seriesKey]*gathered
	readings, presence int
	analytes           names
}

// seriesKey tells series apart; names are folded, so that capitals and spaces do not.
type seriesKey struct{ place, point, analyte string }

// gathered is one series as it grows.
type gathered struct {
	place, point, analyte string
	rows                  []gatheredRow
	untimed               int
}

// gatheredRow is one reading with what is needed of its record. Its time is the
// clock's of the place; offset says that the record knows how far that is from UTC.
type gatheredRow struct {
	record.Summary // without its readings
	read           reading.Reading
	time           time.Time
	offset         bool
}

// folded is a name in small letters with single blanks, to compare it with another.
func folded(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Add takes what is chosen of a record.
func (g *Gathering) Add(s record.Summary) {
	chosen, undated := g.record(s)
	if undated {
		g.Undated++
	}
	for _, r := range s.Readings {
		row := gatheredRow{Summary: s.For(r)}
		row.Readings, row.Strip = nil, nil
		var timed bool
		row.time, row.offset, timed = record.ParseTime(row.Taken)
		g.analytes.saw(r.Analyte)
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
		row.read = reading.Reading{
			Analyte: r.Analyte, Unit: r.Unit, As: r.As, Value: r.Value,
			Band: r.Band, WaterBand: r.WaterBand, Range: r.Range, Reliability: r.Reliability,
		}
		of := g.of(s, r.Analyte)
		if !timed {
			of.untimed++
			continue
		}
		of.rows = append(of.rows, row)
	}
}

// of is the series of an analyte that a record belongs to; it is made when it is the
// first of its series.
func (g *Gathering) of(s record.Summary, analyte string) *gathered {
	key := seriesKey{folded(s.Place), folded(s.Point), folded(analyte)}
	if g.by == nil {
		g.by = map[seriesKey]*gathered{}
	}
	if g.by[key] == nil {
		g.by[key] = &gathered{place: s.Place, point: s.Point, analyte: analyte}
	}
	return g.by[key]
}

// All are the series in order of place, point and analyte, made from so many
// records. The errors are [ErrMany], [ErrPresence], [*LongError], [*NoneError] and
// that no record holds the analyte chosen.
func (g *Gathering) All(records int) (out []Series, err error) {
	none := g.analytes.none(g.Analyte)
	switch {
	case g.readings > mostGathered:
		return nil, ErrMany
	case g.readings == 0 && none != "":
		return nil, errors.New(none)
	case g.readings == 0 && g.presence > 0:
		return nil, ErrPresence
	case g.readings == 0:
		return nil, &NoneError{records}
	}
	var keys []seriesKey
	for k := range g.by {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b seriesKey) int {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.point, b.point), cmp.Compare(a.analyte, b.analyte))
	})
	for _, k := range keys {
		s, err := g.by[k].series(g.Limit)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// Lines say what of the readings chosen is in none of the series: those that are not
// numbers. Rows left out of a series stand in its own notes.
func (g *Gathering) Lines() []string {
	if g.presence == 0 {
		return nil
	}
	return []string{"left out: " + lines.Count(g.presence, "reading") + " of present or not, which has no trend"}
}
