package colorimetry

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var spaces = []RGBSpace{SRGB, DisplayP3, AdobeRGB}

func TestTransferOfEvery8BitCode(t *testing.T) {
	for _, r := range table(t, "srgb_transfer_8bit", 256) {
		code := r.num("code") / 255
		linear := SRGB.Decode(code)
		near(t, r.num("linear"), linear, 1e-12, "%s", r.name)
		near(t, code, SRGB.Encode(linear), 1e-7, "%s and back", r.name)
		near(t, r.num("L_star"), D50.Scale(linear).Lab(D50).L, 1e-9, "L* of %s", r.name)
	}
}

// The transfer functions keep the sign and clip nothing: a power of a
// negative number would be NaN.
func TestTransferOfNegativeAndOverfullValues(t *testing.T) {
	for _, s := range spaces {
		for _, v := range []float64{1e-4, 0.01, 0.03, 0.5, 1, 1.5} {
			near(t, -s.Decode(v), s.Decode(-v), 0, "%s decode of -%v", s.Name, v)
			near(t, -s.Encode(v), s.Encode(-v), 0, "%s encode of -%v", s.Name, v)
			near(t, v, s.Encode(s.Decode(v)), 1e-7, "%s %v and back", s.Name, v)
		}
		assert.Greater(t, s.Decode(1.5), 1.5, s.Name)
		assert.True(t, math.IsNaN(s.Decode(math.NaN())) && math.IsNaN(s.Encode(math.NaN())), s.Name)
	}
}

func TestSRGBAndDisplayP3GiveTheSameAsAnotherLibrary(t *testing.T) {
	by := map[string]RGBSpace{"srgb": SRGB, "display-p3": DisplayP3}
	for _, r := range table(t, "srgb_p3_lab_crosscheck", 126) {
		space, ok := by[r.fields["space"]]
		require.True(t, ok, r.fields["space"])
		code := RGB{r.num("r") / 255, r.num("g") / 255, r.num("b") / 255}
		c := space.XYZ(code)
		nearXYZ(t, r.xyz("X50", "Y50", "Z50"), c, 1e-8, r.name)
		nearLab(t, r.lab("L_d50", "a_d50", "b_d50"), c.Lab(D50), 1e-8, r.name)
		at65 := space.Native.Apply(XYZ{space.Decode(code.R), space.Decode(code.G), space.Decode(code.B)})
		nearXYZ(t, r.xyz("X65", "Y65", "Z65"), at65, 1e-8, r.name)
		nearLab(t, r.lab("L_d65", "a_d65", "b_d65"), at65.Lab(D65), 1e-8, r.name)
		back := space.RGB(c)
		for _, d := range []float64{back.R - code.R, back.G - code.G, back.B - code.B} {
			near(t, 0, d, 1e-7, "%s and back", r.name)
		}
	}
}

func TestDisplayP3GivesThePublishedSamples(t *testing.T) {
	for _, r := range table(t, "display_p3_lab_css_samples", 27) {
		lab := DisplayP3.XYZ(RGB{r.num("r"), r.num("g"), r.num("b")}).Lab(D50)
		nearLab(t, r.lab("L", "a", "b_lab"), lab, 0.03, r.name)
		nearLab(t, r.lab("Lm", "am", "bm"), lab, 1e-6, r.name)
	}
}

func TestLabRoundsToThePublishedHexCodes(t *testing.T) {
	for _, r := range table(t, "css_lab_to_hex", 3) {
		c := SRGB.RGB(r.lab("L", "a", "b").XYZ(D50))
		near(t, r.num("r255"), c.R*255, 1e-5, "r of %s", r.name)
		hex := fmt.Sprintf("#%02x%02x%02x", int(math.Round(c.R*255)), int(math.Round(c.G*255)), int(math.Round(c.B*255)))
		assert.Equal(t, r.fields["hex"], hex, r.name)
	}
}

// A grey of any space stays grey: another white, another D50 or a left-out
// adaptation would tint it.
func TestGreysHaveNoTint(t *testing.T) {
	for _, s := range spaces {
		for code := range 256 {
			v := float64(code) / 255
			lab := s.XYZ(RGB{v, v, v}).Lab(D50)
			near(t, 0, lab.A, 1e-9, "a of grey %d in %s", code, s.Name)
			near(t, 0, lab.B, 1e-9, "b of grey %d in %s", code, s.Name)
		}
		nearXYZ(t, D50, s.XYZ(RGB{1, 1, 1}), 1e-14, "white of "+s.Name)
	}
}

// #7654CD is lab(44.36 36.05 -58.99), an example of W3C CSS Color 4.
func TestAPublishedColourAgainstD50(t *testing.T) {
	lab := SRGB.XYZ(RGB{0x76 / 255.0, 0x54 / 255.0, 0xCD / 255.0}).Lab(D50)
	nearLab(t, Lab{44.36, 36.05, -58.99}, lab, 0.006, "#7654CD")
}

// Adobe RGB (1998) Color Image Encoding, 4.3.4.2: the exponent is 2.19921875.
// From memory.
func TestAdobeRGBExponent(t *testing.T) {
	near(t, math.Exp(2.19921875*math.Log(0.5)), AdobeRGB.Decode(0.5), 1e-15, "half")
}

// Adobe RGB (1998) Color Image Encoding, version 2005-05, 4.3.5.3: the matrix
// to XYZ at D65 in five decimals. From memory.
func TestAdobeRGBMatrixAsPrinted(t *testing.T) {
	printed := Matrix3{{0.57667, 0.18556, 0.18823}, {0.29734, 0.62736, 0.07529}, {0.02703, 0.07069, 0.99134}}
	for i := range 3 {
		for j := range 3 {
			near(t, printed[i][j], AdobeRGB.Native[i][j], 6e-6, "row %d column %d", i, j)
		}
	}
}
