package baseline

import (
	"bytes"
	"image"
)

// equalTo tells whether two pictures are of one kind and equal in every sample.
func equalTo(a, b image.Image) bool {
	switch x := a.(type) {
	case *image.Gray:
		y, ok := b.(*image.Gray)
		return ok && x.Rect == y.Rect && planesEqual(x.Pix, x.Stride, y.Pix, y.Stride, x.Rect.Dx(), x.Rect.Dy())
	case *image.YCbCr:
		y, ok := b.(*image.YCbCr)
		if !ok || x.Rect != y.Rect || x.SubsampleRatio != y.SubsampleRatio {
			return false
		}
		last := x.Rect.Max.Sub(image.Pt(1, 1))
		at := x.COffset(last.X, last.Y)
		w, h := at%x.CStride+1, at/x.CStride+1
		return planesEqual(x.Y, x.YStride, y.Y, y.YStride, x.Rect.Dx(), x.Rect.Dy()) &&
			planesEqual(x.Cb, x.CStride, y.Cb, y.CStride, w, h) && planesEqual(x.Cr, x.CStride, y.Cr, y.CStride, w, h)
	}
	return false
}

func planesEqual(a []byte, strideA int, b []byte, strideB, w, h int) bool {
	for y := range h {
		if !bytes.Equal(a[y*strideA:][:w], b[y*strideB:][:w]) {
			return false
		}
	}
	return true
}
