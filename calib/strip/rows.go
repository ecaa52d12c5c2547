package strip

import (
	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// Row is an analyte's swatches as one photo shows them.
type Row struct {
	Placed charts.PlacedAnalyte
	Palest charts.Palest // which end is pale in this photo
	// Against is, in one sentence, how the row's colours contradict what the chart says
	// of its pale end; it is empty where they do not.
	Against string
}

// Rows says of every marked row which of its ends is pale, to be shown to a person and
// kept with the chart. The marks must be those of a reading. Without white no end can be
// said to be pale, and there are no rows.
func Rows(p *photo.Photo, chart charts.Chart, marks charts.Marks) ([]Row, error) {
	samples, placed, err := Samples(p, chart, marks)
	if err != nil || len(samples.Whites) == 0 {
		return nil, err
	}
	light := calib.FitLight(samples.Whites, samples.Width, samples.Height, colorimetry.XYZ{})
	var out []Row
	for i, pad := range samples.Pads {
		scale, err := calib.NewScale(pad, light)
		if err != nil {
			return nil, err
		}
		out = append(out, Row{placed.Pads[i], scale.Palest(), scale.Contradiction(pad)})
	}
	return out, nil
}
