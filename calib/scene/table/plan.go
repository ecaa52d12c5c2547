package table

import (
	"math"
	"strconv"

	"padband/charts"
)

// shape is the form of pads and swatches.
type form int

const (
	square form = iota
	soft        // with rounded corners
	round
)

// cell is one printed swatch: its outline on the chart, in millimetres.
type cell struct {
	analyte, swatch int
	outline         path
}

// plan is a chart before it is printed.
type plan struct {
	chart    charts.Chart
	series   []series
	order    []int // of the pads from the dipped tip: analytes
	columns  bool
	down     bool // the highest value comes first
	touching bool // neighbours within a row
	block    bool // and the rows too
	form     form
	border   bool // a fine line about each patch
	align    int  // of short rows: -1 at the start, 0 in the middle, 1 at the end, 2 stretched
	titles   int
	numbers  int
	wide     float64 // of a swatch, along the row
	tall     float64 // and across
	gap      float64
	apart    float64 // between rows, beside titles and numbers
	panels   bool    // each second row on a tinted ground
}

// Where titles and numbers stand.
const (
	nowhere = iota
	above   // before the row, across it
	before  // at its start
	below   // after the row, across it
	inside
)

// known are invented lines of charts: name, unit and what it is expressed as.
var known = [][3]string{
	{"nitrate", "mg/L", "N"}, {"nitrite", "mg/L", "N"}, {"total hardness", "mg/L", "CaCO3"}, {"total alkalinity", "mg/L", "CaCO3"},
	{"pH", "pH", ""}, {"free chlorine", "mg/L", "Cl2"}, {"total chlorine", "mg/L", "Cl2"}, {"iron", "mg/L", ""}, {"copper", "mg/L", ""},
	{"lead", "ug/L", ""}, {"fluoride", "mg/L", ""}, {"sulfate", "mg/L", ""}, {"sulfite", "mg/L", ""}, {"ammonia", "mg/L", "N"},
	{"phosphate", "mg/L", "P"}, {"manganese", "mg/L", ""}, {"zinc", "mg/L", ""}, {"chloride", "mg/L", ""}, {"nickel", "mg/L", ""},
	{"silica", "mg/L", ""}, {"bromine", "mg/L", ""}, {"aluminium", "mg/L", ""},
}

// analytes draws how many lines a chart has: 1 to 16, mostly few.
func (d dice) analytes() int {
	switch d.weighed(14, 15, 18, 13, 10, 8, 14, 8) {
	case 6:
		return d.one(7, 10)
	case 7:
		return d.one(11, 16)
	case 0:
		return 1
	case 1:
		return 2
	case 2:
		return 3
	case 3:
		return 4
	case 4:
		return 5
	}
	return 6
}

// plan draws a chart of count analytes.
func (d dice) plan(name string, count int) plan {
	p := plan{columns: d.chance(0.35), down: d.chance(0.1), block: d.chance(0.15), form: form(d.weighed(6, 2, 2))}
	p.touching = p.form == square && (p.block && d.chance(0.5) || d.chance(0.22))
	p.border = d.chance(0.12)
	p.align = d.weighed(6, 1.5, 1, 1.5) - 1
	p.wide, p.tall = d.in(5, 11), d.in(5, 9)
	if d.chance(0.5) || p.form == round && d.chance(0.8) {
		p.tall = p.wide
	}
	p.gap = p.wide * d.inLog(0.15, 0.9)
	if p.touching {
		p.gap = 0
	}
	p.titles, p.numbers = pick(d, []int{above, above, before, before, nowhere}), pick(d, []int{below, below, below, above, nowhere, inside})
	if p.form == round && p.numbers == inside {
		p.numbers = below
	}
	p.apart = p.tall * d.inLog(0.1, 0.6)
	if p.block {
		p.titles, p.numbers, p.apart = pick(d, []int{before, nowhere}), pick(d, []int{nowhere, inside}), p.gap
	}
	if !p.block && p.titles != above && p.numbers == nowhere {
		p.apart = math.Max(p.apart, 0.2*p.tall)
	}
	if p.columns && p.titles == above {
		p.titles = before
	}
	p.panels = !p.block && d.chance(0.1)
	p.lines(d, name, count)
	return p
}

// lines draws the analytes, their values and colours, and the order of the pads.
func (p *plan) lines(d dice, name string, count int) {
	p.chart = charts.Chart{Format: 1, Name: name, Title: d.words(2)}
	least, most := 3, 8
	if d.chance(0.3) { // all of one length, as often printed
		least = d.one(3, 8)
		most = least
	}
	closest := 4.0
	if p.touching {
		closest = 6
	}
	for _, i := range d.Perm(len(known))[:count] {
		a := charts.Analyte{Name: known[i][0], Unit: known[i][1], As: known[i][2], Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1}
		for _, v := range d.values(d.one(least, most), a.Unit == "pH") {
			a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
		}
		p.chart.Analytes = append(p.chart.Analytes, a)
		p.series = append(p.series, d.series(len(a.Swatches), closest))
		p.order = append(p.order, len(p.order))
	}
	if count > 1 && d.chance(0.5) {
		p.shuffle(d)
	}
}

// shuffle gives the pads another order than the rows.
func (p *plan) shuffle(d dice) {
	n := len(p.order)
	switch d.IntN(3) {
	case 0:
		for i := range p.order {
			p.order[i] = n - 1 - i
		}
	case 1:
		i := d.IntN(n - 1)
		p.order[i], p.order[i+1] = p.order[i+1], p.order[i]
	default:
		by := d.Perm(n)
		p.order[0], p.order[n-1] = n-1, 0 // so that it is another order in any case
		mid := p.order[1 : n-1]
		k := 0
		for _, v := range by {
			if v > 0 && v < n-1 {
				mid[k] = v
				k++
			}
		}
	}
}

// values draws the printed values of n swatches.
func (d dice) values(n int, acidity bool) []float64 {
	out := make([]float64, 0, n)
	if acidity {
		low, step := 0.2*float64(d.one(25, 32)), 0.2*float64(d.one(1, 4))
		for i := range n {
			out = append(out, tenth(low+float64(i)*step))
		}
		return out
	}
	nice := []float64{1, 2, 3, 5, 7}
	at, unit := d.IntN(len(nice)), pick(d, []float64{0.01, 0.1, 0.1, 1, 1, 10})
	if d.chance(0.8) {
		out = append(out, 0)
	}
	for len(out) < n {
		v := unit * nice[at%len(nice)] * math.Pow(10, float64(at/len(nice)))
		out = append(out, math.Round(v*1000)/1000)
		at += d.one(1, 3)
	}
	return out
}

// number is a value as printed.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
