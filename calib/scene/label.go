package scene

import (
	"image"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// manner is how a label is written.
type manner int

const (
	plainly manner = iota
	centred        // about its place
	bold
)

// label is a printed text; at is the left end (or the middle) of its half height.
type label struct {
	text   string
	at     point
	size   float64 // pixels of a photo as wide as printedWidth
	manner manner
}

func (s *sheet) write(text string, at point, size float64, m manner) {
	s.labels = append(s.labels, label{text, at, size, m})
}

// textInk is how much of the light printed text leaves.
const textInk = 0.08

// drawLabels prints the labels onto the picture.
func (c *Config) drawLabels(p *picture, s *sheet, view, back *perspective) error {
	for _, l := range s.labels {
		mask, err := l.mask(float64(c.Width) / printedWidth)
		if err != nil {
			return err
		}
		size := mask.Bounds().Size()
		x, y := l.at.X, l.at.Y-float64(size.Y)/2
		if l.manner == centred {
			x -= float64(size.X) / 2
		}
		area := box(x, y, float64(size.X), float64(size.Y))
		area.through(view).fill(c.Width, c.Height, func(row, x0, x1 int) {
			for k := x0; k < x1; k++ {
				at := back.Apply(point{X: float64(k) + 0.5, Y: float64(row) + 0.5})
				p.dim(row*c.Width+k, 1-(1-textInk)*covered(mask, at.X-x-0.5, at.Y-y-0.5))
			}
		})
	}
	return nil
}

// dim takes a pixel's light down to a share.
func (p *picture) dim(i int, share float64) {
	for ch := range p.plane {
		p.plane[ch][i] *= float32(share)
	}
}

// covered is the mask's value (0-1) at a place, interpolated.
func covered(mask *image.Alpha, x, y float64) float64 {
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	at := func(i, j int) float64 { return float64(mask.AlphaAt(i, j).A) / 255 }
	return (1-fy)*((1-fx)*at(i, j)+fx*at(i+1, j)) + fy*((1-fx)*at(i, j+1)+fx*at(i+1, j+1))
}

// mask draws the label's text.
func (l label) mask(scale float64) (*image.Alpha, error) {
	data := goregular.TTF
	if l.manner == bold {
		data = gobold.TTF
	}
	parsed, err := opentype.Parse(data)
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: l.size * scale, DPI: 72})
	if err != nil {
		return nil, err
	}
	height := face.Metrics().CapHeight
	out := image.NewAlpha(image.Rect(0, 0, font.MeasureString(face, l.text).Ceil()+2, 2*height.Ceil()))
	d := font.Drawer{Dst: out, Src: image.Opaque, Face: face, Dot: fixed.Point26_6{X: 64, Y: fixed.I(height.Ceil()) + height/2}}
	d.DrawString(l.text)
	return out, nil
}
