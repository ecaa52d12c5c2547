package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The worth of every unit of the list in another of its measure. Prefixes and
// the cubic metre of 1000 litres: SI brochure, 9th edition, tables 7 and 8 (milli
// a thousandth, micro a millionth); ppm and ppb are taken as mg/L and ug/L.
func TestPrefixesOfTheSI(t *testing.T) {
	for _, c := range []struct {
		analyte, one, other string
		worth               float64
	}{
		{"iron", "g/L", "mg/L", 1000},
		{"iron", "mg/L", "ug/L", 1000},
		{"iron", "g/m3", "mg/L", 1},
		{"iron", "ppm", "mg/L", 1},
		{"iron", "ppm", "ppb", 1000},
		{"iron", "ppb", "ug/L", 1},
		{"total hardness", "mmol/L", "umol/L", 1000},
		{"total hardness", "mol/m3", "mmol/L", 1},
		{"total hardness", "mol/m3", "umol/L", 1000},
		{"conductivity", "mS/cm", "uS/cm", 1000},
	} {
		one, err := Parse(c.one)
		require.NoError(t, err)
		other, err := Parse(c.other)
		require.NoError(t, err)
		f, err := Factor(c.analyte, one, other)
		require.NoError(t, err, c)
		near(t, c.worth, f.Of(1), 1e-12*c.worth, c.one+" in "+c.other)
		back, err := Factor(c.analyte, other, one)
		require.NoError(t, err, c)
		near(t, 1/c.worth, back.Of(1), 1e-12, c.other+" in "+c.one)
	}
}

// A figure that says what it is expressed as is in one with a figure that does
// not need to: a pad for lead in mg/L meets a limit in ug/L as Pb.
func TestSaidAndUnderstoodAreOne(t *testing.T) {
	for analyte, as := range map[string]string{"lead": "Pb", "iron": "Fe", "cadmium": "Cd", "sulfate": "SO4", "silica": "SiO2"} {
		f, err := Factor(analyte, Unit{Name: "mg/L"}, Unit{Name: "ug/L", As: as})
		if err != nil {
			t.Errorf("%s: %v", analyte, err)
			continue
		}
		near(t, 1000, f.Of(1), 1e-9, analyte)
	}
}

// Alkalinity is counted as hardness is: the table's degrees are of both, for one
// CaO, one CaCO3 and two HCO3 take up the same acid. 1 mg/L as CaCO3 is 1.219
// mg/L as HCO3 (2 x 61.017 / 100.087, IUPAC 2021 weights).
func TestAlkalinityInDegrees(t *testing.T) {
	caco3 := Unit{Name: "mg/L", As: "CaCO3"}
	for _, c := range []struct {
		from Unit
		want float64
	}{{Unit{Name: "°dH"}, 17.848}, {Unit{Name: "°fH"}, 10}, {Unit{Name: "°e"}, 14.254}, {Unit{Name: "mg/L", As: "HCO3"}, 1 / 1.21928}} {
		for _, analyte := range []string{"total alkalinity", "carbonate hardness"} {
			f, err := Factor(analyte, c.from, caco3)
			if err != nil {
				t.Errorf("%s in %v: %v", analyte, c.from, err)
				continue
			}
			near(t, c.want, f.Of(1), 2e-4*c.want, analyte+" in "+c.from.String())
		}
	}
}
