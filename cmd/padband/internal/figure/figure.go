// Package figure is the one place where statistical figures meet the library that
// draws them: their letters, the ticks of their axes, and a finished plot as SVG or
// PNG. What a figure shows is set out by the package whose figure it is; start at
// [Size]. Small drawings within pages and sheets are not made here.
package figure

import (
	"bytes"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Size is how large a figure is, with the white margin around it, and how many dots
// an inch has where it is made of dots.
type Size struct {
	Wide, High, Margin vg.Length
	DPI                int
}

// SVG draws a plot as lines and letters.
func (s Size) SVG(p *plot.Plot) ([]byte, error) {
	c := vgsvg.New(s.Wide, s.High)
	p.Draw(s.within(c))
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	return b.Bytes(), err
}

// PNG draws a plot as dots.
func (s Size) PNG(p *plot.Plot) ([]byte, error) {
	c := vgimg.NewWith(vgimg.UseWH(s.Wide, s.High), vgimg.UseDPI(s.DPI))
	p.Draw(s.within(c))
	var b bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(&b)
	return b.Bytes(), err
}

// within is the canvas inside the margin.
func (s Size) within(c vg.CanvasSizer) draw.Canvas {
	return draw.Crop(draw.New(c), s.Margin, -s.Margin, s.Margin, -s.Margin)
}

// Sans are the letters of all figures, in a size: a font that the library carries,
// so that a figure looks the same whatever fonts a machine has.
func Sans(size font.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}
