package readers

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/figure"
	"padband/cmd/padband/internal/hosted"
)

// Drawing is one figure of a comparison.
type Drawing struct {
	Name     string // "difference" or "swatches"
	Alt      string // in words
	SVG, PNG []byte
}

// A figure's size: as wide as the narrowest page shows it whole.
var figureSize = figure.Size{Wide: 4.2 * vg.Inch, High: 3.7 * vg.Inch, DPI: 192}

// Drawings draws two readers compared: the difference against the mean,
// with bias and limits of agreement, and the calls by swatch. A figure for which
// there are no data is left out. The error means a fault of this program.
func Drawings(c agreement.Comparison) (out []Drawing, err error) {
	for _, draw := range []func(agreement.Comparison) (*plot.Plot, string, string){drawMeans, drawSwatches} {
		p, name, alt := draw(c)
		if p == nil {
			continue
		}
		d := Drawing{Name: name, Alt: alt}
		if d.SVG, d.PNG, err = render(p); err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

// Files are the figures of all comparisons, numbered where there are several.
func Files(all []agreement.Comparison) (out []hosted.File, err error) {
	for i, c := range all {
		drawings, err := Drawings(c)
		if err != nil {
			return nil, err
		}
		number := ""
		if len(all) > 1 {
			number = fmt.Sprintf("%d-", i+1)
		}
		for _, d := range drawings {
			out = append(out, hosted.File{Name: number + d.Name + ".svg", Data: d.SVG},
				hosted.File{Name: number + d.Name + ".png", Data: d.PNG})
		}
	}
	return out, nil
}

// render draws a figure in both forms: lines for pages, dots for whoever takes no SVG.
func render(p *plot.Plot) (svg, png []byte, err error) {
	svg, err1 := figureSize.SVG(p)
	png, err2 := figureSize.PNG(p)
	return svg, png, errors.Join(err1, err2)
}

// sheetPlot is an empty figure in the look of the report: black, sans serif.
func sheetPlot(x, y string) *plot.Plot {
	p := plot.New()
	letters := figure.Sans(10)
	p.X.Label.Text, p.Y.Label.Text = x, y
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font, a.Tick.Label.Font = letters, letters
		a.Padding = 4
	}
	return p
}

// spot is a place in a figure and how many pairs fall on it.
type spot struct {
	x, y float64
	n    int
}

// spots puts equal pairs together; a figure has no room for more than so many
// different ones, so that near ones fall together too.
func spots(points plotter.XYs) (out []spot) {
	const cells = 120
	xmin, xmax, ymin, ymax := plotter.XYRange(points)
	at := map[[2]int]int{}
	for _, q := range points {
		key := [2]int{int(cells * (q.X - xmin) / math.Max(xmax-xmin, 1e-300)), int(cells * (q.Y - ymin) / math.Max(ymax-ymin, 1e-300))}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, spot{q.X, q.Y, 0})
		}
		out[i].n++
	}
	return out
}

// addSpots draws the pairs as rings, larger where several fall together: areas grow as
// the counts do. numbered writes the count into each ring.
func addSpots(p *plot.Plot, all []spot, numbered bool) {
	most := 1
	xy := plotter.XYs{}
	var labels []string
	for _, s := range all {
		most = max(most, s.n)
		xy = append(xy, plotter.XY{X: s.x, Y: s.y})
		labels = append(labels, fmt.Sprint(s.n))
	}
	ring, err := plotter.NewScatter(xy)
	if err != nil {
		return // no points
	}
	ring.GlyphStyleFunc = func(i int) plotdraw.GlyphStyle {
		r := 3.0
		if most > 1 {
			r += 9 * (math.Sqrt(float64(all[i].n)) - 1) / math.Max(1, math.Sqrt(float64(most))-1)
		}
		if numbered {
			r = 4 + 9*math.Sqrt(float64(all[i].n)/float64(most))
		}
		return plotdraw.GlyphStyle{Color: color.Black, Radius: vg.Points(math.Min(r, 12)), Shape: plotdraw.RingGlyph{}}
	}
	paper, err := plotter.NewScatter(xy)
	if err != nil {
		return
	}
	paper.GlyphStyleFunc = func(i int) plotdraw.GlyphStyle {
		g := ring.GlyphStyleFunc(i)
		g.Color, g.Shape = color.White, plotdraw.CircleGlyph{}
		return g
	}
	if !numbered {
		p.Add(ring)
		return
	}
	p.Add(paper, ring)
	text, err := plotter.NewLabels(plotter.XYLabels{XYs: xy, Labels: labels})
	if err != nil {
		return
	}
	for i := range text.TextStyle {
		text.TextStyle[i].Font = figure.Sans(8)
		text.TextStyle[i].XAlign, text.TextStyle[i].YAlign = plotdraw.XCenter, plotdraw.YCenter
	}
	text.Offset = vg.Point{Y: 1}
	p.Add(text)
}

// level draws a line across the figure, named at its right end over or under it. The
// axes have to be set before, for its name stands at the end of one.
func level(p *plot.Plot, y float64, text string, under bool, dashes []vg.Length, width vg.Length) {
	l := plotter.NewFunction(func(float64) float64 { return y })
	l.LineStyle = plotdraw.LineStyle{Color: color.Black, Width: width, Dashes: dashes}
	p.Add(l)
	if text == "" {
		return
	}
	name, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: p.X.Max, Y: y}}, Labels: []string{text}})
	if err != nil {
		return
	}
	name.TextStyle[0].Font = figure.Sans(9)
	name.TextStyle[0].XAlign, name.TextStyle[0].YAlign = plotdraw.XRight, plotdraw.YBottom
	name.Offset = vg.Point{Y: 2}
	if under {
		name.TextStyle[0].YAlign, name.Offset = plotdraw.YTop, vg.Point{Y: -2}
	}
	p.Add(name)
}
