package page

import (
	"image"
	"math"

	"github.com/disintegration/imaging"
)

// frame is a part of a picture, in its pixels.
type frame struct{ x, y, w, h float64 }

// scaled is part of an opaque picture made so large. Made smaller, each pixel is
// a mean of those about its place, the nearest counting most, the part taken to
// whole pixels; made larger, the photo's own pixels are shown where they are, to
// half a pixel of what comes out, and none invented.
func scaled(m *image.RGBA, part frame, width, height int) *image.RGBA {
	x, y := along(part.x, part.w, m.Rect.Dx(), width), along(part.y, part.h, m.Rect.Dy(), height)
	out := straight(m.SubImage(image.Rect(x.from, y.from, x.to, y.to).Add(m.Rect.Min)).(*image.RGBA))
	// First what gets fewer, so that no more is held than comes and goes.
	out = imaging.Resize(out, min(x.to-x.from, x.size), min(y.to-y.from, y.size), imaging.Linear)
	if wanted := image.Pt(x.size, y.size); out.Rect.Size() != wanted {
		out = imaging.Resize(out, wanted.X, wanted.Y, imaging.NearestNeighbor)
	}
	if shown := image.Rect(x.first, y.first, x.first+width, y.first+height); shown != out.Rect {
		out = imaging.Crop(out, shown)
	}
	return premultiplied(out)
}

// way is how one axis of a picture is scaled: the pixels from one to before
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

// straight and premultiplied are one opaque picture in the two ways that Go has
// for transparency, which then are the same bytes.
func straight(m *image.RGBA) *image.NRGBA {
	return &image.NRGBA{Pix: m.Pix, Stride: m.Stride, Rect: image.Rectangle{Max: m.Rect.Size()}}
}

func premultiplied(m *image.NRGBA) *image.RGBA {
	return &image.RGBA{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
}
