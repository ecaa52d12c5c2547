package photo

import (
	"encoding/binary"
	"encoding/csv"
	"image"
	"image/color"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// exact is how far a colour through a profile may be from the exact transform, in CIELAB.
const exact = 0.03

// checkRows reads a table of published or independently computed values.
func checkRows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/checks/" + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 20)
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

func numbers(t *testing.T, s []string) colorimetry.Lab {
	t.Helper()
	return colorimetry.Lab{L: number(t, s[0]), A: number(t, s[1]), B: number(t, s[2])}
}

// Source: testdata/checks/srgb_p3_lab_crosscheck.csv, made with another
// program; its first lines say which.
func TestColourAgainstOtherProgram(t *testing.T) {
	spaces := map[string][]*profile.Transform{"srgb": {profile.SRGB()}, "p3": {profile.P3()}}
	for name, profiles := range map[string][][]byte{
		"srgb": {profileSRGB(), modularProfile([3]byte{2, 2, 2}, 2)},
		"p3":   {profileP3()},
	} {
		for _, data := range profiles {
			tr, err := profile.Open(data, false)
			require.NoError(t, err, name)
			spaces[name] = append(spaces[name], tr)
		}
	}
	for _, row := range checkRows(t, "srgb_p3_lab_crosscheck.csv") {
		want := numbers(t, row[11:14])
		for _, tr := range spaces[row[1]] {
			got := tr.XYZ(number(t, row[2])/255, number(t, row[3])/255, number(t, row[4])/255)
			near(t, want, got.Lab(colorimetry.D50), exact, strings.Join(row[1:5], " "))
		}
	}
}

// Source: testdata/checks/display_p3_lab_css_samples.csv, as published by the
// W3C with CSS Color 4; the codes are halves, which 16 bits hold to 8e-6.
func TestPublishedDisplayP3(t *testing.T) {
	rows := checkRows(t, "display_p3_lab_css_samples.csv")
	m := image.NewNRGBA64(image.Rect(0, 0, 20*len(rows), 20))
	for i, row := range rows {
		c := color.NRGBA64{code16(number(t, row[0])), code16(number(t, row[1])), code16(number(t, row[2])), 0xffff}
		fill(m, image.Rect(20*i, 0, 20*i+20, 20), c)
	}
	p := mustDecode(t, afterIHDR(pngOf(t, m), chunk("cICP", []byte{12, 13, 0, 1})))
	assert.Equal(t, 16, p.Facts.Depth)
	for i, row := range rows {
		s := mustSample(t, p, rect(t, float64(20*i), 0, 20, 20))
		near(t, numbers(t, row[3:6]), lab(s), exact, strings.Join(row[:3], " "))
	}
}

func code16(v float64) uint16 { return uint16(v*65535 + 0.5) }

// canvas is a picture that can be painted.
type canvas interface {
	image.Image
	Set(x, y int, c color.Color)
}

func fill(m canvas, r image.Rectangle, c color.Color) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			m.Set(x, y, c)
		}
	}
}

// twinColours are relative to D50 and inside sRGB: greys, pads, inks.
var twinColours = []colorimetry.Lab{
	{L: 92, A: 0, B: 2}, {L: 53, A: 0, B: 0}, {L: 72, A: 31, B: -4}, {L: 60, A: 45, B: 20}, {L: 45, A: -30, B: 25},
	{L: 80, A: -5, B: 50}, {L: 40, A: 10, B: -35}, {L: 66, A: 55, B: 5}, {L: 30, A: 20, B: 10}, {L: 85, A: -20, B: 8},
}

const patchSide = 48 // whole JPEG colour blocks of 16

// twin paints the colours in a space, with 8 or 16 bits.
func twin(space colorimetry.RGBSpace, deep bool) image.Image {
	bounds := image.Rect(0, 0, patchSide*len(twinColours), patchSide)
	var m canvas = image.NewNRGBA(bounds)
	if deep {
		m = image.NewNRGBA64(bounds)
	}
	for i, c := range twinColours {
		v := space.RGB(c.XYZ(colorimetry.D50))
		at := image.Rect(patchSide*i, 0, patchSide*(i+1), patchSide)
		if deep {
			fill(m, at, color.NRGBA64{code16(v.R), code16(v.G), code16(v.B), 0xffff})
		} else {
			dither(m, at, v)
		}
	}
	return m
}

// dither paints a colour so that its codes average to it, as a sensor's noise does.
func dither(m canvas, at image.Rectangle, v colorimetry.RGB) {
	for y := at.Min.Y; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			step := (float64((x%4*4+y%4)*7%16) + 0.5) / 16
			m.Set(x, y, color.NRGBA{uint8(v.R*255 + step), uint8(v.G*255 + step), uint8(v.B*255 + step), 255})
		}
	}
}

// grain adds a sensor's noise, without which JPEG rounds whole colour planes to one code.
func grain(m image.Image) image.Image {
	rng := rand.New(rand.NewPCG(5, 5))
	out := m.(*image.NRGBA)
	for i, v := range out.Pix {
		if i%4 != 3 {
			out.Pix[i] = uint8(min(255, max(0, int(v)+rng.IntN(25)-12)))
		}
	}
	return out
}

func checkTwin(t *testing.T, p *Photo, tol float64, what string) {
	t.Helper()
	for i, c := range twinColours {
		near(t, c, lab(mustSample(t, p, rect(t, float64(patchSide*i), 0, patchSide, patchSide))), tol, what)
	}
}

// One scene stored in three spaces gives one set of colours (fault B01).
func TestTwinsInThreeSpaces(t *testing.T) {
	for _, c := range []struct {
		space   colorimetry.RGBSpace
		profile []byte
		name    string
	}{
		{colorimetry.SRGB, profileSRGB(), "Test sRGB"},
		{colorimetry.DisplayP3, profileP3(), "Test P3"},
		{colorimetry.AdobeRGB, profileAdobe(), "Test Adobe RGB"},
	} {
		p := mustDecode(t, withICCP(pngOf(t, twin(c.space, false)), c.profile))
		assert.Equal(t, c.name, p.Facts.Profile)
		assert.Len(t, p.Facts.ProfileSHA256, 64)
		assert.False(t, p.Facts.ProfileAssumed)
		assert.Empty(t, p.Notes)
		checkTwin(t, p, 0.25, c.name+" 8 bit PNG")
		checkTwin(t, mustDecode(t, withICCP(pngOf(t, twin(c.space, true)), c.profile)), exact, c.name+" 16 bit PNG")
		j := mustDecode(t, jpegOf(t, grain(twin(c.space, false)), iccSegment(1, 1, c.profile)))
		assert.Equal(t, c.name, j.Facts.Profile)
		checkTwin(t, j, 0.5, c.name+" JPEG")
	}
}

// A profile cut out without converting the pixels cannot be seen; it is said
// that there is none (fault B02), and the colours are then those of sRGB.
func TestNoProfile(t *testing.T) {
	p := mustDecode(t, pngOf(t, twin(colorimetry.SRGB, true)))
	assert.Equal(t, nameNone, p.Facts.Profile)
	assert.True(t, p.Facts.ProfileAssumed)
	assert.Empty(t, p.Facts.ProfileSHA256)
	assert.Equal(t, []string{"no-profile"}, codes(p))
	checkTwin(t, p, exact, "no profile")
}

// Tables: at the table's own points, where nothing is interpolated, the
// colours are those of the space it was made from.
func TestTableProfile(t *testing.T) {
	const n = 17
	tr, err := profile.Open(tableProfile(colorimetry.SRGB, n), false)
	require.NoError(t, err)
	require.False(t, tr.Additive(), "a table in Lab is not additive")
	for _, at := range [][3]int{{0, 0, 0}, {16, 16, 16}, {8, 8, 8}, {12, 5, 9}, {3, 14, 2}, {15, 10, 1}, {7, 7, 13}} {
		c := colorimetry.RGB{R: float64(at[0]) / 16, G: float64(at[1]) / 16, B: float64(at[2]) / 16}
		near(t, colorimetry.SRGB.XYZ(c).Lab(colorimetry.D50), tr.XYZ(c.R, c.G, c.B).Lab(colorimetry.D50), exact, "table")
	}
	assert.Equal(t, tr.XYZ(1, 1, 1), tr.XYZ(1.2, 1.1, 1.5), "a table ends at its ends")
}

// White comes out as exactly D50, whatever the profile's rounding.
func TestProfileWhiteIsD50(t *testing.T) {
	for _, data := range [][]byte{profileSRGB(), profileP3(), profileAdobe(), tableProfile(colorimetry.SRGB, 9), modularProfile([3]byte{2, 2, 2}, 2)} {
		tr, err := profile.Open(data, false)
		require.NoError(t, err)
		w := tr.XYZ(1, 1, 1)
		assert.InDelta(t, colorimetry.D50.X, w.X, 1e-12)
		assert.InDelta(t, 1, w.Y, 1e-12)
		assert.InDelta(t, colorimetry.D50.Z, w.Z, 1e-12)
	}
}

// The tables of the fast path against the curves themselves, all 256 codes
// and between them, and beyond the ends.
func TestFastPathAccuracy(t *testing.T) {
	for _, space := range []colorimetry.RGBSpace{colorimetry.SRGB, colorimetry.AdobeRGB} {
		tr := profile.ByPrimaries(space.ToXYZ, space.Decode)
		require.True(t, tr.Additive())
		for i := range 2041 {
			v := float64(i) / 2040
			c := colorimetry.RGB{R: v, G: v * v, B: 1 - v}
			near(t, space.XYZ(c).Lab(colorimetry.D50), tr.XYZ(c.R, c.G, c.B).Lab(colorimetry.D50), 0.002, space.Name)
		}
		below := colorimetry.RGB{R: 0.5, G: -0.02, B: 0.5}
		near(t, space.XYZ(below).Lab(colorimetry.D50), tr.XYZ(below.R, below.G, below.B).Lab(colorimetry.D50), 0.01, "below 0")
		above := colorimetry.RGB{R: 1.05, G: 0.5, B: 0.5}
		near(t, space.XYZ(above).Lab(colorimetry.D50), tr.XYZ(above.R, above.G, above.B).Lab(colorimetry.D50), 0.2, "5 % above 1")
	}
}

// edited returns a copy with bytes changed at a place.
func edited(data []byte, at int, to ...byte) []byte {
	out := append([]byte(nil), data...)
	copy(out[at:], to)
	return out
}

// tagAt returns where a profile's tag begins.
func tagAt(t *testing.T, profile []byte, name string) int {
	t.Helper()
	for k := range int(binary.BigEndian.Uint32(profile[128:])) {
		if e := profile[132+12*k:]; string(e[:4]) == name {
			return int(binary.BigEndian.Uint32(e[4:]))
		}
	}
	t.Fatal("no tag " + name)
	return 0
}

// Profiles that do not fit or make no sense are dropped with a note: the
// photo is read as sRGB (faults B04 and B06).
func TestProfilesDropped(t *testing.T) {
	good, modular := profileSRGB(), modularProfile([3]byte{2, 2, 2}, 2)
	ink := iccProfile(2, "CMYK", "Lab ", iccPart{"desc", descTag("ink")}, iccPart{"wtpt", xyzTag(0.9642, 1, 0.8249)})
	mab := tagAt(t, modular, "A2B0")
	grid := mab + int(binary.BigEndian.Uint32(modular[mab+24:]))
	for name, data := range map[string][]byte{
		"ink":                   ink,
		"grey on RGB":           greyProfile(2.2),
		"one XYZ altered":       edited(good, tagAt(t, good, "gXYZ")+8, 0, 1),
		"green in red's place":  edited(good, tagAt(t, good, "rXYZ")+8, fixed(0.2)...),
		"unknown intent":        edited(good, 64, 0, 1, 0, 0),
		"longer than it is":     edited(good, 0, 0, 1, 0, 0),
		"shorter than a header": edited(good, 0, 0, 0, 0, 9),
		"cut":                   good[:len(good)/2],
		"header alone":          good[:128],
		"no tags":               iccProfile(2, "RGB ", "XYZ "),
		"four billion tags":     edited(good, 128, 0xff, 0xff, 0xff, 0xff),
		"tag beyond the end":    edited(good, 132+4, 0xff, 0xff, 0, 0),
		"no curves":             iccProfile(2, "RGB ", "XYZ ", iccPart{"desc", descTag("x")}),
		"four billion points":   edited(good, tagAt(t, good, "rTRC")+8, 0xff, 0xff, 0xff, 0xff),
		"falling curve":         matrixProfile(2, descTag("x"), colorimetry.SRGB, sampledTag(64, func(v float64) float64 { return 1 - v })),
		"curve with a dip": matrixProfile(2, descTag("x"), colorimetry.SRGB, sampledTag(64, func(v float64) float64 {
			return v * (1.6*v*v - 1.4*v + 0.8) * max(0.1, 4*(v-0.4)*(v-0.4)) / max(0.1, 1.44)
		})),
		"black up to white":      matrixProfile(2, descTag("x"), colorimetry.SRGB, gammaTag(100)),
		"gamma 0":                matrixProfile(2, descTag("x"), colorimetry.SRGB, gammaTag(0)),
		"grid of no bytes":       edited(modular, grid+16, 0),
		"grid of unequal sides":  modularProfile([3]byte{2, 3, 2}, 2),
		"grid of 255":            edited(modular, grid, 255, 255, 255),
		"grid beyond the end":    edited(modular, mab+24, 0, 0xff, 0xff, 0xff),
		"curve hidden in a grid": edited(modular, mab+int(binary.BigEndian.Uint32(modular[mab+28:]))+8, 0xff, 0xff, 0xff, 0xff),
		"not a profile":          []byte(strings.Repeat("colour ", 40)),
	} {
		p := mustDecode(t, jpegOf(t, twin(colorimetry.SRGB, false), iccSegment(1, 1, data)))
		assert.Equal(t, []string{"profile-dropped"}, codes(p), name)
		assert.Equal(t, nameNone, p.Facts.Profile, name)
		assert.True(t, p.Facts.ProfileAssumed, name)
		checkTwin(t, p, 1.5, name)
		assert.Contains(t, p.Notes[0].Text, droppedFor[name], name)
	}
}

// droppedFor is the reason that the person is given, where only one check stands for it.
var droppedFor = map[string]string{
	"ink": "the picture's are", "grey on RGB": "the picture's are", "grid of unequal sides": "unequal", "grid of no bytes": "precision",
	"one XYZ altered": "white", "falling curve": "white", "curve with a dip": "rise", "black up to white": "middle grey",
	"unknown intent": "intent", "four billion points": "does not fit", "longer than it is": "bytes long",
}

// A profile in several parts (fault B07): by number, in any order, or not at all.
func TestProfileInParts(t *testing.T) {
	whole := profileAdobe()
	a, b, c := whole[:200], whole[200:400], whole[400:]
	frameFirst := func(m []byte, late []byte) []byte {
		at := findMarker(t, m, 0xda)
		return join(m[:at], late, m[at:])
	}
	m := twin(colorimetry.AdobeRGB, false)
	for name, file := range map[string][]byte{
		"in order":     jpegOf(t, m, iccSegment(1, 3, a), iccSegment(2, 3, b), iccSegment(3, 3, c)),
		"out of order": jpegOf(t, m, iccSegment(2, 3, b), iccSegment(3, 3, c), iccSegment(1, 3, a)),
	} {
		p := mustDecode(t, file)
		assert.Equal(t, "Test Adobe RGB", p.Facts.Profile, name)
		checkTwin(t, p, 1.5, name)
	}
	for name, file := range map[string][]byte{
		"gap":             jpegOf(t, m, iccSegment(1, 3, a), iccSegment(3, 3, c)),
		"twice":           jpegOf(t, m, iccSegment(1, 3, a), iccSegment(2, 3, b), iccSegment(2, 3, b), iccSegment(3, 3, c)),
		"part 9 of 3":     jpegOf(t, m, iccSegment(1, 3, a), iccSegment(2, 3, b), iccSegment(9, 3, c)),
		"part 0":          jpegOf(t, m, iccSegment(0, 1, whole)),
		"counts disagree": jpegOf(t, m, iccSegment(1, 2, whole[:300]), iccSegment(2, 3, whole[300:])),
		"no count":        jpegOf(t, m, iccSegment(1, 0, whole)),
		"too short":       jpegOf(t, m, segmentOf(0xe2, []byte(iccLabel+"\x01"))),
		"late part":       frameFirst(jpegOf(t, m, iccSegment(1, 2, whole[:300])), iccSegment(2, 2, whole[300:])),
		"late whole":      frameFirst(jpegOf(t, m), iccSegment(1, 1, whole)),
	} {
		p := mustDecode(t, file)
		assert.Equal(t, []string{"profile-dropped"}, codes(p), name)
		assert.Equal(t, nameNone, p.Facts.Profile, name)
	}
	// A profile's bytes elsewhere in the file are none of ours.
	p := mustDecode(t, jpegOf(t, m, segmentOf(0xed, append([]byte("other\x00"), whole...))))
	assert.Equal(t, []string{"no-profile"}, codes(p))
}
