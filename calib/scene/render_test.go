package scene

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

func TestASeedGivesOnePhoto(t *testing.T) {
	var photos [][]byte
	for _, seed := range []uint64{5, 5, 6} {
		c, err := Draw(seed, Bad)
		require.NoError(t, err)
		s, err := Render(c)
		require.NoError(t, err)
		photos = append(photos, s.Photo)
	}
	assert.True(t, bytes.Equal(photos[0], photos[1]))
	assert.False(t, bytes.Equal(photos[0], photos[2]))
}

// faultless takes a scene's errors away: the observer's own eyes as a camera,
// D50, even light, dry pads, no noise.
func faultless(t *testing.T, seed uint64, f Format) Config {
	t.Helper()
	c, err := Draw(seed, Good)
	require.NoError(t, err)
	light, err := lampNamed("D50")
	require.NoError(t, err)
	v := newViewer(&light)
	c.Lights = []Light{{Lamp: "D50", Power: light, Level: 1}}
	c.Camera = Camera{Colorimetric: true, Balance: [3]float64{1, 1, 1}, Exposure: v.xyz(&c.Surfaces.Card).Y}
	c.Camera.Shoulder, c.Camera.Lift = 1, 1
	c.Curved, c.Format = false, f
	for i := range c.Pads {
		c.Pads[i].Gloss, c.Pads[i].Wet, c.Pads[i].Blotch = 0, 0, 0
	}
	return c
}

// decodedLab is the CIELAB of a mark's middle, by the formulas of the space,
// from pixels that the standard library decodes; inside is false at the limits of the space.
func decodedLab(img image.Image, m charts.Mark, space colorimetry.RGBSpace) (lab colorimetry.Lab, inside bool) {
	at, inside := m.Region.Centroid(), true
	var sum colorimetry.XYZ
	const half = 8
	for dy := -half; dy < half; dy++ {
		for dx := -half; dx < half; dx++ {
			r, g, b, _ := img.At(int(at.X)+dx, int(at.Y)+dy).RGBA()
			for _, v := range []uint32{r, g, b} {
				inside = inside && v > 300 && v < 65200
			}
			c := space.XYZ(colorimetry.RGB{R: float64(r) / 65535, G: float64(g) / 65535, B: float64(b) / 65535})
			sum = sum.Add(c.Scale(1 / (4.0 * half * half)))
		}
	}
	return sum.Lab(colorimetry.D50), inside
}

func TestAPerfectCameraSeesTheTruth(t *testing.T) {
	for _, k := range []struct {
		format    Format
		space     colorimetry.RGBSpace
		tolerance float64
	}{{PNG, colorimetry.SRGB, 0.3}, {PNGDeep, colorimetry.SRGB, 0.15}, {PNGP3, colorimetry.DisplayP3, 0.15}} {
		t.Run(string(k.format), func(t *testing.T) {
			seen := 0
			for seed := uint64(1); seed <= 4; seed++ {
				seen += checkTruth(t, seed, k.format, k.space, k.tolerance)
			}
			assert.Greater(t, seen, 30)
		})
	}
}

// checkTruth compares the swatches and pads of a faultless photo with their exact colours.
func checkTruth(t *testing.T, seed uint64, f Format, space colorimetry.RGBSpace, tolerance float64) (seen int) {
	c := faultless(t, seed, f)
	s, err := Render(c)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(s.Photo))
	require.NoError(t, err)
	// ITU-T H.273: primaries 12 (P3), transfer 13 (sRGB), matrix 0, full range.
	assert.Equal(t, f == PNGP3, bytes.Contains(s.Photo, []byte("cICP\x0c\x0d\x00\x01")))
	assert.Equal(t, f == PNGDeep, bytes.Contains(s.Photo, []byte("cICP\x01\x0d\x00\x01")), "primaries 1: those of sRGB")
	for i, a := range c.Chart.Analytes {
		for _, m := range s.Marks.Regions {
			if m.Analyte != a.Name || m.Role == charts.RoleWhite {
				continue
			}
			want := s.Colours[i].Pad[m.Part-1]
			for k, w := range a.Swatches {
				if m.Role == charts.RoleSwatch && w.Value == m.Value {
					want = s.Colours[i].Swatch[m.Part-1][k]
				}
			}
			if got, inside := decodedLab(img, m, space); inside {
				seen++
				allowed := tolerance
				if m.Role == charts.RolePad && f == PNG {
					allowed = 0.55 // a pad without grain is one code all over: half a code of 255 in each channel
				}
				assert.Less(t, colorimetry.DeltaE76(want, got), allowed, "seed %d %s %s %g", seed, m.Role, a.Name, m.Value)
			}
		}
	}
	return seen
}

func TestMarksLieOnTheirThings(t *testing.T) {
	for _, class := range []Class{Good, Fair, Bad} {
		for seed := uint64(20); seed < 23; seed++ {
			c, err := Draw(seed, class)
			require.NoError(t, err)
			s, err := Render(c)
			require.NoError(t, err)
			img, err := jpeg.Decode(bytes.NewReader(s.Photo))
			require.NoError(t, err)
			assert.Equal(t, image.Rect(0, 0, c.Width, c.Height), img.Bounds())
			_, err = s.Marks.Encode()
			require.NoError(t, err, "the marks are a marks file")
			_, err = s.Chart.Encode()
			require.NoError(t, err, "the chart is a chart file")
			_, err = s.Marks.Place(s.Chart, c.Width, c.Height)
			require.NoError(t, err)
			for i, a := range s.Chart.Analytes {
				top := float64(len(a.Swatches) - 1)
				assert.Equal(t, s.Truth[i].Past, s.Truth[i].Step < 0 || s.Truth[i].Step > top)
			}
		}
	}
}

// A mark set off from its thing by an error of the layout would sample
// something else: on a faultless photo every white mark is lighter than L* 85.
func TestWhiteMarksAreWhite(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		c := faultless(t, seed, PNG)
		c.Whites = Whites{Card: 8, Paper: 4, Plastic: 1}
		s, err := Render(c)
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(s.Photo))
		require.NoError(t, err)
		for _, m := range s.Marks.Regions {
			if m.Role == charts.RoleWhite {
				darkest, most := spread(img, m.Region)
				assert.Greater(t, darkest, 170.0, "seed %d %s at %v: something dark in it", seed, m.Material, m.Region.Centroid())
				assert.Less(t, most, 50.0, "seed %d %s at %v: something coloured in it", seed, m.Material, m.Region.Centroid())
			}
		}
	}
}

// spread is the least green code in a region, and the most by which a
// pixel's channels differ.
func spread(img image.Image, r colorimetry.Region) (least, most float64) {
	least = 255
	b := img.Bounds()
	for y, spans := range r.Pixels(b.Dx(), b.Dy(), 0) {
		for _, s := range spans {
			for x := s.From; x < s.To; x++ {
				red, green, blue, _ := img.At(x, y).RGBA()
				least = math.Min(least, float64(green>>8))
				most = math.Max(most, float64(max(red, green, blue)-min(red, green, blue))/257)
			}
		}
	}
	return least, most
}

func TestTruthIsSpreadOverTheScale(t *testing.T) {
	past, n, sum := 0.0, 0.0, 0.0
	for _, class := range []Class{Good, Fair} {
		for _, c := range drawn(t, class, 150) {
			for i, p := range c.Pads {
				top := float64(len(c.Chart.Analytes[i].Swatches) - 1)
				if n++; p.Step < 0 || p.Step > top {
					past++
					continue
				}
				sum += p.Step / top
			}
		}
	}
	t.Logf("%.0f pads, %.3f past an end, mean place %.3f", n, past/n, sum/(n-past))
	assert.InDelta(t, 0.085, past/n, 0.04)
	assert.InDelta(t, 0.5, sum/(n-past), 0.06)
}

func TestBadConfigurationsAreRefused(t *testing.T) {
	good, err := Draw(1, Good)
	require.NoError(t, err)
	for what, spoil := range map[string]func(*Config){
		"no pads":      func(c *Config) { c.Pads = nil },
		"no lights":    func(c *Config) { c.Lights = nil },
		"tiny":         func(c *Config) { c.Width = 10 },
		"format":       func(c *Config) { c.Format = "gif" },
		"matrix lamp":  func(c *Config) { c.Camera.MatrixLamp = "candle" },
		"folded plane": func(c *Config) { c.Layout.Keystone[0] = 2 },
	} {
		c := good
		spoil(&c)
		_, err := Render(c)
		assert.Error(t, err, what)
	}
}

func TestTheBottleIsDarkerAtItsSides(t *testing.T) {
	b := bottle{axis: 500, radius: 300, fill: 0.4}
	assert.InDelta(t, 1, b.shade(500), 1e-12)
	assert.InDelta(t, 0.4+0.6*0.8, b.shade(500+0.6*300), 1e-12, "cosine of the angle whose sine is 0.6")
	assert.InDelta(t, 0.4, b.shade(800), 1e-12)
}

func BenchmarkRender(b *testing.B) {
	for _, width := range []int{1000, 1400} {
		b.Run(fmt.Sprint(width), func(b *testing.B) {
			c, err := Draw(2, Good)
			require.NoError(b, err)
			c.Width, c.Height = width, width*3/4
			for b.Loop() {
				_, err := Render(c)
				require.NoError(b, err)
			}
		})
	}
}
