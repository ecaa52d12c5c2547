package scene

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
)

// Copies of photos, as a filter, an editor or a scanner program makes them.

// codes01 are red, green and blue from 0 to 1, as stored.
type codes01 [3]float64

func (c codes01) luma() float64 { return 0.299*c[0] + 0.587*c[1] + 0.114*c[2] } // ITU-R BT.601

func (c codes01) each(f func(v float64) float64) codes01 { return codes01{f(c[0]), f(c[1]), f(c[2])} }

// toGrey moves a colour from its grey; 0 is grey, 1 leaves it and 2 doubles its colour.
func (c codes01) toGrey(keep float64) codes01 {
	y := c.luma()
	return c.each(func(v float64) float64 { return y + keep*(v-y) })
}

func contrast(by float64) func(codes01) codes01 {
	return func(c codes01) codes01 { return c.each(func(v float64) float64 { return 0.5 + by*(v-0.5) }) }
}

func posterised(levels float64) func(codes01) codes01 {
	return func(c codes01) codes01 {
		return c.each(func(v float64) float64 { return math.Round(v*(levels-1)) / (levels - 1) })
	}
}

// sepia is the usual matrix of picture editors (the filter's definition in the W3C's
// Filter Effects Module Level 1, 7.3; from memory).
func sepia(c codes01) codes01 {
	return codes01{
		0.393*c[0] + 0.769*c[1] + 0.189*c[2], 0.349*c[0] + 0.686*c[1] + 0.168*c[2], 0.272*c[0] + 0.534*c[1] + 0.131*c[2],
	}
}

// hueTurned turns the colour about the grey axis by an angle in degrees.
func hueTurned(degrees float64) func(codes01) codes01 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	a, b := cos+(1-cos)/3, sin/math.Sqrt(3)
	o := (1 - cos) / 3
	return func(c codes01) codes01 {
		return codes01{
			a*c[0] + (o-b)*c[1] + (o+b)*c[2], (o+b)*c[0] + a*c[1] + (o-b)*c[2], (o-b)*c[0] + (o+b)*c[1] + a*c[2],
		}
	}
}

// faded is an old film: pale, with raised and yellowish shadows.
func faded(c codes01) codes01 {
	c = c.toGrey(0.6)
	return codes01{0.18 + 0.78*c[0], 0.16 + 0.76*c[1], 0.20 + 0.62*c[2]}
}

// spoiled are copies that no reading should be trusted of, or that leave it true.
var spoiled = map[string]func(codes01) codes01{
	"grey":       func(c codes01) codes01 { return c.toGrey(0) },
	"sepia":      sepia,
	"inverted":   func(c codes01) codes01 { return c.each(func(v float64) float64 { return 1 - v }) },
	"posterised": posterised(4),
	"saturated":  func(c codes01) codes01 { return c.toGrey(2) },
	"contrast":   contrast(2),
	"hue turned": hueTurned(60),
	"faded":      faded,
}

// harmless are copies that every phone and messenger makes.
var harmless = map[string]func(codes01) codes01{
	"saved again": func(c codes01) codes01 { return c },
	"brighter":    func(c codes01) codes01 { return c.each(func(v float64) float64 { return 1.1 * v }) },
	"contrast":    contrast(1.1),
}

// copied changes every pixel and saves the photo as a JPEG.
func copied(t *testing.T, photo []byte, quality int, change func(codes01) codes01) []byte {
	t.Helper()
	m, _, err := image.Decode(bytes.NewReader(photo))
	require.NoError(t, err)
	b := m.Bounds()
	out := image.NewRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.NRGBAModel.Convert(m.At(x, y)).(color.NRGBA)
			v := change(codes01{float64(c.R) / 255, float64(c.G) / 255, float64(c.B) / 255})
			code := v.each(func(v float64) float64 { return math.Round(255 * math.Max(0, math.Min(1, v))) })
			out.SetRGBA(x, y, color.RGBA{uint8(code[0]), uint8(code[1]), uint8(code[2]), 255})
		}
	}
	var file bytes.Buffer
	require.NoError(t, jpeg.Encode(&file, out, &jpeg.Options{Quality: quality}))
	return withJFIF(file.Bytes())
}

// withJFIF adds the marker that says how a JPEG's colours are coded, as programs write
// it and the library does not (ITU-T T.871, 10.1).
func withJFIF(file []byte) []byte {
	head := []byte{0xff, 0xd8, 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 2, 0, 0, 1, 0, 1, 0, 0}
	return append(head, file[2:]...)
}

// known is a photo with its true values.
type known struct {
	name  string
	photo []byte
	chart charts.Chart
	marks charts.Marks
	value map[string]float64
}

// knownPhotos are the demonstration in good light and scenes of all classes.
func knownPhotos(t *testing.T, scenes int) []known {
	t.Helper()
	data, err := os.ReadFile(demoFolder + "kitchen.jpg")
	require.NoError(t, err)
	list, err := os.ReadFile(demoFolder + "kitchen.marks.json")
	require.NoError(t, err)
	marks, err := charts.ParseMarks(list)
	require.NoError(t, err)
	marks.Photo.SHA256 = ""
	out := []known{{"demo", data, orchardWell(t), marks, map[string]float64{"nitrate": 8.6, "total hardness": 205, "pH": 7.3}}}
	for seed := uint64(8_000_000); len(out) <= scenes; seed++ {
		c, err := Draw(seed, []Class{Good, Good, Fair, Bad}[seed%4])
		require.NoError(t, err)
		s, err := Render(c)
		if err != nil {
			continue
		}
		k := known{string(c.Class) + " " + string(c.Fault), s.Photo, s.Chart, s.Marks, map[string]float64{}}
		for _, truth := range s.Truth {
			k.value[truth.Analyte] = truth.Value
		}
		out = append(out, k)
	}
	return out
}

// falselyClear are the readings of good reliability that are over half a step wrong with
// the truth outside the band; far are those of them whose band ends over half a step
// short of it.
func falselyClear(k known, r *strip.Result) (names, far []string) {
	for _, got := range r.Readings {
		a, trust := got.Analyte, got.Reliability.Worse(r.Light.Reliability)
		truth, outside := a.StepOf(k.value[a.Name]), 0.0
		if !got.Band.Low.Open {
			outside = math.Max(outside, a.StepOf(got.Band.Low.Value)-truth)
		}
		if !got.Band.High.Open {
			outside = math.Max(outside, truth-a.StepOf(got.Band.High.Value))
		}
		if trust != calib.Good || outside <= 0 || math.Abs(a.StepOf(got.Value)-truth) <= 0.5 {
			continue
		}
		names = append(names, a.Name)
		if outside > 0.5 {
			far = append(far, a.Name)
		}
	}
	return names, far
}

func scenesFor(whole int) int {
	if testing.Short() {
		return 4
	}
	return whole
}

// No clear reading of an altered copy misses the truth by half a step, and hardly any
// at all: a true band misses one in twenty.
func TestAlteredCopiesAreNeverFalselyClear(t *testing.T) {
	missed, all := 0, 0
	for _, k := range knownPhotos(t, scenesFor(20)) {
		for name, change := range spoiled {
			file := copied(t, k.photo, 95, change)
			r, err := strip.Read(strip.Input{Photo: file, Chart: k.chart, Marks: k.marks})
			if err != nil {
				continue
			}
			names, far := falselyClear(k, r)
			assert.Empty(t, far, "%s, %s", k.name, name)
			missed, all = missed+len(names), all+len(r.Readings)
		}
	}
	t.Logf("%d of %d readings are clear, over half a step wrong and outside their band", missed, all)
	assert.LessOrEqual(t, float64(missed), 0.01*float64(all))
}

func TestHarmlessCopiesAreReadAndNotCalledAltered(t *testing.T) {
	for _, k := range knownPhotos(t, scenesFor(20)) {
		for name, change := range harmless {
			file := copied(t, k.photo, 70, change)
			r, err := strip.Read(strip.Input{Photo: file, Chart: k.chart, Marks: k.marks})
			if !assert.NoError(t, err, "%s, %s", k.name, name) {
				continue
			}
			for _, w := range r.Light.Warnings {
				assert.NotEqual(t, calib.CodeAlteredPhoto, w.Code, "%s, %s", k.name, name)
			}
			for _, x := range r.Readings {
				for _, w := range x.Warnings {
					assert.NotEqual(t, calib.CodeAlteredPhoto, w.Code, "%s, %s", k.name, name)
				}
			}
		}
	}
}

// A posterised copy is named as altered where its marks betray it: not where noise
// mixes two levels in a mark, or the photo is too dark to hold several. Most are.
func TestPosterisedCopiesAreNamed(t *testing.T) {
	for levels, least := range map[float64]float64{3: 0.6, 4: 0.6, 6: 0.4} {
		named, all := 0.0, 0.0
		for _, k := range knownPhotos(t, scenesFor(20)) {
			r, err := strip.Read(strip.Input{Photo: copied(t, k.photo, 95, posterised(levels)), Chart: k.chart, Marks: k.marks})
			if err != nil {
				continue
			}
			all++
			if slices.ContainsFunc(r.Light.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeAlteredPhoto }) {
				named++
			}
		}
		t.Logf("%g levels: %g of %g named", levels, named, all)
		assert.GreaterOrEqual(t, named, least*all, "%g levels", levels)
	}
}

// Hardly a true photo in bad light is called altered, or its white not white, and none
// in good and fair light.
func TestTruePhotosAreNotCalledAltered(t *testing.T) {
	photos, bad, other := 0, 0, 0
	eachScene(t, 64_500_000, manyOrFew(10), func(c Config, photo calib.Photo) {
		light := calib.FitLight(photo.Whites, photo.Width, photo.Height, colorimetry.D50)
		called := slices.ContainsFunc(light.Report(photo).Warnings, func(w calib.Warning) bool {
			return w.Code == calib.CodeAlteredPhoto || w.Code == calib.CodeNotWhite
		})
		photos++
		add1(&bad, called && c.Class == Bad)
		add1(&other, called && c.Class != Bad)
	})
	t.Logf("of %d photos %d in bad light and %d others are called", photos, bad, other)
	assert.Zero(t, other)
	assert.LessOrEqual(t, bad, 1+photos/100)
}
