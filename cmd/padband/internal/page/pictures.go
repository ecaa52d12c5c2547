package page

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"io"
	"math"
	"strconv"

	"padband/cmd/padband/internal/hosted"
	"padband/colorimetry"
	"padband/colorimetry/patches"
	"padband/colorimetry/photo"
)

// These are the sizes of the pictures that are made for people.
const (
	previewPixels = 2_800_000 // at most
	previewWidth  = 1000      // at least, of a photo that is as wide
	widestPart    = 1200
	pictureGrade  = 90 // of JPEG
)

var errTooLarge = hosted.Failf(hosted.TooLarge, "the photo is over %d MB; send the photo as the phone made it", uploadBytes>>20)

// body reads a photo's bytes, as far as the cap allows.
func body(c hosted.Call) ([]byte, error) {
	var buf bytes.Buffer
	if n := c.Length; n > 0 && n <= 8<<20 {
		buf.Grow(int(n) + bytes.MinRead) // more only as it comes
	}
	_, err := io.Copy(&buf, hosted.AtMost(c.Body, uploadBytes))
	var large *hosted.TooLargeError
	switch {
	case errors.As(err, &large):
		return nil, errTooLarge
	case err != nil:
		return nil, hosted.Failf(hosted.BadRequest, "the photo did not arrive whole; send it again")
	case buf.Len() == 0:
		return nil, hosted.Failf(hosted.BadRequest, "the file is empty; copy it from the phone again")
	}
	return buf.Bytes(), nil
}

// shown is the picture in which the screen shows a whole photo.
type shown struct {
	jpeg          []byte
	width, height int
	picture       image.Image // what the JPEG was made of, no larger than outlines need; nil where none are looked for
}

// keep keeps a small picture to look for outlines in, or none.
func (v *shown) keep(looks bool) {
	if !looks {
		v.picture = nil
		return
	}
	v.picture = atMost(v.picture, v.width, v.height, foundPixels)
}

// glance reads a photo and makes the picture of it that is shown. whole is true when
// all pixels of the photo were decoded for that.
func glance(data []byte, l photo.Limits) (p *photo.Photo, out shown, whole bool, err error) {
	p, m, whole, err := photo.Glance(data, l, previewWidth)
	if err != nil {
		return nil, out, false, err
	}
	w, h := p.Width, p.Height
	if !whole { // and smaller already
		w, h = m.Bounds().Dx(), m.Bounds().Dy()
	}
	m = atMost(m, w, h, previewPixels)
	out.jpeg, err = asJPEG(m)
	out.width, out.height, out.picture = m.Bounds().Dx(), m.Bounds().Dy(), m
	return p, out, whole, err
}

// atMost scales the view of a photo of w by h pixels so that it has at most so many
// pixels.
func atMost(m image.Image, w, h, most int) image.Image {
	view, ok := m.(*image.RGBA)
	k := math.Sqrt(float64(most) / (float64(w) * float64(h)))
	if k >= 1 || !ok {
		return m
	}
	all := frame{0, 0, float64(m.Bounds().Dx()), float64(m.Bounds().Dy())}
	return scaled(view, all, max(1, int(float64(w)*k)), max(1, int(float64(h)*k)))
}

// view is an area of the photo as people see it.
func view(p *photo.Photo, area image.Rectangle) *image.RGBA {
	m, ok := p.Image(area).(*image.RGBA)
	if !ok {
		m = image.NewRGBA(image.Rect(0, 0, 1, 1)) // Image makes no other kind
	}
	return m
}

func asJPEG(m image.Image) ([]byte, error) {
	var out bytes.Buffer
	err := jpeg.Encode(&out, m, &jpeg.Options{Quality: pictureGrade})
	return out.Bytes(), err
}

func (s *Page) preview(_ context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.Picture(o.preview.jpeg)
}

// part is a piece of the photo at full detail.
func (s *Page) part(ctx context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	var v [5]float64
	for i, name := range []string{"x", "y", "w", "h", "to"} {
		f, err := strconv.ParseFloat(c.Query.Get(name), 64)
		if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
			return hosted.Refuse(hosted.Failf(hosted.BadRequest, "%s must be a number", name))
		}
		v[i] = f
	}
	leave, err := s.photos.enter(ctx, s.photos.drawings)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	p, err := o.whole()
	if err != nil {
		return hosted.Refuse(err)
	}
	data, err := cut(p, v[0], v[1], v[2], v[3], v[4])
	if err != nil {
		return hosted.Refuse(hosted.Fail(hosted.BadRequest, err))
	}
	return hosted.Picture(data)
}

// cut is the part of a photo that begins at (x, y) and has w by h pixels, in the width
// asked for.
func cut(p *photo.Photo, x, y, w, h, to float64) ([]byte, error) {
	x0, y0 := math.Max(0, x), math.Max(0, y)
	x1, y1 := math.Min(float64(p.Width), x+w), math.Min(float64(p.Height), y+h)
	if !(x1-x0 >= 1 && y1-y0 >= 1) {
		return nil, errors.New("this part lies outside the photo")
	}
	area := image.Rect(int(x0), int(y0), int(math.Ceil(x1)), int(math.Ceil(y1)))
	m := view(p, area)
	wide := math.Max(1, math.Min(widestPart, math.Floor(to)))
	high := math.Max(1, math.Min(4*widestPart, math.Round(wide*(y1-y0)/(x1-x0))))
	from := frame{x0 - float64(area.Min.X), y0 - float64(area.Min.Y), x1 - x0, y1 - y0}
	thin := float64(m.Rect.Dx()) / float64(area.Dx()) // under 1 when the view was thinned
	return asJPEG(scaled(m, frame{from.x * thin, from.y * thin, from.w * thin, from.h * thin}, int(wide), int(high)))
}

// edge proposes the outline of the patch at a place.
func (s *Page) edge(_ context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	var at struct{ X, Y float64 }
	if err := c.Take(&at); err != nil {
		return hosted.Refuse(err)
	}
	p, err := o.whole()
	if err != nil {
		return hosted.Refuse(err)
	}
	region, err := patches.At(p, colorimetry.Point{X: at.X, Y: at.Y})
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(map[string]any{"polygon": rounded(region.Outline())})
}

// tenth rounds to a tenth of a pixel, because files hold no finer figure.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }

func tenths(points []colorimetry.Point) (out []colorimetry.Point) {
	for _, p := range points {
		out = append(out, colorimetry.Point{X: tenth(p.X), Y: tenth(p.Y)})
	}
	return out
}

// rounded are an outline's points as the page gets them.
func rounded(points []colorimetry.Point) (out [][2]float64) {
	for _, p := range tenths(points) {
		out = append(out, [2]float64{p.X, p.Y})
	}
	return out
}

// opened finds the photo that a call names.
func (s *Page) opened(c hosted.Call) (*opened, error) {
	return s.shot(c.Value("id"))
}

// shot is the open photo of that id.
func (s *Page) shot(id string) (*opened, error) {
	o, ok := s.photos.find(id)
	if !ok {
		return nil, hosted.Failf(hosted.NotFound, "this photo is no longer open here; choose it again")
	}
	return o, nil
}
