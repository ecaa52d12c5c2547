package page

import (
	"image"
	"math"

	"github.com/disintegration/imaging"
)

// frame is a part of a picture, in the picture's pixels.
type frame struct{ x, y, w, h float64 }

// scaled is a part of an opaque picture, scaled to a size. When it is made smaller,
// each pixel is a mean of those about its place, of which the nearest count most, and
// the part is taken to whole pixels. When it is made larger, the photo's own pixels
// are shown where they are, to half a pixel of the result, and none are invented.
func scaled(m *image.RGBA, part frame, width, height int) *image.RGBA {
	x, y := along(part.x, part.w, m.Rect.Dx(), width), along(part.y, part.h, m.Rect.Dy(), height)
	out := straight(m.SubImage(image.Rect(x.from, y.from, x.to, y.to).Add(m.Rect.Min)).(*image.RGBA))
	// An axis that gets fewer pixels is scaled first, so that memory holds no more
	// than what comes in and goes out.
	out = imaging.Resize(out, min(x.to-x.from, x.size), min(y.to-y.from, y.size), imaging.Linear)
	if wanted := image.Pt(x.size, y.size); out.Rect.Size() != wanted {
		out = imaging.Resize(out, wanted.X, wanted.Y, imaging.NearestNeighbor)
	}
	if shown := image.Rect(x.first, y.first, x.first+width, y.first+height); shown != out.Rect {
		out = imaging.Crop(out, shown)
	}
	return premultiplied(out)
}

// way says how one axis of a picture is scaled: the pixels from one place up to
// another become so many, and those from first on are shown.
type way struct{ from, to, size, first int }

// along scales a length that begins at a place of an axis to n pixels. The axis
// has room pixels, at least one.
func along(at, length float64, room, n int) way {
	from := min(int(math.Round(at)), room-1)
	to := min(max(from+1, int(math.Round(at+length))), room)
	if n <= to-from {
		return way{from, to, n, 0}
	}
	from, to = min(int(at), room-1), min(int(math.Ceil(at+length)), room) // all pixels it touches
	k := float64(n) / length
	made := max(n, int(math.Round(float64(to-from)*k)))
	return way{from, to, made, min(int(math.Round((at-float64(from))*k)), made-n)}
}

// straight and premultiplied give the same opaque picture in the two ways in which Go
// holds transparency. Without transparency both have the same bytes.
func straight(m *image.RGBA) *image.NRGBA {
	return &image.NRGBA{Pix: m.Pix, Stride: m.Stride, Rect: image.Rectangle{Max: m.Rect.Size()}}
}

func premultiplied(m *image.NRGBA) *image.RGBA {
	return &image.RGBA{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
}
