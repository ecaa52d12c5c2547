package table

import (
	"strings"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// glyph is one letter for a text of height 1 (of capitals), on its base line.
type glyph struct {
	outlines []path
	wide     float64
}

// face is the letters of one font.
type face map[rune]glyph

// letters are all that is written.
const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,-/+%()"

var plain, bold = sync.OnceValue(func() face { return newFace(goregular.TTF) }), sync.OnceValue(func() face { return newFace(gobold.TTF) })

// newFace reads the outlines of a font that is part of the program, so that a
// fault of it is a fault of the program.
func newFace(ttf []byte) face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(err)
	}
	const em = 64
	const capital = 0.73 * em // height of a capital of the Go fonts, measured
	var buffer sfnt.Buffer
	out := face{}
	for _, r := range letters {
		at, err := f.GlyphIndex(&buffer, r)
		if err != nil {
			panic(err)
		}
		segments, err := f.LoadGlyph(&buffer, at, fixed.I(em), nil)
		if err != nil {
			panic(err)
		}
		g := outlined(segments, 1/capital)
		wide, err := f.GlyphAdvance(&buffer, at, fixed.I(em), 0)
		if err != nil {
			panic(err)
		}
		g.wide = float64(wide) / 64 / capital
		out[r] = g
	}
	return out
}

// outlined turns the segments of a letter into straight sides.
func outlined(segments sfnt.Segments, scale float64) (g glyph) {
	place := func(q fixed.Point26_6) point {
		return point{X: float64(q.X) / 64 * scale, Y: float64(q.Y) / 64 * scale}
	}
	for _, s := range segments {
		if s.Op == sfnt.SegmentOpMoveTo {
			g.outlines = append(g.outlines, path{place(s.Args[0])})
			continue
		}
		last := &g.outlines[len(g.outlines)-1]
		a := (*last)[len(*last)-1]
		if s.Op == sfnt.SegmentOpQuadTo {
			b, c := place(s.Args[0]), place(s.Args[1])
			for _, t := range []float64{1. / 3, 2. / 3} {
				u := 1 - t
				*last = append(*last, point{X: u*u*a.X + 2*u*t*b.X + t*t*c.X, Y: u*u*a.Y + 2*u*t*b.Y + t*t*c.Y})
			}
			*last = append(*last, c)
			continue
		}
		*last = append(*last, place(s.Args[0])) // TrueType has no cubic segments
	}
	return g
}

// width of a text of height 1.
func (f face) width(text string) (w float64) {
	for _, r := range text {
		w += f[r].wide
	}
	return w
}

// write returns the outlines of a text whose base line begins at x, y.
func (f face) write(text string, x, y, high float64) (all [][]path) {
	for _, r := range text {
		g := f[r]
		var shape []path
		for _, o := range g.outlines {
			moved := make(path, len(o))
			for i, q := range o {
				moved[i] = point{X: x + high*q.X, Y: y + high*q.Y}
			}
			shape = append(shape, moved)
		}
		if len(shape) > 0 {
			all = append(all, shape)
		}
		x += high * g.wide
	}
	return all
}

var syllables = []string{
	"ba", "do", "ke", "mi", "lu", "ran", "tes", "vor", "sil", "pan", "que", "nor", "fel", "gra", "hu", "ost",
	"ri", "ma", "ten", "col", "ya", "zem", "pir", "ul", "ca",
}

// word invents a word.
func (d dice) word() string {
	out := ""
	for range d.one(1, 4) {
		out += pick(d, syllables)
	}
	return out
}

// words invents n words, the first with a capital.
func (d dice) words(n int) string {
	var all []string
	for range n {
		all = append(all, d.word())
	}
	all[0] = strings.ToUpper(all[0][:1]) + all[0][1:]
	return strings.Join(all, " ")
}
