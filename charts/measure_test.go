package charts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts/units"
)

func TestUndilutedAnalyte(t *testing.T) {
	d, err := units.ParseDilution("1+1")
	require.NoError(t, err)
	a := Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: KindScale, Swatches: []Swatch{{Value: 0}, {Value: 0.3}, {Value: 7, Label: "7 (6-9)"}}}
	u, err := a.Undiluted(d)
	require.NoError(t, err)
	assert.Equal(t, []Swatch{{Value: 0}, {Value: 0.6}, {Value: 14}}, u.Swatches)
	assert.Equal(t, 7.0, a.Swatches[2].Value, "the analyte itself stays")
	_, err = Analyte{Name: "pH", Unit: "pH"}.Undiluted(d)
	assert.EqualError(t, err, "pH is not divided by diluting; dip a strip in the water itself")
	_, err = Analyte{Name: "nitrite", Kind: KindPresence}.Undiluted(d)
	assert.EqualError(t, err, "nitrite is read as yes or no, which cannot be multiplied; dip a strip in the water itself")
}

func TestAnalyteInAnotherUnit(t *testing.T) {
	a := Analyte{Name: "total hardness", Unit: "gr/gal", Kind: KindScale, Swatches: []Swatch{{Value: 0}, {Value: 10}}}
	b, err := a.In(units.Unit{Name: "mg/L", As: "CaCO3"})
	require.NoError(t, err)
	assert.InDelta(t, 171.18061, b.Swatches[1].Value, 1e-4, "ten grains, water_units.csv")
	assert.Equal(t, units.Unit{Name: "mg/L", As: "CaCO3"}, b.Measure())
	_, err = a.In(units.Unit{Name: "pH"})
	assert.Error(t, err)
}

// A strip's unit that nobody knows is taken as it is, and only as it is.
func TestUnknownUnitIsOnlyItself(t *testing.T) {
	u := Analyte{Name: "peroxide", Unit: "drops"}.Measure()
	f, err := units.Factor("peroxide", u, u)
	require.NoError(t, err)
	assert.Equal(t, 3.0, f.Of(3))
	_, err = units.Factor("peroxide", u, units.Unit{Name: "mg/L"})
	assert.EqualError(t, err, "peroxide cannot be converted from drops to mg/L; only units known here are converted")
}

// What a chart file asks an "as" of and what a conversion asks it of is one.
func TestExpressedIsOneList(t *testing.T) {
	for _, name := range append([]string{"iron", "pH", "silica", "sulfate", "copper"}, expressed...) {
		for _, unit := range []string{"mg/L", "ug/L", "ppm", "ppb", "g/m3", "°dH", "mmol/L", "gr/gal"} {
			a := Analyte{Name: name, Unit: unit, Kind: KindScale}
			_, lacks := a.Measure().LacksAs(name)
			assert.Equal(t, a.lacksAs(), lacks, "%s in %s", name, unit)
		}
	}
}
