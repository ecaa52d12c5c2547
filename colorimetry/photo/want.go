package photo

import (
	"image"
	"math"
	"slices"

	"padband/colorimetry"
)

// wanted is what of the photo is decoded: nil is all of it. Regions that break a
// rule stand for nothing.
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
	if p.want == nil || slices.ContainsFunc(p.want, func(w colorimetry.Region) bool { return w.Encloses(r) }) {
		return nil
	}
	least, most := r.Bounds()
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

// reach is how far from a region, in pixels, the centres of the pixels lie that its
// sample reads at most. Its edge is looked at on lines across it: outward, and in a
// thin region inward and out on the other side, up to [outward] times the side of a
// square of its area and a pixel; a pixel beside one another; the places on them
// lie up to 0.71 from their pixels' centres.
func reach(r colorimetry.Region) float64 { return outward*math.Sqrt(r.Area()) + 3 }
