package units

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// near fails for NaN as well.
func near(t *testing.T, want, got, tol float64, what string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, tol)
	}
}

// tableUnits are the table's units as one types them, with an analyte that is
// counted so.
var tableUnits = map[string][2]string{
	"grain_per_US_gallon":                               {"total hardness", "grains per US gallon"},
	"grain_per_imperial_gallon (Clark, English degree)": {"total hardness", "Clark degrees"},
	"German_degree_dH":                                  {"total hardness", "°dH"},
	"French_degree_fH":                                  {"total hardness", "°fH"},
	"mmol/L (Ca+Mg)":                                    {"total hardness", "mmol/L"},
	"meq/L":                                             {"total hardness", "meq/L"},
	"ppm (dilute water)":                                {"iron", "ppm"},
	"mg/L Ca":                                           {"total hardness", "mg/L as Ca"},
	"mg/L Mg":                                           {"total hardness", "mg/L as Mg"},
	"mg/L NO3-N":                                        {"nitrate", "mg/L NO3-N"},
	"mg/L NO2-N":                                        {"nitrite", "mg/L NO2-N"},
	"mg/L NH4-N":                                        {"ammonium", "mg/L NH4-N"},
	"mg/L NH3-N":                                        {"ammonia", "mg/L NH3-N"},
	"mg/L PO4-P":                                        {"phosphate", "mg/L PO4-P"},
	"mg/L SO4-S":                                        {"sulfate", "mg/L SO4-S"},
	"mg/L Si":                                           {"silica", "mg/L as Si"},
	"mg/L CaCO3 (alkalinity)":                           {"total alkalinity", "mg/L as CaCO3"},
}

// Every factor of the published table, both ways. Its factors are printed to
// six or seven figures, so they hold to 1e-6; the handbook figures beside them
// to 2e-4, for some are printed to four figures.
func TestFactorsAgainstTable(t *testing.T) {
	rows := published(t, "water_units.csv")
	require.Len(t, rows, 18)
	for _, row := range rows {
		from, known := tableUnits[row[0]]
		require.True(t, known, row[0])
		a, err := Parse(from[1])
		require.NoError(t, err)
		b, err := Parse(row[1])
		require.NoError(t, err)
		f, err := Factor(from[0], a, b)
		require.NoError(t, err, row[0])
		want := number(t, row[2])
		near(t, want, f.Of(1), 3e-6*want, row[0])
		handbook := number(t, row[3])
		near(t, handbook, f.Of(1), 2e-4*handbook, row[0]+", handbook")
		back, err := Factor(from[0], b, a)
		require.NoError(t, err)
		near(t, 1, back.Of(f.Of(1)), 1e-12, row[0]+" and back")
	}
}

// Thousands are exact: they decide whether a reading is at a limit.
func TestThousandsAreExact(t *testing.T) {
	mg, ug := Unit{Name: "mg/L"}, Unit{Name: "ug/L"}
	for _, v := range []float64{0.3, 0.05, 0.01, 0.005, 0.7, 1.3, 123.4} {
		up, err := Convert("iron", Quantity{v, mg}, ug)
		require.NoError(t, err)
		assert.Equal(t, strconv.FormatFloat(v*1000, 'g', 12, 64), strconv.FormatFloat(up.Value, 'g', -1, 64))
		down, err := Convert("iron", up, mg)
		require.NoError(t, err)
		assert.Equal(t, v, down.Value)
	}
}

func TestParseQuantity(t *testing.T) {
	for text, want := range map[string]string{
		"10 mg/L as N":                 "10 mg/L as N",
		"10 mg/l AS n":                 "10 mg/L as N",
		"50 mg/L NO3":                  "50 mg/L as NO3",
		"50 mg/L NO3-":                 "50 mg/L as NO3",
		"50 mg/L as NO₃⁻":              "50 mg/L as NO3",
		"0.3ppm":                       "0.3 ppm",
		".3 ppm":                       "0.3 ppm",
		"5 °dH":                        "5 °dH",
		"5 dH":                         "5 °dH",
		"5 deg dH":                     "5 °dH",
		"5 German degrees":             "5 °dH",
		"1 gr/gal":                     "1 gr/gal",
		"1 gpg as CaCO3":               "1 gr/gal",
		"7 grains per gallon":          "7 gr/gal",
		"10 µg/L":                      "10 ug/L",
		"10 μg/l as As":                "10 ug/L as As",
		"1.5 mmol/L":                   "1.5 mmol/L",
		"3 meq/L":                      "3 meq/L",
		"4 mg/L (as Cl2)":              "4 mg/L as Cl2",
		"20 g/m³ as calcium carbonate": "20 g/m3 as CaCO3",
		"7.2 pH":                       "7.2 pH",
		"pH 7.2":                       "7.2 pH",
		"2500 uS/cm":                   "2500 uS/cm",
		"0 mg/L as N":                  "0 mg/L as N",
	} {
		q, err := ParseQuantity(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, q.String(), text)
			again, err := ParseQuantity(q.String())
			require.NoError(t, err)
			assert.Equal(t, q, again)
		}
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                 `"" does not begin with a figure; write it such as 10 mg/L as N`,
		"ten mg/L":         `"ten mg/L" does not begin with a figure; write it such as 10 mg/L as N`,
		"-1 mg/L":          `"-1 mg/L" does not begin with a figure; write it such as 10 mg/L as N`,
		"10":               `"10" has no unit; write it such as 10 mg/L as N`,
		"0,3 mg/L":         `"0,3 mg/L" has a comma in its figure; write a point, and nothing between thousands`,
		"99999999999 mg/L": `"99999999999 mg/L" is beyond 1000000000; write it right`,
		"3 drops":          `"drops" is no unit known here; write one such as mg/L as N, ug/L, ppm, gr/gal, °dH, mmol/L or pH`,
		"3 mg/L as milk":   `"mg/L as milk" does not say what it is expressed as in a way known here; write it such as mg/L as N, as NO3 or as CaCO3`,
		"7 pH as N":        `"pH as N" is expressed as nothing; write pH alone`,
	} {
		_, err := ParseQuantity(text)
		if assert.Error(t, err, text) {
			assert.Equal(t, want, err.Error())
			assert.IsType(t, &Error{}, err)
		}
	}
}

func TestConvertRefuses(t *testing.T) {
	for _, c := range []struct{ analyte, from, to, want string }{
		{"nitrate", "mg/L", "mg/L as N", "nitrate in mg/L does not say what it is expressed as; write mg/L as N or NO3"},
		{"nitrate", "mg/L", "mg/L", "nitrate in mg/L does not say what it is expressed as; write mg/L as N or NO3"},
		{"nitrate", "mg/L as N", "ppm", "nitrate in ppm does not say what it is expressed as; write ppm as N or NO3"},
		{"nitrate", "mg/L as NO2", "mg/L as N", "nitrate cannot be converted from mg/L as NO2 to mg/L as N; it is expressed as N or NO3"},
		{"nitrate", "mg/L as N", "°dH", "nitrate cannot be converted from mg/L as N to °dH; it is expressed as N or NO3"},
		{"pH", "pH", "mg/L", "pH cannot be converted from pH to mg/L; pH is a scale of its own"},
		{"conductivity", "uS/cm", "mg/L", "conductivity cannot be converted from uS/cm to mg/L; nothing is known here of how it is expressed"},
		{"iron", "mg/L", "mmol/L", "iron cannot be converted from mg/L to mmol/L; these two measure different things of it"},
		{"total alkalinity", "mmol/L", "mg/L as CaCO3", "total alkalinity cannot be converted from mmol/L to mg/L as CaCO3; say of what a mole is, such as mmol/L as HCO3"},
		{"cyanuric acid", "mg/L", "mmol/L", "cyanuric acid cannot be converted from mg/L to mmol/L; nothing is known here of how it is expressed"},
	} {
		from, err := Parse(c.from)
		require.NoError(t, err)
		to, err := Parse(c.to)
		require.NoError(t, err)
		_, err = Convert(c.analyte, Quantity{1, from}, to)
		if assert.Error(t, err, "%s %s", c.analyte, c.from) {
			assert.Equal(t, c.want, err.Error())
		}
	}
}

// The list of units that people see reads back as itself.
func TestUnitsReadBack(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range All() {
		assert.NotEmpty(t, n.Means)
		for _, w := range append([]string{n.Name}, n.Written...) {
			u, err := Parse(w)
			if assert.NoError(t, err, w) {
				assert.Equal(t, n.Name, u.Name, w)
			}
			assert.False(t, seen[w], "%s stands there twice", w)
			seen[w] = true
		}
	}
	assert.Contains(t, Unit{Name: "ppm"}.Note(), "mg/L")
	assert.Contains(t, Unit{Name: "ppb"}.Note(), "ug/L")
	assert.Empty(t, Unit{Name: "mg/L"}.Note())
}
