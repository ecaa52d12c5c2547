package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// over makes a sample lie over an edge: so much of it has another colour, whose
// CIELAB is this under the sample's own light.
func over(s *colorimetry.Sample, share float64, own, other colorimetry.XYZ) {
	s.Side = 40
	s.Split = colorimetry.Split{Own: own, Other: other, Share: share, Clean: 0.98, Together: 0.95}
}

// paperOf is the white paper beside a sample of the ordinary photo.
func paperOf(p Photo) colorimetry.XYZ { return p.Whites[0].Sample.XYZ }

func TestMarkOverAnEdgeIsNamed(t *testing.T) {
	p := scene(onRamp(2.5))
	pad := &p.Pads[0].Parts[0]
	over(pad, 0.4, pad.XYZ, paperOf(p))
	r := readOne(t, p)
	w, found := warningOf(r, CodeMarkOnEdge)
	require.True(t, found)
	assert.Equal(t, Unreliable, r.Reliability)
	assert.Equal(t, "The mark on the pad lies over an edge: 40 % of it shows another colour. Move it onto one colour.", w.Text())

	sw := &p.Pads[0].Swatches[2][0]
	over(sw, 0.25, sw.XYZ, paperOf(p))
	r = readOne(t, p)
	w, _ = warningOf(r, CodeMarkOnEdge)
	assert.Contains(t, w.Text(), "The marks on the pad and for")
	assert.Len(t, w.Places, 2)
	assert.Contains(t, w.Text(), "Move each onto one colour.")
}

func TestEdgeWeighsByWhatItCanMove(t *testing.T) {
	read := func(swatch int, share, moved float64) Reading {
		p := scene(onRamp(0.5))
		s := &p.Pads[0].Swatches[swatch][0]
		over(s, share, s.XYZ.Scale(1-moved), paperOf(p))
		return readOne(t, p)
	}
	assert.Empty(t, read(1, 0.15, 0).Warnings, "a sliver that was left out")
	assert.Equal(t, Caution, read(1, 0.25, 0).Reliability, "a quarter that was left out")
	assert.Equal(t, Unreliable, read(1, 0.25, 0.1).Reliability, "a quarter that moves the colour")
	assert.Equal(t, Unreliable, read(1, 0.45, 0).Reliability, "which of two colours is meant is open")
	last := len(rampAnalyte().Swatches) - 1
	assert.Equal(t, Caution, read(last, 0.45, 0).Reliability, "far from the bracket")
}

// An edge of a shadow dims light of every colour; a reflection adds white.
func TestShadowAndReflectionAreNoEdgeOfAPatch(t *testing.T) {
	p := scene(onRamp(2.5))
	white, pad := paperOf(p), &p.Pads[0].Parts[0]
	over(pad, 0.4, pad.XYZ, pad.XYZ.Scale(0.6))
	assert.Empty(t, readOne(t, p).Warnings, "a shadow")
	over(pad, 0.4, pad.XYZ, pad.XYZ.Add(white.Scale(0.2)))
	assert.Empty(t, readOne(t, p).Warnings, "a reflection")
	lit := func(l, a, b float64) colorimetry.XYZ {
		c := colorimetry.Lab{L: l, A: a, B: b}.XYZ(colorimetry.D50)
		return colorimetry.XYZ{X: c.X / colorimetry.D50.X * white.X, Y: c.Y * white.Y, Z: c.Z / colorimetry.D50.Z * white.Z}
	}
	over(pad, 0.4, lit(83, 34, 2), lit(99, 25, 6))
	assert.Empty(t, readOne(t, p).Warnings, "a reflection as the camera of the demonstration bends it")
	over(pad, 0.4, pad.XYZ, white)
	pad.Split.Clean = 0.86
	assert.Empty(t, readOne(t, p).Warnings, "a colour that changes from side to side")
	pad.Split.Clean, pad.Split.Together = 0.98, 0.7
	assert.Empty(t, readOne(t, p).Warnings, "speckles")
	pad.Split.Together, pad.Edge = 0.95, 16
	r := readOne(t, p)
	_, found := warningOf(r, CodeMarkOnEdge)
	assert.False(t, found, "a blurred photo")
}

// What shines, is dark or grainy at a mark over an edge is the other colour.
func TestEdgeIsSaidInPlaceOfGlare(t *testing.T) {
	p := scene(onRamp(2.5))
	pad := &p.Pads[0].Parts[0]
	pad.Glare = 0.5
	assert.Equal(t, []string{"glare"}, codes(readOne(t, p).Warnings))
	over(pad, 0.25, pad.XYZ, paperOf(p))
	r := readOne(t, p)
	assert.Equal(t, []string{"mark-on-edge"}, codes(r.Warnings))
	assert.Equal(t, Unreliable, r.Warnings[0].Weight, "as heavy as the glare was")
	assert.Equal(t, Unreliable, r.Reliability)
	sw := &p.Pads[0].Swatches[2][0]
	sw.Glare = 0.7
	assert.Equal(t, []string{"mark-on-edge", "glare"}, codes(readOne(t, p).Warnings), "the glare of another mark stays, after it")
}

func TestWhiteOverAnEdgeIsNamed(t *testing.T) {
	r := report(t, func(p *Photo) {
		s := &p.Whites[1].Sample
		over(s, 0.4, s.XYZ, colorimetry.XYZ{X: 0.3 * s.XYZ.X, Y: 0.4 * s.XYZ.Y, Z: 0.7 * s.XYZ.Z})
	})
	w, found := warned(r, CodeMarkOnEdge)
	require.True(t, found)
	assert.Equal(t, Unreliable, r.Reliability)
	assert.Contains(t, w.Text(), "The mark on white area 2 lies over an edge")
	assert.Equal(t, []Place{{Kind: PlaceWhite, Number: 2}}, w.Places)
}
