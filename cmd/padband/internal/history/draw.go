package history

import (
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	vgdraw "gonum.org/v1/plot/vg/draw"

	"padband/calib"
	"padband/cmd/padband/internal/figure"
	"padband/cmd/padband/internal/lines"
)

// marks draws a series into the plot.
type marks struct{ Series }

// Plot draws the limit, the changes of lot and chart, and the records.
func (m marks) Plot(c vgdraw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	last := vg.Length(math.Inf(-1))
	for i, r := range m.Rows {
		if i > 0 && (r.NewLot || r.NewChart) {
			at := (x(figure.Seconds(m.Rows[i-1].Time)) + x(figure.Seconds(r.Time))) / 2
			m.changed(c, p, at, r, at-last > 1.4*plotLetter)
			last = at
		}
	}
	for _, r := range m.Rows {
		m.record(c, x(figure.Seconds(r.Time)), y, r)
	}
	if m.Limit != nil {
		m.limit(c, p, y)
	}
}

// limit is the limit, or both of its sides: a dashed line with its text over its left end, left of all records.
func (m marks) limit(c vgdraw.Canvas, p *plot.Plot, y func(float64) vg.Length) {
	for _, v := range []float64{m.Limit.Low, m.Limit.High} {
		if math.IsNaN(v) {
			continue
		}
		at := y(v)
		c.StrokeLine2(line2(black, 1.2, 6, 4), c.Min.X, at, c.Max.X, at)
		t := p.X.Tick.Label
		t.XAlign, t.YAlign = vgdraw.XLeft, vgdraw.YBottom
		c.FillText(t, vg.Point{X: c.Min.X + 3, Y: at + 2}, "limit "+roughly(v))
	}
}

// roughly prints a figure with four digits and no exponent.
func roughly(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		return "?"
	}
	return lines.Plain(r)
}

// line2 is a line of a colour, a width in points and, when there are any, dashes.
func line2(of color.Color, width float64, dashes ...vg.Length) vgdraw.LineStyle {
	return vgdraw.LineStyle{Color: of, Width: vg.Points(width), Dashes: dashes}
}

// changed is a dotted upright line, with what changed written along it where
// there is room beside the one before.
func (m marks) changed(c vgdraw.Canvas, p *plot.Plot, at vg.Length, r Row, room bool) {
	c.StrokeLine2(line2(grey, 1, 1.5, 3), at, c.Min.Y, at, c.Max.Y)
	if !room {
		return
	}
	text := ""
	if r.NewLot {
		text = r.lot()
	}
	if r.NewChart {
		if text != "" {
			text += ", "
		}
		text += "chart " + lines.OneLine(r.Chart)
	}
	t := p.X.Tick.Label
	t.Rotation, t.Color = math.Pi/2, grey
	t.XAlign, t.YAlign = vgdraw.XRight, vgdraw.YBottom
	c.FillText(t, vg.Point{X: at - 2, Y: c.Max.Y - 2}, shortened(text, 34))
}

// record draws one reading: its band as a thick bar, its water band as a thin line, and
// the value as a disc, which is hollow when the reading is not to be relied on.
func (m marks) record(c vgdraw.Canvas, at vg.Length, y func(float64) vg.Length, r Row) {
	m.bar(c, at, y, r.Band, line2(color.Gray{0xb0}, 6), 0)
	m.bar(c, at, y, r.Water, line2(black, 1), 4)
	if math.IsNaN(r.Value) {
		return
	}
	centre := vg.Point{X: at, Y: y(r.Value)}
	disc := vgdraw.GlyphStyle{Color: black, Radius: 3.6, Shape: vgdraw.CircleGlyph{}}
	c.DrawGlyph(disc, centre)
	if r.Reliability == calib.Unreliable {
		disc.Color, disc.Radius = color.White, 2.4
		c.DrawGlyph(disc, centre)
	}
}

// bar draws a band from end to end; an open end runs on to the plot's edge and
// ends in an arrow, another may end in a tick of so much to each side.
func (m marks) bar(c vgdraw.Canvas, at vg.Length, y func(float64) vg.Length, b calib.Band, style vgdraw.LineStyle, tick vg.Length) {
	low, high := y(b.Low.Value), y(b.High.Value)
	if b.Low.Open {
		low = c.Min.Y
	}
	if b.High.Open {
		high = c.Max.Y
	}
	c.StrokeLine2(style, at, low, at, high)
	if tick == 0 {
		return
	}
	for _, e := range []struct {
		at   vg.Length
		open bool
		into vg.Length
	}{{low, b.Low.Open, 7}, {high, b.High.Open, -7}} {
		if e.open {
			c.StrokeLine2(style, at-tick, e.at+e.into, at, e.at)
			c.StrokeLine2(style, at+tick, e.at+e.into, at, e.at)
		} else {
			c.StrokeLine2(style, at-tick, e.at, at+tick, e.at)
		}
	}
}
