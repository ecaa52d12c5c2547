package baseline

import (
	"image"
	"slices"
)

// equalTo tells whether a picture has the samples of one that image/jpeg decoded,
// in every MCU that an area touches and in no other. No areas are the whole.
func equalTo(p *Picture, m image.Image, areas []image.Rectangle) bool {
	if p.Bounds() != m.Bounds() {
		return false
	}
	w, h := 1<<p.right, 1<<p.down
	for y := 0; y < p.Height; y += h {
		for x := 0; x < p.Width; x += w {
			mcu := image.Rect(x, y, x+w, y+h).Intersect(p.Bounds())
			touched := areas == nil || slices.ContainsFunc(areas, mcu.Overlaps)
			if touched != p.Has(x, y) || touched && !equalIn(p, m, mcu) {
				return false
			}
		}
	}
	return true
}

func equalIn(p *Picture, m image.Image, area image.Rectangle) bool {
	grey, _ := m.(*image.Gray)
	full, _ := m.(*image.YCbCr)
	if p.Grey != (grey != nil) || p.Grey == (full != nil) {
		return false
	}
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			luma, cb, cr := p.Samples(x, y)
			if p.Grey && luma != grey.Pix[grey.PixOffset(x, y)] {
				return false
			}
			if p.Grey {
				continue
			}
			k := full.COffset(x, y)
			if luma != full.Y[full.YOffset(x, y)] || cb != full.Cb[k] || cr != full.Cr[k] {
				return false
			}
		}
	}
	return true
}
