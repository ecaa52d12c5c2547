package photo

import (
	"image"
	"math"
	"slices"

	"padband/colorimetry"
)

// wanted is the part of the photo that is decoded: nil is all of it. Regions that
// break a rule are ignored.
func wanted(regions []colorimetry.Region) []colorimetry.Region {
	if len(regions) == 0 {
		return nil
	}
	out := make([]colorimetry.Region, 0, len(regions))
	for _, r := range regions {
		if r.Check() == nil {
			r.Points = slices.Clone(r.Points)
			out = append(out, r)
		}
	}
	return out
}

// wants returns a [*NotWantedError] unless the region lies in one of those that
// the photo was decoded for.
func (p *Photo) wants(r colorimetry.Region) error {
	if p.want == nil {
		return nil
	}
	least, most := r.Bounds()
	for _, w := range p.want {
		a, b := w.Bounds()
		// To a pixel, for what rounding moves; the rest is asked of those that may.
		near := a.X <= least.X+1 && a.Y <= least.Y+1 && b.X >= most.X-1 && b.Y >= most.Y-1
		if near && w.Encloses(r) {
			return nil
		}
	}
	return &NotWantedError{MinX: least.X, MinY: least.Y, MaxX: most.X, MaxY: most.Y}
}

// Wants returns a [*NotWantedError] unless an area of pixels of the upright photo,
// cut to it, lies in one of the regions that [Decode] was asked for.
func (p *Photo) Wants(area image.Rectangle) error {
	area = area.Intersect(image.Rect(0, 0, p.Width, p.Height))
	if p.want == nil || area.Empty() {
		return nil
	}
	r, err := colorimetry.NewRect(float64(area.Min.X), float64(area.Min.Y), float64(area.Dx()), float64(area.Dy()))
	if err != nil {
		return err
	}
	return p.wants(r)
}

// reach is the distance from a region, in pixels, within which the centres of all
// pixels lie that its sample reads. The edge is looked at on lines across it. They go
// outward, and in a thin region inward and out on the other side, up to [outward]
// times the side of a square of its area and one pixel more; lines lie a pixel beside
// one another, and the places on them lie up to 0.71 from their pixels' centres.
func reach(r colorimetry.Region) float64 { return outward*math.Sqrt(r.Area()) + 3 }

// areas are the stored pixels that samples of what is wanted may take; nil is all of
// the photo.
func (p *Photo) areas() []image.Rectangle {
	if p.want == nil {
		return nil
	}
	return p.areasOf(p.want)
}

// areasOf are the stored pixels that samples of some regions may take.
func (p *Photo) areasOf(regions []colorimetry.Region) []image.Rectangle {
	out := make([]image.Rectangle, 0, len(regions))
	within := func(v float64, most int) int { return int(math.Max(0, math.Min(v, float64(most)))) }
	for _, r := range regions {
		least, most := r.Bounds()
		far := reach(r)
		x0, y0 := within(math.Floor(least.X-far), p.Width), within(math.Floor(least.Y-far), p.Height)
		x1, y1 := within(math.Ceil(most.X+far), p.Width), within(math.Ceil(most.Y+far), p.Height)
		if x0 < x1 && y0 < y1 {
			ax, ay := p.turn.stored(x0, y0)
			bx, by := p.turn.stored(x1-1, y1-1)
			out = append(out, image.Rect(min(ax, bx), min(ay, by), max(ax, bx)+1, max(ay, by)+1))
		}
	}
	return out
}
