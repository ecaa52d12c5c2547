package history

import (
	"bytes"
	"fmt"
	"html"
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"padband/calib"
	"padband/cmd/padband/internal/figure"
	"padband/cmd/padband/internal/lines"
)

// The plot's size: 1200 by 900 pixels as PNG. Its letters are large, so that it
// can be read on a phone, where it is a third as wide.
var plotSize = figure.Size{Wide: 6 * vg.Inch, High: 4.5 * vg.Inch, Margin: 8, DPI: 200}

// plotLetter is the size of all letters.
const plotLetter = font.Length(11)

// Plot draws a series over time as "svg" or "png": the value as a ring, the
// band as a thick bar, the water band as a thin one; an open end is an arrow. The
// ring of an unreliable reading is empty. A limit is a dashed line; a dotted
// upright line stands where the kit's lot or the chart changes.
func Plot(s Series, format string) ([]byte, error) {
	switch p := s.plot(); format {
	case "png":
		return plotSize.PNG(p)
	case "svg":
		data, err := plotSize.SVG(p)
		return s.named(data), err
	}
	return nil, fmt.Errorf("%q is no form of a plot; name svg or png", format)
}

// named gives an SVG its title and its description for those who do not see it,
// and founts that every system has.
func (s Series) named(svg []byte) []byte {
	svg = bytes.ReplaceAll(svg, []byte("font-family:Liberation Sans"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif"))
	at := bytes.Index(svg, []byte("<svg"))
	end := bytes.IndexByte(svg[max(at, 0):], '>')
	if at < 0 || end < 0 {
		return svg
	}
	text := fmt.Sprintf("\n<title>%s</title>\n<desc>%s</desc>", html.EscapeString(s.title()), html.EscapeString(trendWords(s.Result)[0]))
	cut := at + end + 1
	return append(append(append([]byte(nil), svg[:cut]...), text...), svg[cut:]...)
}

// plot sets out the figure of a series: its letters, titles, axes and marks.
func (s Series) plot() *plot.Plot {
	p := plot.New()
	letters := figure.Sans(plotLetter)
	p.Title.TextStyle.Font = letters
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font, a.Tick.Label.Font = letters, letters
		a.Padding = vg.Points(6)
	}
	p.Title.Text = shortened(lines.UpperFirst(lines.OneLine(s.Analyte))+": "+lines.OneLine(s.Where), 58) + "\n" +
		lines.UpperFirst(string(s.Result.Word))
	p.Title.Padding = vg.Points(8)
	p.Y.Label.Text = lines.OneLine(s.Unit)
	p.X.Label.Text = s.legend()
	p.X.Label.Padding = vg.Points(4)
	p.X.Tick.Marker, p.Y.Tick.Marker = figure.Dates{}, figure.Even{Spaces: 7, Label: fixed}
	p.Add(marks{s})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = s.extent()
	return p
}

// legend says what the marks mean. It leaves out what the series has none of.
func (s Series) legend() string {
	text := "bar: colour; line: what the water may be"
	for _, r := range s.Rows {
		if r.Reliability == calib.Unreliable {
			return text + "; ring: do not use"
		}
	}
	return text
}

// fixed prints a number of an axis.
func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// shortened is a text of at most so many letters; one that is cut ends in three dots.
func shortened(s string, room int) string {
	if r := []rune(s); len(r) > room {
		return string(r[:room-1]) + "\u2026"
	}
	return s
}

// extent is what the axes show: all values, bands and the limit, with room around.
func (s Series) extent() (x0, x1, y0, y1 float64) {
	x0, x1, y0, y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, r := range s.Rows {
		at := figure.Seconds(r.Time)
		x0, x1 = math.Min(x0, at), math.Max(x1, at)
		for _, v := range []float64{r.Value, r.Band.Low.Value, r.Band.High.Value, r.Water.Low.Value, r.Water.High.Value} {
			if !math.IsNaN(v) {
				y0, y1 = math.Min(y0, v), math.Max(y1, v)
			}
		}
	}
	if s.Limit != nil {
		for _, v := range []float64{s.Limit.Low, s.Limit.High} {
			if !math.IsNaN(v) {
				y0, y1 = math.Min(y0, v), math.Max(y1, v)
			}
		}
	}
	if y0 >= 0 && y0 < y1/2 {
		y0 = 0
	}
	wide, high := math.Max(0.06*(x1-x0), 12*3600), 0.1*(y1-y0)
	if !(high > 0) {
		high = 1
	}
	if y0 != 0 {
		y0 -= high / 2
	}
	left := wide
	if s.Limit != nil {
		left += 0.2 * (x1 - x0 + 2*wide) // for its text
	}
	return x0 - left, x1 + wide, y0, y1 + high
}

// The colours of the figure: it is to be printed in one ink.
var (
	black = color.Gray{0}
	grey  = color.Gray{0x70}
)
