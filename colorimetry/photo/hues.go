package photo

import (
	"image"
	"math"

	"padband/colorimetry"
)

// Hues is how many hues a picture has.
type Hues int

// A picture has many hues, as photos of coloured things do; one, so that brightness
// alone gives a pixel's colour, as in sepia; or none, as a grey copy.
const (
	ManyHues Hues = iota
	OneHue
	NoHue
)

const (
	// colourful is the chroma in 8-bit codes of Cb or Cr that JPEG's rounding does not
	// reach: a grey picture is stored with none at all, and programs that convert one
	// are off by one code.
	colourful = 3.0
	// fewPixels is the number of pixels looked at that may pass colourful in a picture
	// without colour.
	fewPixels = 12
	// oneHueSpread is the spread of chroma in codes about that of the same brightness,
	// in a picture of one hue, and oneHueFar the distance that hardly a pixel has.
	oneHueSpread, oneHueFar = 1.2, 6.0
	oneHueStray             = 0.01 // share of pixels beyond oneHueFar
)

// Pixels looked at in a whole picture, and in one of which parts were decoded.
const (
	lookWhole = 60_000
	lookParts = 800
)

// Whole tells whether all of the photo was decoded.
func (p *Photo) Whole() bool { return p.want == nil }

// Hues looks at some thousands of pixels: those that samples of some regions take, or
// without a region those of the whole photo. They must have been decoded.
func (p *Photo) Hues(of ...colorimetry.Region) Hues {
	most, areas := lookParts, p.areasOf(of)
	if len(of) == 0 {
		most, areas = lookWhole, []image.Rectangle{image.Rect(0, 0, p.Facts.StoredWidth, p.Facts.StoredHeight)}
	}
	seen := p.chromas(areas, most)
	far := 0
	for _, c := range seen {
		if math.Abs(c.cb) > colourful || math.Abs(c.cr) > colourful {
			far++
		}
	}
	switch {
	case len(seen) == 0:
		return ManyHues
	case far < fewPixels:
		return NoHue
	case 2*far > len(seen) && oneHue(seen):
		return OneHue
	}
	return ManyHues
}

// chroma is a pixel's luma and chroma in 8-bit codes, by ITU-R BT.601.
type chroma struct{ y, cb, cr float64 }

// chromas reads at most so many pixels of areas of the stored picture.
func (p *Photo) chromas(areas []image.Rectangle, most int) (out []chroma) {
	all := 0
	for _, a := range areas {
		all += a.Dx() * a.Dy()
	}
	out = make([]chroma, 0, min(all, most))
	step := int(math.Ceil(math.Sqrt(float64(all) / float64(most))))
	for _, a := range areas {
		for y := a.Min.Y + step/2; y < a.Max.Y; y += step {
			for x := a.Min.X + step/2; x < a.Max.X; x += step {
				if q := p.read(x, y); q.a > 0 {
					out = append(out, chromaOf(q))
				}
			}
		}
	}
	return out
}

func chromaOf(q pixel) chroma {
	y := red601*q.r + (1-red601-blue601)*q.g + blue601*q.b
	return chroma{255 * y, 255 * (q.b - y) / (2 * (1 - blue601)), 255 * (q.r - y) / (2 * (1 - red601))}
}

// oneHue tells whether pixels of one brightness have one chroma, whatever the
// brightness. Where a channel is cut off chroma changes fast, so the steps are small.
func oneHue(seen []chroma) bool {
	const bins, width = 64, 4
	var sum [bins]chroma
	var n [bins]float64
	bin := func(c chroma) int { return max(0, min(bins-1, int(c.y/width))) }
	for _, c := range seen {
		k := bin(c)
		sum[k].cb, sum[k].cr, n[k] = sum[k].cb+c.cb, sum[k].cr+c.cr, n[k]+1
	}
	spread, stray := 0.0, 0.0
	for _, c := range seen {
		k := bin(c)
		d := sq(c.cb-sum[k].cb/n[k]) + sq(c.cr-sum[k].cr/n[k])
		spread += d
		if d > sq(oneHueFar) {
			stray++
		}
	}
	all := float64(len(seen))
	return math.Sqrt(spread/all/2) < oneHueSpread && stray < oneHueStray*all
}
