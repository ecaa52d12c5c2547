package scene

import (
	"math"

	"padband/charts"
)

// material is how one thing in the photo looks.
type material struct {
	spectrum Spectrum
	rough    Spectrum // where the texture is at one
	texture  texture
	bottle   bool // lies on the bottle: shaded by its curve
}

// shape is one painted quadrangle on the plane.
type shape struct {
	outline quad
	material
}

// sheet is the scene laid out on the plane, in the order of painting, with
// what is to be marked.
type sheet struct {
	shapes []shape
	marks  []markOn
	labels []label
	casts  []shadowOf
	pads   []quad // of every pad, for glare
	bottle bottle
	// corners is the area of a chart marked by its corners; nil when its swatches are marked one by one.
	corners *quad
}

// markOn is a mark on the plane.
type markOn struct {
	charts.Mark
	outline quad
}

func (s *sheet) paint(q quad, m material) { s.shapes = append(s.shapes, shape{q, m}) }

func (s *sheet) mark(q quad, role charts.Role, analyte string, part int, value float64, stuff string) {
	s.marks = append(s.marks, markOn{charts.Mark{Role: role, Analyte: analyte, Part: part, Value: value, Material: stuff}, q})
}

// frame is the measures of a layout, in pixels of the plane.
type frame struct {
	size, pitch   float64 // side of a swatch, distance of columns
	rows, columns int
	rowGap        float64
	blockX        float64
	blockY        float64
	blockW        float64
	blockH        float64
	stripX        float64
	stripY        float64
	below         bool
	pads          int
	padPitch      float64
}

// measure lays the chart's block and the strip into the photo.
func (c *Config) measure() frame {
	f := frame{size: c.Layout.Size}
	for i := range c.Chart.Analytes {
		a := &c.Chart.Analytes[i]
		f.rows += a.Parts
		f.columns = max(f.columns, len(a.Swatches))
	}
	f.pads, f.below = f.rows, c.Layout.StripBelow
	w, h := float64(c.Width), float64(c.Height)
	gap := 1 + c.Layout.Gap
	needW, needH := float64(f.columns)*gap+3.4, float64(f.rows)*1.6+2.8
	if f.below {
		needW, needH = float64(max(f.columns, f.pads))*gap+2, needH+2.2
	}
	f.size = math.Min(f.size, math.Min(0.90*w/needW, 0.88*h/needH))
	f.pitch, f.rowGap = f.size*gap, f.size*0.6
	f.blockW, f.blockH = float64(f.columns)*f.pitch, float64(f.rows)*(f.size+f.rowGap)
	f.padPitch = f.size * 1.6
	f.place(w, h, c.Layout.StripRight)
	return f
}

// place centres block and strip in the photo.
func (f *frame) place(w, h float64, right bool) {
	stripW, stripH := 1.3*f.size, float64(f.pads)*f.padPitch+2*f.size
	if f.below {
		stripW, stripH = stripH, stripW
		f.blockX, f.blockY = (w-f.blockW)/2, (h-f.blockH-2.2*f.size)/2
		f.stripX, f.stripY = (w-stripW)/2, f.blockY+f.blockH+0.7*f.size
		return
	}
	all := f.blockW + 1.1*f.size + stripW
	f.blockX, f.blockY = (w-all)/2+stripW+1.1*f.size, (h-f.blockH)/2
	f.stripX, f.stripY = (w-all)/2, (h-stripH)/2
	if right {
		f.blockX, f.stripX = (w-all)/2, (w-all)/2+f.blockW+1.1*f.size
	}
}

// lay lays the whole scene out.
func (c *Config) lay(prints []scalePrints) *sheet {
	s, f := &sheet{}, c.measure()
	table := material{spectrum: c.Surfaces.Table, rough: c.Surfaces.Vein, texture: texture{kind: wood, amount: 0.6}}
	w, h := float64(c.Width), float64(c.Height)
	s.paint(box(-w, -h, 3*w, 3*h), table)
	card := material{spectrum: c.Surfaces.Card, rough: c.Surfaces.Card.scaled(0.93), texture: texture{kind: fine, amount: 0.12}}
	paper := material{
		spectrum: c.Surfaces.Paper,
		rough:    c.Surfaces.Paper.scaled(0.93),
		texture:  texture{kind: fine, amount: 0.10},
		bottle:   c.Curved,
	}
	if len(c.Chart.Layout) > 0 {
		c.layPrinted(s, card, prints)
		return s
	}
	s.paint(cardBox(f, w, h), card)
	if c.Curved {
		c.layBottle(s, f, paper, prints)
	} else {
		s.paint(box(f.blockX-0.3*f.size, f.blockY-0.3*f.size, f.blockW+0.3*f.size, f.blockH+0.3*f.size), paper)
		c.layChart(s, f, paper, prints)
	}
	c.layStrip(s, f, prints)
	c.laySoaked(s, f)
	c.layCardWhites(s, f)
	return s
}

// cardBox is the card under everything.
func cardBox(f frame, w, h float64) quad {
	x0, x1 := math.Min(f.blockX, f.stripX), math.Max(f.blockX+f.blockW, f.stripX+1.3*f.size)
	y0, y1 := math.Min(f.blockY, f.stripY), math.Max(f.blockY+f.blockH, f.stripY+float64(f.pads)*f.padPitch+2*f.size)
	if f.below {
		x1, y1 = math.Max(f.blockX+f.blockW, f.stripX+float64(f.pads)*f.padPitch+2*f.size), f.stripY+1.3*f.size
	}
	m := 1.25 * f.size
	x0, y0, x1, y1 = math.Max(x0-m, 0.02*w), math.Max(y0-m, 0.02*h), math.Min(x1+m, 0.98*w), math.Min(y1+m, 0.98*h)
	return box(x0, y0, x1-x0, y1-y0)
}

// layChart prints the flat chart: a row for each analyte's part.
func (c *Config) layChart(s *sheet, f frame, paper material, prints []scalePrints) {
	row, papers := 0, c.Whites.Paper
	for i, p := range prints {
		a := &c.Chart.Analytes[i]
		for part, swatches := range p.swatches {
			y := f.blockY + float64(row)*(f.size+f.rowGap) + 0.2*f.rowGap
			for k := range swatches {
				x := f.blockX + float64(k)*f.pitch + 0.1*f.size
				q := box(x, y, f.size, f.size)
				s.paint(q, printed(&swatches[k], false))
				s.mark(q, charts.RoleSwatch, a.Name, part+1, a.Swatches[k].Value, "")
			}
			if papers > 0 {
				papers--
				s.mark(
					box(f.blockX+(0.2+0.6*float64(row%2))*f.blockW, y+f.size+0.1*f.rowGap, 1.2*f.size, 0.6*f.rowGap),
					charts.RoleWhite,
					"",
					0,
					0,
					"paper",
				)
			}
			row++
		}
	}
}

// printed is the look of a printed swatch: even, with a little mottle.
func printed(r *Spectrum, bottle bool) material {
	return material{spectrum: *r, rough: r.scaled(0.94), texture: texture{kind: fine, amount: 0.12}, bottle: bottle}
}

// layStrip lays the strip with its pads.
func (c *Config) layStrip(s *sheet, f frame, prints []scalePrints) {
	plastic := material{spectrum: c.Surfaces.Plastic, rough: c.Surfaces.Plastic.scaled(0.97), texture: texture{kind: fine, amount: 0.1}}
	length := float64(f.pads)*f.padPitch + 2*f.size
	s.paint(f.along(0, length, 0, 1.2*f.size), plastic)
	if c.Whites.Plastic > 0 {
		s.mark(f.along(length-1.3*f.size, length-0.5*f.size, 0.2*f.size, 0.8*f.size), charts.RoleWhite, "", 0, 0, "plastic")
	}
	boxes := f.padBoxes()
	for i, p := range prints {
		for part := range p.pads {
			c.layPad(s, boxes[len(s.pads)], i, part, &p)
		}
	}
}

// along is a box on the strip: from and to along it, side and width across.
func (f *frame) along(from, to, side, width float64) quad {
	if f.below {
		return box(f.stripX+from, f.stripY+side, to-from, width)
	}
	return box(f.stripX+side, f.stripY+from, width, to-from)
}

// padBoxes are the pads of the strip, in order.
func (f *frame) padBoxes() (out []quad) {
	for i := range f.pads {
		at := 0.25*f.size + float64(i)*f.padPitch
		out = append(out, f.along(at, at+f.size, 0.1*f.size, f.size))
	}
	return out
}

// layCardWhites marks white card around the chart and the strip.
func (c *Config) layCardWhites(s *sheet, f frame) {
	q := cardBox(f, float64(c.Width), float64(c.Height))
	x0, y0, x1, y1 := q[0].X, q[0].Y, q[2].X, q[2].Y
	m := 0.75 * f.size
	at := func(x, y float64) quad {
		return box(x0+0.2*f.size+x*(x1-x0-m-0.4*f.size), y0+0.15*f.size+y*(y1-y0-m-0.3*f.size), m, m)
	}
	places := []quad{at(0, 0), at(1, 1), at(1, 0), at(0, 1), at(0.5, 0), at(0.5, 1), at(0.25, 1), at(0.75, 0)}
	if f.below {
		places[6] = box(f.stripX-1.3*f.size, f.stripY+0.2*f.size, m, m)
	}
	d := newDice(c.Seed, streamSurface+100)
	if c.Whites.Card < 4 {
		d.Shuffle(len(places), func(i, j int) { places[i], places[j] = places[j], places[i] })
	}
	for i := range min(c.Whites.Card, len(places)) {
		s.mark(places[i], charts.RoleWhite, "", 0, 0, "card")
	}
}

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
