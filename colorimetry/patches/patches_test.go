package patches

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// patchPicture is a noisy card with a tilted pad of given half side at (200, 150),
// a neighbour of another colour 8 pixels beside it and a printed line to its left.
func patchPicture(t *testing.T, half float64, want ...colorimetry.Region) *photo.Photo {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 480, 360))
	rng := rand.New(rand.NewPCG(7, 1))
	const tilt = 0.12
	for y := range 360 {
		for x := range 480 {
			c := [3]float64{236, 233, 226}
			dx, dy := float64(x)-200, float64(y)-150
			u, v := dx*math.Cos(tilt)+dy*math.Sin(tilt), dy*math.Cos(tilt)-dx*math.Sin(tilt)
			switch {
			case math.Abs(u) <= half && math.Abs(v) <= half:
				c = [3]float64{236, 150, 180}
			case math.Abs(u-2*half-8) <= half && math.Abs(v) <= half:
				c = [3]float64{150, 140, 165}
			case y > 148 && y < 151 && u < -half:
				c = [3]float64{90, 90, 90}
			}
			n := rng.NormFloat64() * 2.5
			at := func(v float64) uint8 { return uint8(math.Max(0, math.Min(255, v+n))) }
			m.SetRGBA(x, y, color.RGBA{at(c[0]), at(c[1]), at(c[2]), 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	p, err := photo.Decode(b.Bytes(), photo.Limits{}, want...)
	require.NoError(t, err)
	return p
}

func TestPatchFindsTheOutlineInsideTheEdge(t *testing.T) {
	for _, half := range []float64{14, 22, 30} {
		p := patchPicture(t, half)
		for _, at := range []colorimetry.Point{{X: 200, Y: 150}, {X: 200 + half/2, Y: 150 - half/2}, {X: 200 - half/2, Y: 150 + half/2}} {
			r, err := At(p, at)
			require.NoError(t, err)
			require.Len(t, r.Outline(), 4)
			for _, q := range r.Outline() {
				dx, dy := q.X-200, q.Y-150
				u, v := dx*math.Cos(0.12)+dy*math.Sin(0.12), dy*math.Cos(0.12)-dx*math.Sin(0.12)
				assert.LessOrEqual(t, math.Max(math.Abs(u), math.Abs(v)), half-1, "inside the edge")
			}
			whole := 4 * half * half
			assert.InDelta(t, 0.52*whole, r.Area(), 0.14*whole, "half side %g from %v", half, at)
			first := r.Outline()[0]
			for _, q := range r.Outline() {
				assert.LessOrEqual(t, first.X+first.Y, q.X+q.Y, "the top left corner comes first")
			}
		}
	}
}

func TestPatchRefusesWhereThereIsNone(t *testing.T) {
	p := patchPicture(t, 22)
	for _, at := range []colorimetry.Point{{X: 420, Y: 300}, {X: 2, Y: 2}, {X: -1, Y: 50}, {X: 480, Y: 50}, {X: math.NaN(), Y: 50}, {X: 178, Y: 149}} {
		_, err := At(p, at)
		var none *NoEdgeError
		assert.ErrorAs(t, err, &none, "%v", at)
	}
}

// flatPicture is a card with upright boxes of given colours on it.
func flatPicture(t *testing.T, boxes map[image.Rectangle]color.RGBA) *photo.Photo {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 480, 360))
	for y := range 360 {
		for x := range 480 {
			m.SetRGBA(x, y, color.RGBA{236, 233, 226, 255})
			for b, c := range boxes {
				if (image.Point{X: x, Y: y}).In(b) {
					m.SetRGBA(x, y, c)
				}
			}
		}
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	p, err := photo.Decode(b.Bytes(), photo.Limits{})
	require.NoError(t, err)
	return p
}

// Pads that touch and are nearly alike run together: that is refused rather
// than proposed as one. A patch that is long by itself is found from its middle.
func TestPatchDoesNotRunIntoItsNeighbour(t *testing.T) {
	one, two := color.RGBA{200, 140, 60, 255}, color.RGBA{203, 142, 62, 255}
	p := flatPicture(t, map[image.Rectangle]color.RGBA{image.Rect(200, 100, 230, 130): one, image.Rect(200, 130, 230, 160): two})
	for _, at := range []colorimetry.Point{{X: 215, Y: 115}, {X: 215, Y: 145}, {X: 206, Y: 106}} {
		_, err := At(p, at)
		var none *NoEdgeError
		assert.ErrorAs(t, err, &none, "%v", at)
	}
	p = flatPicture(t, map[image.Rectangle]color.RGBA{image.Rect(200, 100, 230, 190): one})
	_, err := At(p, colorimetry.Point{X: 215, Y: 145})
	assert.Error(t, err, "three pads of one colour are as long as this")
	// A neighbour half as large and of a near colour is left out.
	p = flatPicture(t, map[image.Rectangle]color.RGBA{image.Rect(200, 100, 230, 130): one, image.Rect(200, 130, 230, 145): {210, 150, 75, 255}})
	r, err := At(p, colorimetry.Point{X: 215, Y: 115})
	require.NoError(t, err)
	_, most := r.Bounds()
	assert.Less(t, most.Y, 130.0)
	p = flatPicture(t, map[image.Rectangle]color.RGBA{image.Rect(200, 100, 300, 150): one})
	r, err = At(p, colorimetry.Point{X: 245, Y: 125})
	require.NoError(t, err)
	var least colorimetry.Point
	least, most = r.Bounds()
	assert.Greater(t, most.X-least.X, 60.0)
	assert.True(t, least.X > 200 && most.X < 300 && least.Y > 100 && most.Y < 150)
}

// No patch is looked for in what was not wanted; all of the photo in one region is
// as good as no wish.
func TestPatchOfWhatIsWanted(t *testing.T) {
	at := colorimetry.Point{X: 200, Y: 150}
	region := func(x, y, w, h float64) colorimetry.Region {
		r, err := colorimetry.NewRect(x, y, w, h)
		require.NoError(t, err)
		return r
	}
	patch, err := At(patchPicture(t, 30), at)
	require.NoError(t, err)
	part := patchPicture(t, 30, region(180, 140, 100, 80))
	_, err = At(part, at)
	var unwanted *photo.NotWantedError
	require.ErrorAs(t, err, &unwanted)
	_, err = At(part, colorimetry.Point{X: -1, Y: 150})
	var none *NoEdgeError
	assert.ErrorAs(t, err, &none)
	again, err := At(patchPicture(t, 30, region(0, 0, 480, 360)), at)
	require.NoError(t, err)
	assert.Equal(t, patch, again)
}
