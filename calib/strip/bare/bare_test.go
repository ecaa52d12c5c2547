package bare

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

	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

const wide, high = 640, 400

// seen is a reflectance and a light at a place.
type seen func(x, y int) (r, g, b, light float64)

// paper is white paper in light that falls off by a third across the photo.
func paper(x, _ int) (r, g, b, light float64) {
	return 0.88, 0.87, 0.84, math.Exp(-0.4 * float64(x) / wide)
}

// look photographs a table of paper with two rows of patches, of which one white area
// between them is marked, and returns the white that was found.
func look(t *testing.T, at seen, pads ...calib.Pad) (found []calib.White, marked calib.White) {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 4))
	m := image.NewNRGBA64(image.Rect(0, 0, wide, high))
	var placed charts.Placed
	var row charts.PlacedAnalyte
	patches := map[image.Rectangle]bool{}
	for i := range 5 {
		for _, y := range []int{80, 280} {
			patches[image.Rect(100+100*i, y, 150+100*i, y+50)] = true
			row.Pad = append(row.Pad, charts.Mark{Region: box(float64(110+100*i), float64(y+10), 30, 30)})
		}
	}
	placed.Pads = []charts.PlacedAnalyte{row}
	placed.Whites = []charts.Mark{{Region: box(160, 180, 30, 30)}}
	for y := range high {
		for x := range wide {
			r, g, b, light := at(x, y)
			for q := range patches {
				if image.Pt(x, y).In(q) {
					r, g, b = 0.2, 0.4, 0.3
				}
			}
			c := func(v float64) uint16 {
				return uint16(65535 * colorimetry.SRGB.Encode(0.9*v*light*(1+0.01*rng.NormFloat64())))
			}
			m.SetNRGBA64(x, y, color.NRGBA64{c(r), c(g), c(b), 65535})
		}
	}
	var file bytes.Buffer
	require.NoError(t, png.Encode(&file, m))
	p, err := photo.Decode(file.Bytes(), photo.Limits{})
	require.NoError(t, err)
	white, err := p.Sample(placed.Whites[0].Region)
	require.NoError(t, err)
	marked = calib.White{Material: "card", Sample: white}
	plan := NewPlan(placed, wide, high)
	assert.Equal(t, plan, NewPlan(placed, wide, high))
	return plan.Grow(calib.Photo{Width: wide, Height: high, Whites: []calib.White{marked}, Pads: pads}, func(i int) (colorimetry.Sample, bool) {
		s, err := p.Sample(plan.Regions[i])
		return s, err == nil
	}), marked
}

// beyond counts found white to the right of a column.
func beyond(found []calib.White, x float64) (n int) {
	for _, w := range found {
		if w.Sample.Place.X > x {
			n++
		}
	}
	return n
}

func TestWhiteIsFollowedOverThePhoto(t *testing.T) {
	found, marked := look(t, paper)
	assert.Len(t, found, mostFound)
	assert.Greater(t, beyond(found, 400), 10)
	for _, w := range found {
		assert.Equal(t, "card", w.Material)
		assert.True(t, w.Found)
		want := math.Exp(-0.4 * (w.Sample.Place.X - marked.Sample.Place.X) / wide) // of the light, by the definition of paper
		assert.InEpsilon(t, want, w.Sample.XYZ.Y/marked.Sample.XYZ.Y, 0.01)
	}
}

// What is no white of the marked kind, or lies beyond a shadow's edge, is not taken.
func TestWhiteEnds(t *testing.T) {
	from := func(change func(r, g, b, light float64) (float64, float64, float64, float64)) seen {
		return func(x, y int) (float64, float64, float64, float64) {
			r, g, b, light := paper(x, y)
			if x > 355 {
				return change(r, g, b, light)
			}
			return r, g, b, light
		}
	}
	for name, change := range map[string]func(r, g, b, light float64) (float64, float64, float64, float64){
		"a greyer paper": func(r, g, b, light float64) (float64, float64, float64, float64) {
			return 0.9 * r, 0.9 * g, 0.9 * b, light
		},
		"a whiter paper": func(r, g, b, light float64) (float64, float64, float64, float64) {
			return 1.08 * r, 1.08 * g, 1.08 * b, light
		},
		"a cream paper":   func(r, g, b, light float64) (float64, float64, float64, float64) { return r, 0.98 * g, 0.85 * b, light },
		"a shadow's edge": func(r, g, b, light float64) (float64, float64, float64, float64) { return r, g, b, 0.7 * light },
		"a wooden table":  func(_, _, _, light float64) (float64, float64, float64, float64) { return 0.5, 0.35, 0.2, light },
	} {
		found, _ := look(t, from(change))
		assert.Greater(t, len(found), 5, name)
		assert.Zero(t, beyond(found, 355), name)
	}
}

// A pad within eight pitches of the white that is found changes nothing; one beyond them,
// here to the right of all patches, makes it tell nothing.
func TestWhiteApartFromAPadTellsNothing(t *testing.T) {
	pad := func(x float64) calib.Pad {
		return calib.Pad{Parts: []colorimetry.Sample{{Place: colorimetry.Point{X: x, Y: 200}}}}
	}
	found, _ := look(t, paper, pad(300))
	assert.Len(t, found, mostFound)
	found, _ = look(t, paper, pad(2*wide))
	assert.Empty(t, found)
}

// Without marked white, or where it is burnt out, nothing says what white is.
func TestNothingWithoutMarkedWhite(t *testing.T) {
	assert.Empty(t, NewPlan(charts.Placed{}, wide, high))
	found, _ := look(t, func(x, y int) (r, g, b, light float64) { return 1, 1, 1, 1.3 })
	assert.Empty(t, found)
}
