package scene

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// markedBare is a scene's marks with the pad of an analyte marked elsewhere on the
// strip: so many pads' sides further on, in so much of their size.
func markedBare(c Config, s Scene, analyte string, from int, on, size float64) (charts.Marks, error) {
	f, m := c.measure(), s.Marks
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	if err != nil {
		return m, err
	}
	q := f.padBoxes()[from]
	for i := range q {
		if f.below {
			q[i].X += on * f.size
		} else {
			q[i].Y += on * f.size
		}
	}
	q = q.inset(1 - size).through(&view)
	m.Regions = slices.Clone(m.Regions)
	for i, r := range m.Regions {
		if r.Role == charts.RolePad && r.Analyte == analyte {
			m.Regions[i].Region = colorimetry.Region{Shape: colorimetry.Polygon, Points: q[:]}
		}
	}
	return m, nil
}

// clearly tells whether a pad's reading is clear, and whether it is said that nothing
// tells the pad from the strip.
func clearly(t *testing.T, p *photo.Photo, s Scene, m charts.Marks, pad int) (clear, unseen bool) {
	t.Helper()
	samples, _, err := strip.Samples(p, s.Chart, m)
	require.NoError(t, err)
	_, rs, err := calib.Read(samples)
	require.NoError(t, err)
	r := rs[pad]
	return r.Reliability == calib.Good, slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodePadUnseen })
}

// TestMarksOnBareStrip: a pad that reads 0, marked where it lies, and marked between two
// pads or on the strip's handle. There it reads as nothing, and must seldom be clear.
func TestMarksOnBareStrip(t *testing.T) {
	pads, doubted, trusted, bare, clear := 0, 0, 0, 0, 0
	for seed := uint64(69_000_000); pads < manyOrFew(12); seed++ {
		c, err := Draw(seed, []Class{Good, Fair}[seed%2])
		if err != nil {
			continue
		}
		pad := slices.IndexFunc(c.Pads, func(p Pad) bool { return paleBy[p.Family] == charts.PalestLowest })
		if pad < 0 || c.Chart.Analytes[pad].Parts > 1 || c.Chart.Analytes[pad].Swatches[0].Value != 0 {
			continue
		}
		c.Pads[pad].Step = 0
		s, err := Render(c)
		if err != nil {
			continue
		}
		p, err := photo.Decode(s.Photo, photo.Limits{})
		require.NoError(t, err)
		pads++
		good, unseen := clearly(t, p, s, s.Marks, pad)
		add1(&doubted, unseen)
		add1(&trusted, good)
		for _, to := range []struct {
			from     int
			on, size float64
		}{{pad, 0.8, 0.5}, {len(c.Pads) - 1, 1.35, 0.74}} {
			m, err := markedBare(c, s, c.Chart.Analytes[pad].Name, to.from, to.on, to.size)
			require.NoError(t, err)
			is, _ := clearly(t, p, s, m, pad)
			bare++
			add1(&clear, is)
		}
	}
	t.Logf("of %d pads that read 0 %d are doubted, %d clear; of %d marks on bare strip %d are clear", pads, doubted, trusted, bare, clear)
	assert.Greater(t, trusted, pads/2)
	assert.LessOrEqual(t, doubted, 1+pads/25)
	assert.LessOrEqual(t, clear, 1+bare/4)
}
