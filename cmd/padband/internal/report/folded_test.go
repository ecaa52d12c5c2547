package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/cmd/padband/internal/report/reporttest"
	"padband/colorimetry"
)

func TestFoldedFigures(t *testing.T) {
	r := reporttest.Nitrate()
	r.Swatches = r.Swatches[2:4]
	r.Swatches[0].Label = "3 (low)"
	_, all := page(t, source(r), nil)
	var rows []string
	for _, n := range all {
		if n.Name == "tr" || n.Name == "dt" || n.Name == "dd" {
			rows = append(rows, reporttest.Flat(n.Text))
		}
	}
	assert.Equal(t, []string{
		"PatchL*a*b*ΔE", "pad71.231.0\u22124.1", "3 (low)87.06.00.06.1", "783.014.00.06.1",
		"Colour mismatch", "0.21",
		"White as recorded, colour temperature", "5210 K", "White as recorded, Duv", "0.0020",
		"Brightest light over darkest, at the patches", "1.08", "Colour profile", "Display P3",
	}, rows)
	assert.Equal(t, []string{"Figures", "Figures of the photo"}, summaries(all))
	assert.Contains(t, all[0].Text, "The pad is 1.9 (ΔE) from the nearest place of the chart's scale.")
}

func summaries(all []*reporttest.Node) (out []string) {
	for _, n := range all {
		if n.Name == "summary" {
			out = append(out, n.Text)
		}
	}
	return out
}

// Of several parts the colours stand part by part, the difference once.
func TestFoldedParts(t *testing.T) {
	r := reporttest.Nitrate()
	two := []colorimetry.Lab{{L: 80}, {L: 70}}
	r.Swatches[3].Lab = two
	assert.Equal(t, []colourRow{{"7, part 1", "80.0", "0.0", "0.0", "6.1"}, {"7, part 2", "70.0", "0.0", "0.0", ""}},
		newFigures(r).Colours[4:6])
}

// What is not known is left out.
func TestMissingLight(t *testing.T) {
	s := source(reporttest.Nitrate())
	s.Light.CCT, s.Light.Unevenness, s.Photo.Profile = math.NaN(), math.NaN(), ""
	assert.Empty(t, FiguresOf(s))
}
