package outline

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"padband/charts"
	"padband/colorimetry"
)

// drawing on which the tests look: a card with rows of swatches and bars of ink in place
// of numbers, and a strip, on a grainy table.
type card struct {
	m      *image.RGBA
	chart  charts.Chart
	turn   float64 // radians, of all of it about the middle
	places map[string]colorimetry.Point
}

const (
	cardWidth, cardHeight = 1000, 1000
	pitch, rowPitch       = 70.0, 95.0
	side                  = 44.0
)

// rowsOf colours: each row runs from one colour to another.
var ramps = [][2][3]float64{
	{{244, 214, 226}, {190, 40, 120}},
	{{232, 224, 150}, {60, 110, 60}},
	{{222, 228, 240}, {40, 60, 150}},
}

// newCard draws a chart of so many swatches in each row; numbers tells whether there is
// ink beside the swatches.
func newCard(turn float64, counts []int, numbers, strip bool) *card {
	c := &card{m: image.NewRGBA(image.Rect(0, 0, cardWidth, cardHeight)), turn: turn, places: map[string]colorimetry.Point{}}
	rng := rand.New(rand.NewPCG(9, 9))
	for i := range c.m.Pix {
		c.m.Pix[i] = uint8(90 + rng.IntN(60))
	}
	for i := 3; i < len(c.m.Pix); i += 4 {
		c.m.Pix[i] = 255
	}
	c.fill(200, 300, 640, 130+rowPitch*float64(len(counts)), [3]float64{240, 238, 233})
	c.chart = charts.Chart{Format: 1, Name: "drawn"}
	values := []float64{0, 5, 10, 25, 100, 1000, 2500, 10000}
	for i, n := range counts {
		a := charts.Analyte{Name: fmt.Sprintf("row %d", i+1), Unit: "mg/L", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1}
		ramp := ramps[i%len(ramps)]
		for k := range n {
			x, y := 250+pitch*float64(k), 340+rowPitch*float64(i)
			a.Swatches = append(a.Swatches, charts.Swatch{Value: values[k]})
			c.fill(x, y, side, side, mix(ramp, float64(k)/float64(n-1)))
			c.places[swatchName(a.Name, values[k])] = c.at(x+side/2, y+side/2)
			for d := range len(fmt.Sprint(values[k])) * 2 {
				if numbers {
					c.fill(x+float64(d)*5, y+side+6, 3, 9, [3]float64{50, 50, 50})
				}
			}
		}
		c.chart.Analytes = append(c.chart.Analytes, a)
	}
	if strip {
		n := len(counts)
		c.fill(100, 250, 48, 60*float64(n)+240, [3]float64{247, 246, 243})
		for i := range n { // the tip is above
			x, y := 105.0, 262+60*float64(i)
			c.fill(x, y, 38, 38, mix(ramps[i%len(ramps)], 0.6))
			c.places["pad "+c.chart.Analytes[i].Name] = c.at(x+19, y+19)
		}
	}
	return c
}

func mix(ramp [2][3]float64, f float64) (out [3]float64) {
	for i := range out {
		out[i] = ramp[0][i] + f*(ramp[1][i]-ramp[0][i])
	}
	return out
}

// at is a place of the drawing as it lies in the picture.
func (c *card) at(x, y float64) colorimetry.Point {
	x, y = x-cardWidth/2, y-cardHeight/2
	sin, cos := math.Sincos(c.turn)
	return colorimetry.Point{X: cardWidth/2 + x*cos - y*sin, Y: cardHeight/2 + x*sin + y*cos}
}

// fill paints a box, turned as the card is.
func (c *card) fill(x, y, w, h float64, colour [3]float64) {
	sin, cos := math.Sincos(c.turn)
	m, r := c.at(x+w/2, y+h/2), math.Hypot(w, h)/2+2
	for j := max(0, int(m.Y-r)); j < min(cardHeight, int(m.Y+r)); j++ {
		for i := max(0, int(m.X-r)); i < min(cardWidth, int(m.X+r)); i++ {
			dx, dy := float64(i)+0.5-cardWidth/2, float64(j)+0.5-cardHeight/2
			u, v := cardWidth/2+dx*cos+dy*sin, cardHeight/2-dx*sin+dy*cos
			if u >= x && u < x+w && v >= y && v < y+h {
				c.m.SetRGBA(i, j, color.RGBA{uint8(colour[0]), uint8(colour[1]), uint8(colour[2]), 255})
			}
		}
	}
}

// wrong names the marks whose middle lies elsewhere than what they name; nothing more
// may be marked, and nothing less.
func (c *card) wrong(m charts.Marks) (names []string) {
	seen := 0
	for _, r := range m.Regions {
		if r.Role == charts.RoleWhite {
			continue
		}
		name := fmt.Sprintf("%s %s", r.Role, r.Analyte)
		if r.Role == charts.RoleSwatch {
			name = fmt.Sprintf("%s %g", name, r.Value)
		}
		seen++
		want, ok := c.places[name]
		if !ok || middle(r.Region).Distance(want) > side/4 {
			names = append(names, name)
		}
	}
	if seen != len(c.places) {
		names = append(names, fmt.Sprintf("%d marks of %d", seen, len(c.places)))
	}
	return names
}

func middle(r colorimetry.Region) (m colorimetry.Point) {
	out := r.Outline()
	for _, p := range out {
		m.X, m.Y = m.X+p.X/float64(len(out)), m.Y+p.Y/float64(len(out))
	}
	return m
}

// swatchName is the name of a swatch's place.
func swatchName(row string, value float64) string { return fmt.Sprintf("swatch %s %g", row, value) }
