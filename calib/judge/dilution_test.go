package judge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts/units"
)

func dilution(t *testing.T, text string) units.Dilution {
	t.Helper()
	d, err := units.ParseDilution(text)
	require.NoError(t, err)
	return d
}

func TestUndilutedMultipliesValueAndBands(t *testing.T) {
	r := readingAt(nitrate(0.5), 3.3, 0.2)
	u, err := r.Undiluted(dilution(t, "1+1"))
	require.NoError(t, err)
	for _, c := range [][2]float64{
		{r.Value, u.Value}, {r.Band.Low.Value, u.Band.Low.Value}, {r.Band.High.Value, u.Band.High.Value},
		{r.WaterBand.Low.Value, u.WaterBand.Low.Value}, {r.WaterBand.High.Value, u.WaterBand.High.Value},
		{r.Bracket[0], u.Bracket[0]}, {r.Swatches[5].Value, u.Swatches[5].Value},
	} {
		within(t, 2*c[0], c[1], 1e-9, "twice")
	}
	assert.Equal(t, 7.0, r.Swatches[3].Value, "the pad's own reading stays")
	// Judged as the water itself: 20 against the limit is the pad's 10.
	l := given(t, "nitrate 20 mg/L as N", r.Analyte)
	pad := Judge(r, given(t, "nitrate 10 mg/L as N", r.Analyte), 0)
	within(t, pad.Probability, Judge(u, l, 0).Probability, 1e-12, "probability")
	_, err = readingAt(phAnalyte(), 2, 0.2).Undiluted(dilution(t, "1+1"))
	assert.EqualError(t, err, "pH is not divided by diluting; dip a strip in the water itself")
}

// Errors that multiply add as squares of their relative sizes (JCGM 100:2008,
// 5.1.6): here 10 % of the measuring and what the pad at 10 mg/L has.
func TestPipettingErrorWidensTheWaterBand(t *testing.T) {
	r := readingAt(evenNitrate(0.5), 5, 0.2)
	plain, err := r.Undiluted(dilution(t, "1+1"))
	require.NoError(t, err)
	wide, err := r.Undiluted(dilution(t, "1+1, 10 %"))
	require.NoError(t, err)
	assert.Equal(t, plain.Band, wide.Band, "the colour is read as well as before")
	half := func(b calib.Band) float64 { return (b.High.Value - b.Low.Value) / 2 / wide.Value }
	within(t, math.Hypot(half(plain.WaterBand), 0.10), half(wide.WaterBand), 0.003, "relative half width")
}

func TestCheckDilution(t *testing.T) {
	a := evenNitrate(0.5) // up to 20 in steps of 2
	at := func(step float64, d string) calib.Reading {
		u, err := readingAt(a, step, 0.15).Undiluted(dilution(t, d))
		require.NoError(t, err)
		return u
	}
	top := readingAt(a, 10.5, 0.15)
	_, wrong := CheckDilution(top, at(6, "1+1"))
	assert.False(t, wrong, "at least 20, and 24")
	_, wrong = CheckDilution(readingAt(a, 8, 0.15), at(4, "1+1"))
	assert.False(t, wrong, "16 and 16")
	w, wrong := CheckDilution(top, at(2, "1+1"))
	require.True(t, wrong, "at least 20, and 8")
	assert.Equal(t, calib.CodeDilutionDisagrees, w.Code)
	assert.Contains(t, w.Text(), "there is less nitrate")
	w, wrong = CheckDilution(readingAt(a, 3, 0.15), at(6, "1+1"))
	require.True(t, wrong, "6 and 24")
	assert.Contains(t, w.Text(), "there is more nitrate")
	w, wrong = CheckDilution(top, at(10.5, "1+1"))
	require.True(t, wrong)
	assert.Equal(t, calib.CodeDilutionAtTop, w.Code)
}
