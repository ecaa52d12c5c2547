package agreement

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"padband/charts"
)

// mostClasses is how many different values without a chart still count as
// classes; more come from a reader who does not call swatches.
const mostClasses = 15

// classify puts the pairs into classes: with a chart its swatches, and the
// places between two for calls of a range; without, each value that was called. It returns
// the table, or why there is none.
func classify(pairs []Pair, a *charts.Analyte) (Table, string) {
	if a != nil {
		return classifyBySwatch(pairs, a), ""
	}
	return classifyByValue(pairs)
}

// classPlace is the place of a call's class in steps: the nearest swatch, or for a
// range the nearest half step. NaN when there is none.
func classPlace(v Value, a *charts.Analyte) float64 {
	s := step(v, a)
	if v.Exact() || v.Open() && !math.IsInf(v.Low, -1) {
		return math.Round(s)
	}
	return math.Round(2*s) / 2
}

func classifyBySwatch(pairs []Pair, a *charts.Analyte) Table {
	var t Table
	for i := range a.Swatches {
		t.Places = append(t.Places, float64(i))
	}
	for _, p := range pairs {
		for k := range 2 {
			if at := classPlace(p.Calls[k][0].Value, a); !math.IsNaN(at) && !slices.Contains(t.Places, at) {
				t.Places = append(t.Places, at)
			}
		}
	}
	slices.Sort(t.Places)
	for _, at := range t.Places {
		label := plain(a.Swatches[int(at)].Value)
		if at != math.Floor(at) {
			label += "-" + plain(a.Swatches[int(at)+1].Value)
		}
		t.Labels = append(t.Labels, label)
	}
	t.count(pairs, func(v Value) int { return slices.Index(t.Places, classPlace(v, a)) })
	return t
}

func classifyByValue(pairs []Pair) (Table, string) {
	seen := map[Value]int{}
	for _, p := range pairs {
		for k := range 2 {
			seen[p.Calls[k][0].Value] = 0
		}
	}
	if len(seen) > mostClasses {
		return Table{}, fmt.Sprintf("not defined: %d different values were called, which are no classes; with the chart they are put "+
			"to its swatches", len(seen))
	}
	var t Table
	var values []Value
	for v := range seen {
		values = append(values, v)
	}
	slices.SortFunc(values, compareValues)
	for i, v := range values {
		seen[v] = i
		t.Labels, t.Places = append(t.Labels, v.String()), append(t.Places, float64(i))
	}
	t.count(pairs, func(v Value) int { return seen[v] })
	return t, ""
}

// compareValues orders calls by what they say: "<1" before 1, ">1" after it; of
// two with one middle the one that begins lower comes first.
func compareValues(a, b Value) int {
	at := func(v Value) (middle, side float64) {
		switch {
		case math.IsInf(v.Low, -1):
			return v.High, -1
		case math.IsInf(v.High, 1):
			return v.Low, 1
		}
		return (v.Low + v.High) / 2, 0
	}
	am, as := at(a)
	bm, bs := at(b)
	reached := func(v Value) int { // "<1" before "≤1"
		if v.Reached {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(am, bm), cmp.Compare(as, bs), cmp.Compare(a.Low, b.Low), cmp.Compare(reached(a), reached(b)))
}

// count puts each pair's first calls into the table.
func (t *Table) count(pairs []Pair, class func(Value) int) {
	t.Counts = make([][]int, len(t.Places))
	for i := range t.Counts {
		t.Counts[i] = make([]int, len(t.Places))
	}
	for i := range pairs {
		p := &pairs[i]
		for k := range 2 {
			p.Class[k] = class(p.Calls[k][0].Value)
		}
		if p.Class[0] >= 0 && p.Class[1] >= 0 {
			t.Counts[p.Class[0]][p.Class[1]]++
		}
	}
}
