package readers

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/figure"
	"padband/cmd/padband/internal/lines"
)

// drawMeans draws the difference, or the ratio, against the mean of the two calls. A
// pair with an open-ended call has no place in it.
func drawMeans(c agreement.Comparison) (p *plot.Plot, name, alt string) {
	var points plotter.XYs
	for _, q := range c.Pairs {
		if q.Open() {
			continue
		}
		at := plotter.XY{X: (q.Value[0] + q.Value[1]) / 2, Y: q.Difference()}
		if c.Method.Log {
			at = plotter.XY{X: math.Sqrt(q.Value[0] * q.Value[1]), Y: q.Value[0] / q.Value[1]}
		}
		points = append(points, at)
	}
	if len(points) == 0 {
		return nil, "", ""
	}
	a, b := readers(c)
	y := a + " minus " + b
	if c.Method.Log {
		y = a + " over " + b
	}
	p = sheetPlot(lines.WithUnit("mean of both", unitOf(c)), y)
	fitAxes(p, c, points)
	f := newFigurer(c)
	level(p, f.none, "", false, nil, 0.5)
	d := c.Differences
	level(p, d.Bias.Value, biasName(c)+" "+f.num(d.Bias.Value), d.Bias.Value < f.none, nil, 1.5)
	if d.Low.Defined() && d.Spread > 0 {
		dash := []vg.Length{5, 3}
		level(p, d.Low.Value, f.num(d.Low.Value), true, dash, 1)
		level(p, d.High.Value, f.num(d.High.Value), false, dash, 1)
	}
	addSpots(p, spots(points), false)
	return p, "difference", "The difference of the two calls of each sample against their mean. " + biasName(c) + " " +
		f.estimate(d.Bias) + "; 95 in 100 between " + between95(f, d) + "."
}

// fitAxes makes room for the points, the limits and their names. Ratios take log axes,
// on which half and twice lie equally far from one.
func fitAxes(p *plot.Plot, c agreement.Comparison, points plotter.XYs) {
	x0, x1, y0, y1 := plotter.XYRange(points)
	f := newFigurer(c)
	for _, v := range []float64{f.none, c.Differences.Bias.Value, c.Differences.Low.Value, c.Differences.High.Value} {
		if !math.IsNaN(v) {
			y0, y1 = math.Min(y0, v), math.Max(y1, v)
		}
	}
	if c.Method.Log {
		p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, figure.Round{}
		p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, figure.Round{}
		room := math.Pow(math.Max(y1/y0, 1.1), 0.12)
		wide := math.Pow(math.Max(x1/x0, 1.1), 0.06)
		p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = x0/wide, x1*math.Pow(wide, nameRoom), y0/room, y1*room
		return
	}
	wide, room := 0.06*(x1-x0), 0.12*(y1-y0)
	if wide == 0 {
		wide = math.Max(1, math.Abs(x0)/10)
	}
	if room == 0 {
		room = 1
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = x0-wide, x1+nameRoom*wide, y0-room, y1+room
	p.X.Tick.Marker, p.Y.Tick.Marker = evenTicks, evenTicks
}

// nameRoom is how much more room there is right of the points than left of
// them, for the names of the lines.
const nameRoom = 4.5

// evenTicks are those of an axis of differences or means.
var evenTicks = figure.Even{
	Spaces: lines.MostTicks - 1,
	Label:  func(v float64, decimals int) string { return figurer{decimals: decimals}.num(v) },
}

// drawSwatches draws how often each pair of classes was called.
func drawSwatches(c agreement.Comparison) (p *plot.Plot, name, alt string) {
	s := newSquare(c.Table)
	if s == nil {
		return nil, "", ""
	}
	a, b := readers(c)
	p = sheetPlot(lines.WithUnit(b, unitOf(c)), lines.WithUnit(a, unitOf(c)))
	var all []spot
	for i, row := range s.Counts {
		for j, n := range row {
			if n > 0 {
				all = append(all, spot{float64(j), float64(i), n})
			}
		}
	}
	last := float64(len(s.Labels) - 1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.6, last+0.6, -0.6, last+0.6
	var ticks []plot.Tick
	for i, l := range s.Labels {
		ticks = append(ticks, plot.Tick{Value: float64(i), Label: l})
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.ConstantTicks(ticks), plot.ConstantTicks(ticks)
	if same, err := plotter.NewLine(plotter.XYs{{X: -0.6, Y: -0.6}, {X: last + 0.6, Y: last + 0.6}}); err == nil {
		same.LineStyle = plotdraw.LineStyle{Color: color.Gray{Y: 150}, Width: 1}
		p.Add(same)
	}
	addSpots(p, all, true)
	return p, "swatches", fmt.Sprintf("How often each two calls were made; on the line both are the same: %s.", share(c.Raw))
}
