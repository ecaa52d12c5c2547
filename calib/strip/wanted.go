package strip

import (
	"slices"

	"padband/calib/strip/bare"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// wanted are the regions that the marks sample, and those where bare white is looked
// for. The decoder need not decode the rest; with no region it decodes all of the photo. Where the marks cannot be placed all is
// decoded too, so that a fault of the photo itself is told first, and the fault of the
// marks after it.
func (in Input) wanted() []colorimetry.Region {
	if in.Whole {
		return nil
	}
	width, height, err := photo.Size(in.Photo, in.Limits)
	if err != nil {
		return nil
	}
	placed, err := in.Marks.Place(in.Chart, width, height)
	if err != nil {
		return nil
	}
	return slices.Concat(regions(placed), bare.NewPlan(placed, width, height).Regions)
}

// regions are all that the marks sample.
func regions(placed charts.Placed) (out []colorimetry.Region) {
	take := func(marks []charts.Mark) {
		for _, m := range marks {
			out = append(out, m.Region)
		}
	}
	take(placed.Whites)
	take(placed.WetWhites)
	for _, a := range placed.Pads {
		take(a.Pad)
		for _, s := range a.Swatches {
			take(s)
		}
	}
	return out
}
