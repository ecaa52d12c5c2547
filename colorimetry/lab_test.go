package colorimetry

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLabGivesThePublishedValuesBothWays(t *testing.T) {
	for _, r := range table(t, "xyz_lab", 12) {
		c, white, lab := r.xyz("X", "Y", "Z"), r.xyz("Xn", "Yn", "Zn"), r.lab("L", "a", "b")
		nearLab(t, lab, c.Lab(white), 1e-7, r.name)
		nearXYZ(t, c, lab.XYZ(white), 1e-7, r.name)
	}
}

// CIE 15:2004, 8.2.1.1: below 216/24389 L* = 24389/27 Y, a straight line; it
// goes on through zero, as the cube root's slope there would not.
func TestNegativeComponentsStayOnTheStraightLine(t *testing.T) {
	small := XYZ{0.2, 0.2, -0.01}
	lab := small.Lab(D50)
	assert.True(t, lab.Finite(), "a small negative Z gives %v", lab)
	near(t, 200*(math.Cbrt(0.2)-(24389.0/27*(-0.01/D50.Z)+16)/116), lab.B, 1e-9, "b of a negative Z")
	nearXYZ(t, small, lab.XYZ(D50), 1e-14, "and back")

	dark := XYZ{-0.01 * D50.X, -0.01, -0.01 * D50.Z}
	nearLab(t, Lab{-0.01 * 24389 / 27, 0, 0}, dark.Lab(D50), 1e-9, "linear -0.01")
	nearXYZ(t, dark, dark.Lab(D50).XYZ(D50), 1e-14, "and back")
}

func TestNaNIsFound(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []XYZ{{nan, 0.5, 0.5}, {0.5, nan, 0.5}, {0.5, 0.5, nan}, {inf, 0.5, 0.5}, {0.5, 0.5, -inf}} {
		assert.False(t, c.Finite(), "%v", c)
		assert.False(t, c.Lab(D50).Finite(), "Lab of %v", c)
	}
	for _, c := range []Lab{{nan, 0, 0}, {50, nan, 0}, {50, 0, nan}} {
		assert.False(t, c.Finite(), "%v", c)
		assert.False(t, c.XYZ(D50).Finite(), "XYZ of %v", c)
	}
	assert.False(t, XYZ{0.5, 0.5, 0.5}.Lab(XYZ{1, 0, 1}).Finite(), "a white with a zero")
	assert.True(t, XYZ{0.5, 0.5, 0.5}.Finite())
	assert.True(t, Lab{50, 1, 2}.Finite())
}

// The two sides of each other, over real and impossible colours.
func TestLabAndBackIsTheSameColour(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		c := XYZ{1.4*rnd.Float64() - 0.2, 1.4*rnd.Float64() - 0.2, 1.4*rnd.Float64() - 0.2}
		nearXYZ(t, c, c.Lab(D50).XYZ(D50), 1e-13, fmt.Sprint(c))
	}
}

func TestJacobianIsTheSlopeOfLab(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		c := XYZ{1.2*rnd.Float64() - 0.1, 1.2*rnd.Float64() - 0.1, 1.2*rnd.Float64() - 0.1}
		j := LabJacobian(c, D50)
		const h = 1e-6
		for k, step := range []XYZ{{h, 0, 0}, {0, h, 0}, {0, 0, h}} {
			up, down := c.Add(step).Lab(D50), c.Sub(step).Lab(D50)
			for i, slope := range []float64{(up.L - down.L) / (2 * h), (up.A - down.A) / (2 * h), (up.B - down.B) / (2 * h)} {
				near(t, slope, j[i][k], 1e-3+1e-4*math.Abs(slope), "row %d column %d at %v", i, k, c)
			}
		}
	}
}

// Definitions of CIE 15: the equal-energy point is x = y = 1/3, and that is
// u = 4/19, v = 6/19.
func TestChromaticityOfEqualEnergy(t *testing.T) {
	c := XYZ{0.7, 0.7, 0.7}.Chromaticity()
	near(t, 1.0/3, c.X, 1e-15, "x")
	near(t, 1.0/3, c.Y, 1e-15, "y")
	near(t, 4.0/19, c.UV().U, 1e-15, "u")
	near(t, 6.0/19, c.UV().V, 1e-15, "v")
	back := c.UV().Chromaticity()
	near(t, c.X, back.X, 1e-15, "x and back")
	near(t, c.Y, back.Y, 1e-15, "y and back")
	nearXYZ(t, XYZ{0.7, 0.7, 0.7}, c.XYZ(0.7), 1e-15, "XYZ and back")
	assert.False(t, XYZ{}.Chromaticity().Finite(), "black has no chromaticity")
}

func TestHueRunsFrom0To360(t *testing.T) {
	for _, c := range []struct {
		a, b, hue float64
	}{{1, 0, 0}, {0, 1, 90}, {-1, 0, 180}, {0, -1, 270}, {1, -1, 315}, {0, 0, 0}, {1, -1e-300, 0}} {
		_, hue := Lab{50, c.a, c.b}.LCh()
		near(t, c.hue, hue, 1e-12, "hue of %v, %v", c.a, c.b)
	}
	chroma, _ := Lab{50, 3, -4}.LCh()
	near(t, 5, chroma, 1e-15, "chroma")
}
