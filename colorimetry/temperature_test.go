package colorimetry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTemperatureOfTheCIELamps(t *testing.T) {
	for _, r := range table(t, "cct_cie_illuminants", 27) {
		kelvin, duv, ok := Chromaticity{r.num("x"), r.num("y")}.Temperature()
		assert.True(t, ok, r.name)
		near(t, r.num("CCT_published_K"), kelvin, r.num("tol_K"), "%s", r.name)
		near(t, r.num("CCT_exact_K"), kelvin, 0.1, "exact search, %s", r.name)
		near(t, r.num("Duv_exact"), duv, 6e-6, "duv of %s", r.name)
		uv := Chromaticity{r.num("x"), r.num("y")}.UV()
		near(t, r.num("u1960"), uv.U, 5.1e-7, "u of %s", r.name)
		near(t, r.num("v1960"), uv.V, 5.1e-7, "v of %s", r.name)
	}
}

func TestTemperatureAndDuvOfTheANSITargets(t *testing.T) {
	for _, r := range table(t, "cct_duv_ansi_c78_377", 18) {
		kelvin, duv, ok := Chromaticity{r.num("x"), r.num("y")}.Temperature()
		assert.True(t, ok, r.name)
		near(t, r.num("target_CCT_K"), kelvin, 3, "%s", r.name)
		near(t, r.num("target_Duv"), duv, 6e-5, "duv of %s", r.name)
	}
}

// The table's note: exact search at u, v = 0.1978, 0.3122 gives 6507.50 K and
// duv 0.003224; Ohno's table method differs by 0.03 K.
func TestTemperatureOfOhnosPoint(t *testing.T) {
	checked := 0
	for _, r := range table(t, "cct_algorithms", 19) {
		switch r.fields["method"] {
		case "Ohno2013":
			kelvin, duv, _ := UV{r.num("in1"), r.num("in2")}.Chromaticity().Temperature()
			if r.fields["output"] == "CCT" {
				near(t, r.num("value"), kelvin, 1, "%s", r.name)
			} else {
				near(t, r.num("value"), duv, 1e-5, "%s", r.name)
			}
		case "Planck_c2=1.4388e-2":
			p := Planckian(r.num("in1"))
			near(t, r.num("value"), map[string]float64{"u": p.U, "v": p.V}[r.fields["output"]], 2e-6, "%s", r.name)
		case "CIE_D_locus":
			c, ok := Daylight(r.num("in1"))
			assert.True(t, ok)
			near(t, r.num("value"), map[string]float64{"x": c.X, "y": c.Y}[r.fields["output"]], 1e-9, "%s", r.name)
		default: // closed approximations, which this program does not use
			continue
		}
		checked++
	}
	assert.Equal(t, 12, checked, "rows checked")
}

func TestTheLociAreThePublishedOnes(t *testing.T) {
	daylight := 0
	for _, r := range table(t, "planckian_daylight_loci", 14) {
		kelvin := r.num("T_K")
		p := Planckian(kelvin)
		near(t, r.num("planck_u"), p.U, 2e-6, "u of %s", r.name)
		near(t, r.num("planck_v"), p.V, 2e-6, "v of %s", r.name)
		c := p.Chromaticity()
		near(t, r.num("planck_x"), c.X, 6e-6, "x of %s", r.name)
		near(t, r.num("planck_y"), c.Y, 6e-6, "y of %s", r.name)
		if r.fields["daylight_x"] != "" {
			d, ok := Daylight(kelvin)
			assert.True(t, ok)
			near(t, r.num("daylight_x"), d.X, 2e-6, "daylight x of %s", r.name)
			near(t, r.num("daylight_y"), d.Y, 2e-6, "daylight y of %s", r.name)
			daylight++
		}
	}
	assert.Equal(t, 9, daylight)
	for _, kelvin := range []float64{3999, 25001, math.NaN()} {
		_, ok := Daylight(kelvin)
		assert.False(t, ok, "%v K", kelvin)
	}
}

// Robertson's printed 5 decimals (the table's own tolerance is 5e-6, for sums
// by 1 nm, from 20 MK^-1 up) and 1.5e-6 more for sums by 5 nm.
func TestTheLocusIsRobertsons(t *testing.T) {
	for _, r := range table(t, "robertson1968_isotemperature", 31) {
		if mired := r.num("MK_reciprocal"); mired >= 20 {
			p := Planckian(1e6 / mired)
			near(t, r.num("u"), p.U, 6.5e-6, "u of %s", r.name)
			near(t, r.num("v"), p.V, 6.5e-6, "v of %s", r.name)
		}
	}
}

// A place set off from the locus along its normal has that temperature and
// that distance, over the whole range and on both sides.
func TestTemperatureFindsWhereAPlaceWasSetOff(t *testing.T) {
	for _, kelvin := range []float64{1000, 1234, 1700, 2856, 4000, 6504, 9000, 15000, 24000, 25000} {
		p, up, down := Planckian(kelvin), Planckian(kelvin*1.0001), Planckian(kelvin*0.9999)
		tu, tv := up.U-down.U, up.V-down.V
		length := math.Hypot(tu, tv)
		for _, duv := range []float64{-0.02, -0.003, 0, 0.003, 0.02} {
			sign := math.Copysign(1, -tu)
			q := UV{p.U + sign*tv/length*duv, p.V - sign*tu/length*duv}
			got, off, ok := q.Chromaticity().Temperature()
			assert.True(t, ok, "%v K %v", kelvin, duv)
			near(t, kelvin, got, kelvin*2e-5, "%v K %v", kelvin, duv)
			near(t, duv, off, 1e-8, "duv of %v K %v", kelvin, duv)
		}
	}
}

func TestNoTemperatureOffTheRange(t *testing.T) {
	nan := math.NaN()
	for _, c := range []Chromaticity{
		Planckian(960).Chromaticity(), Planckian(26000).Chromaticity(), Planckian(60000).Chromaticity(), Planckian(600).Chromaticity(),
		{0.2, 0.7}, {0.17, 0.005}, {0.7, 0.3}, {nan, 0.3}, {0.3, nan}, {math.Inf(1), 0.3}, XYZ{}.Chromaticity(),
	} {
		kelvin, duv, ok := c.Temperature()
		assert.False(t, ok, "%v", c)
		assert.True(t, math.IsNaN(kelvin) && math.IsNaN(duv), "%v gave %v K, %v", c, kelvin, duv)
	}
}
