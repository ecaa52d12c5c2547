package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/colorimetry"
)

// withCodes is a photo whose swatches have these codes of sRGB, 0 to 255, three a swatch.
func withCodes(codes ...float64) Photo {
	var p Pad
	for i := 0; i+2 < len(codes); i += 3 {
		c := colorimetry.RGB{R: codes[i] / 255, G: codes[i+1] / 255, B: codes[i+2] / 255}
		p.Parts = append(p.Parts, colorimetry.Sample{XYZ: colorimetry.SRGB.XYZ(c)})
	}
	return Photo{Pads: []Pad{p}}
}

func fewCodes(p Photo) bool {
	var r LightReport
	r.checkFewCodes(p)
	return len(r.Warnings) > 0
}

// Colours on few levels are named, whatever rounds them; colours anywhere never are,
// nor greys, nor a scale of which one channel hardly changes.
func TestFewCodesAreNamed(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	rounds := map[string]func(v, n float64) float64{
		"nearest": func(v, n float64) float64 { return math.Round(v/255*(n-1)) / (n - 1) * 255 },
		"below":   func(v, n float64) float64 { return math.Floor(v*n/256) * 256 / n },
		"middle":  func(v, n float64) float64 { return (math.Floor(v*n/256) + 0.5) * 256 / n },
	}
	for range 200 {
		var any, grey, dye []float64
		for i := range 8 {
			for range 3 {
				any = append(any, 20+215*rng.Float64())
			}
			v := 40 + 25*float64(i) + 8*rng.Float64()
			grey = append(grey, v, v+rng.NormFloat64(), v+rng.NormFloat64())
			dye = append(dye, 225+2*rng.NormFloat64(), 60+20*float64(i)+5*rng.Float64(), 80+15*float64(i)+5*rng.Float64())
		}
		for name, codes := range map[string][]float64{"any": any, "grey": grey, "dye": dye} {
			assert.False(t, fewCodes(withCodes(codes...)), "%s: %v", name, codes)
		}
		for name, round := range rounds {
			for _, n := range []float64{4, 5, 6, 8} {
				var few []float64
				for _, v := range any {
					few = append(few, math.Max(0, math.Min(255, round(v, n)+0.6*math.Max(-2, math.Min(2, rng.NormFloat64())))))
				}
				assert.True(t, fewCodes(withCodes(few...)), "%s of %g: %v", name, n, few)
			}
		}
	}
	assert.False(t, fewCodes(Photo{}))
}
