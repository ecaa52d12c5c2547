package charts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseDilution(t *testing.T) {
	for _, c := range []struct {
		text          string
		factor, error float64
		printed       string
	}{
		{"1+1", 2, 0, "1+1"}, {" 1 + 4 ", 5, 0, "1+4"}, {"2+1", 1.5, 0, "2+1"}, {"10+90, 3 %", 10, 0.03, "10+90, 3 %"},
		{"1+9 ±2.5%", 10, 0.025, "1+9, 2.5 %"}, {"0.5+0.5", 2, 0, "0.5+0.5"}, {"1+1 within 5 %", 2, 0.05, "1+1, 5 %"},
	} {
		d, err := ParseDilution(c.text)
		if assert.NoError(t, err, c.text) {
			near(t, c.factor, d.Factor(), 1e-12, c.text)
			near(t, c.error, d.Error, 1e-12, c.text)
			assert.Equal(t, c.printed, d.String())
		}
	}
	const advice = "; write parts of sample + parts of clean water, such as 1+1 or 1+4, 3 %"
	for text, want := range map[string]string{
		"":          `the dilution "" cannot be read` + advice,
		"1:1":       `the dilution "1:1" could be one part in so many or one part with so many` + advice,
		"2x":        `the dilution "2x" cannot be read` + advice,
		"0+1":       `the dilution "0+1" mixes nothing with something` + advice,
		"1+0":       `the dilution "1+0" mixes nothing with something` + advice,
		"1+1000":    `the dilution "1+1000" is over 1000 times` + advice,
		"1+1, 60 %": `the dilution "1+1, 60 %" is measured too badly to use` + advice,
		"1+-1":      `the dilution "1+-1" cannot be read` + advice,
	} {
		_, err := ParseDilution(text)
		assert.EqualError(t, err, want)
	}
}

func TestUndilutedAnalyte(t *testing.T) {
	d, err := ParseDilution("1+1")
	require.NoError(t, err)
	a := Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: KindScale, Swatches: []Swatch{{Value: 0}, {Value: 0.3}, {Value: 7, Label: "7 (6-9)"}}}
	u, err := d.Undiluted(a)
	require.NoError(t, err)
	assert.Equal(t, []Swatch{{Value: 0}, {Value: 0.6}, {Value: 14}}, u.Swatches)
	assert.Equal(t, 7.0, a.Swatches[2].Value, "the analyte itself stays")
	_, err = d.Undiluted(Analyte{Name: "pH", Unit: "pH"})
	assert.EqualError(t, err, "pH is not divided by diluting; dip a strip in the water itself")
	_, err = d.Undiluted(Analyte{Name: "nitrite", Kind: KindPresence})
	assert.EqualError(t, err, "nitrite is read as yes or no, which cannot be multiplied; dip a strip in the water itself")
}

func TestAnalyteInAnotherUnit(t *testing.T) {
	a := Analyte{Name: "total hardness", Unit: "gr/gal", Kind: KindScale, Swatches: []Swatch{{Value: 0}, {Value: 10}}}
	b, err := a.In(Unit{"mg/L", "CaCO3"})
	require.NoError(t, err)
	near(t, 171.18061, b.Swatches[1].Value, 1e-4, "ten grains, water_units.csv")
	assert.Equal(t, Unit{"mg/L", "CaCO3"}, b.Measure())
	_, err = a.In(Unit{Name: "pH"})
	assert.Error(t, err)
}
