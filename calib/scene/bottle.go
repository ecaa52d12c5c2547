package scene

import (
	"math"

	"padband/charts"
)

// bottle is the curve of a chart that goes around a bottle, its axis upright.
type bottle struct {
	axis, radius float64 // pixels on the plane
	turn, fill   float64
}

// widest is the angle from the middle at which the outermost swatches lie.
const widest = 0.85

// shade is the light on the bottle at a place of the plane, 1 where a flat
// card facing up has it: a cosine towards the lamp over light from around.
func (b *bottle) shade(x float64) float64 {
	sin := math.Max(-1, math.Min(1, (x-b.axis)/b.radius))
	return b.fill + (1-b.fill)*math.Max(0, math.Cos(math.Asin(sin)-b.turn))
}

// around is the x of an angle.
func (b *bottle) around(angle float64) float64 { return b.axis + b.radius*math.Sin(angle) }

// layBottle prints the chart on the bottle, white marked below the swatches.
func (c *Config) layBottle(s *sheet, f frame, paper material, prints []scalePrints) {
	s.bottle = bottle{f.blockX + f.blockW/2, f.blockW / 2 / math.Sin(widest+0.1), c.Layout.BottleTurn, c.Layout.BottleFill}
	b := &s.bottle
	s.paint(box(b.around(-1.25), f.blockY-0.4*f.size, b.around(1.25)-b.around(-1.25), f.blockH+0.8*f.size), paper)
	row := 0
	for i, p := range prints {
		a := &c.Chart.Analytes[i]
		n := float64(len(a.Swatches))
		step := 2 * widest / n
		for part, swatches := range p.swatches {
			y := f.blockY + float64(row)*(f.size+f.rowGap)
			for k := range swatches {
				mid := (float64(k) + 0.5 - n/2) * step
				x0, x1 := b.around(mid-0.33*step), b.around(mid+0.33*step)
				q := box(x0, y, x1-x0, f.size)
				s.paint(q, printed(&swatches[k], true))
				s.mark(q, charts.RoleSwatch, a.Name, part+1, a.Swatches[k].Value, "")
				if c.Whites.Paper > 0 {
					s.mark(box(x0, y+1.08*f.size, x1-x0, 0.42*f.size), charts.RoleWhite, "", 0, 0, "paper")
				}
			}
			row++
		}
	}
}
