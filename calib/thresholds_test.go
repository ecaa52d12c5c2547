package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// onePad is a pad of one part beside two swatches, all of one grey of 30 %.
func onePad() Pad {
	grey := colorimetry.Sample{Place: colorimetry.Point{X: 10, Y: 10}, Pixels: 1600, Side: 40, XYZ: colorimetry.D50.Scale(0.3)}
	return Pad{Analyte: charts.Analyte{Name: "iron", Unit: "mg/L", Swatches: []charts.Swatch{{Value: 0}, {Value: 2}}},
		Parts: []colorimetry.Sample{grey}, Swatches: [][]colorimetry.Sample{{grey}, {grey}}}
}

// evenLight is one light all over the photo.
func evenLight(y float64) Light { return FitLight(nil, 1000, 800, colorimetry.D50.Scale(y)) }

// weightOf is what one check says of a reading: the heaviest weight, "" when it says nothing.
func weightOf(check func(r *Reading)) Reliability {
	r := Reading{Reliability: Good, Bracket: [2]float64{0, 2}}
	check(&r)
	if len(r.Warnings) == 0 {
		return ""
	}
	return r.Warnings[0].Weight
}

// Each check of a patch speaks at its figure and not short of it: the figures
// are the ones that the comments of the code tell people, worked by hand to what
// a sample holds (one channel cut off costs 2.5 CIELAB, near full white up to 8).
func TestChecksSpeakAtTheirFigures(t *testing.T) {
	pad := func(change func(s *colorimetry.Sample)) Pad {
		p := onePad()
		change(&p.Parts[0])
		return p
	}
	clipped := func(share, y float64) Reliability {
		return weightOf(func(r *Reading) {
			r.checkClipped(pad(func(s *colorimetry.Sample) { s.Clipped, s.XYZ.Y = share, y }))
		})
	}
	assert.Empty(t, clipped(0.19, 0.3))
	assert.Equal(t, Good, clipped(0.2, 0.3))
	assert.Equal(t, Good, clipped(0.9, 0.3))
	assert.Equal(t, Caution, clipped(0.91, 0.3))
	assert.Equal(t, Good, clipped(0.62, 1), "0.62 x 8 is 4.96")
	assert.Equal(t, Unreliable, clipped(0.63, 1), "0.63 x 8 is 5.04")

	glare := func(share float64) Reliability {
		return weightOf(func(r *Reading) { r.checkGlare(pad(func(s *colorimetry.Sample) { s.Glare = share })) })
	}
	assert.Empty(t, glare(0.29))
	assert.Equal(t, Caution, glare(0.30))
	assert.Equal(t, Caution, glare(0.45))
	assert.Equal(t, Unreliable, glare(0.46))

	small := func(n int) Reliability {
		return weightOf(func(r *Reading) { r.checkSize(pad(func(s *colorimetry.Sample) { s.Pixels = n })) })
	}
	assert.Empty(t, small(150))
	assert.Equal(t, Caution, small(149))

	dark := func(y float64) Reliability {
		return weightOf(func(r *Reading) { r.checkDark(onePad(), evenLight(y)) })
	}
	assert.Empty(t, dark(0.0601))
	assert.Equal(t, Unreliable, dark(0.0599))

	beside := func(mismatch float64) Reliability {
		return weightOf(func(r *Reading) { r.Mismatch = mismatch; r.checkOffScale() })
	}
	assert.Empty(t, beside(2.39))
	assert.Equal(t, Caution, beside(2.4))
	assert.Equal(t, Caution, beside(3.6))
	assert.Equal(t, Unreliable, beside(3.61))
}

// The checks of the picture: edges over a quarter of a mark, colour that moves
// by over 3 towards the middle, grain over 0.15 of the brightness, or over 0.10
// where it makes over 0.15 steps of error.
func TestChecksOfThePictureSpeakAtTheirFigures(t *testing.T) {
	blurred := func(edge, shift float64) Reliability {
		p := onePad()
		for _, s := range []*colorimetry.Sample{&p.Parts[0], &p.Swatches[0][0], &p.Swatches[1][0]} {
			s.Edge, s.InsetShift = edge, shift
		}
		return weightOf(func(r *Reading) { r.checkBlurred(p) })
	}
	assert.Empty(t, blurred(10, 9))
	assert.Equal(t, Caution, blurred(10.1, 3))
	assert.Equal(t, Unreliable, blurred(10.1, 3.1))

	noisy := func(grain, steps float64) Reliability {
		p := onePad()
		p.Parts[0].Cov[1][1] = sq(grain * 0.3)
		return weightOf(func(r *Reading) { r.Budget = []Contribution{{SourceNoise, steps}}; r.checkNoisy(p) })
	}
	assert.Empty(t, noisy(0.149, 0.1))
	assert.Equal(t, Caution, noisy(0.151, 0))
	assert.Empty(t, noisy(0.149, 0.15))
	assert.Empty(t, noisy(0.099, 0.2))
	assert.Equal(t, Caution, noisy(0.101, 0.151))
	assert.Equal(t, Caution, noisy(0.101, 0.70), "2 x 1.96 x 0.70 is 2.744 steps of band")
	assert.Equal(t, Unreliable, noisy(0.101, 0.71), "2 x 1.96 x 0.71 is 2.783 steps of band")
}

// The checks of the light, as natural logarithms, Duv and kelvin.
func TestChecksOfTheLightSpeakAtTheirFigures(t *testing.T) {
	says := func(check func(r *LightReport)) bool {
		r := LightReport{Reliability: Good, CCT: 5000}
		check(&r)
		return len(r.Warnings) > 0
	}
	for unevenness, want := range map[float64]bool{0.6: false, 0.61: true} {
		assert.Equal(t, want, says(func(r *LightReport) { r.Unevenness = unevenness; r.checkUneven() }), "%v", unevenness)
	}
	for _, c := range []struct {
		cct, duv float64
		want     bool
	}{
		{5000, 0.02, false}, {5000, 0.021, true}, {5000, -0.02, false}, {5000, -0.021, true},
		{3200, 0, false}, {3199, 0, true}, {9500, 0, false}, {9501, 0, true},
	} {
		assert.Equal(t, c.want, says(func(r *LightReport) { r.CCT, r.Duv = c.cct, c.duv; r.checkCast() }), "%+v", c)
	}
	for stray, want := range map[float64]bool{0.1: false, 0.101: true, -0.1: false, -0.101: true} {
		assert.Equal(t, want, says(func(r *LightReport) { r.checkShadow(Light{Residuals: []float64{0.01, stray}}) }), "%v", stray)
	}
	for share, want := range map[float64]bool{0.2: false, 0.21: true} {
		white := White{Material: "card", Sample: colorimetry.Sample{Clipped: share}}
		assert.Equal(t, want, says(func(r *LightReport) { r.clippedWhite([]White{white}) }), "%v", share)
	}
}

// A clipped pad is a doubt from 1.25 CIELAB where white is recorded above 0.9,
// elsewhere from 2.75; by hand 2.5 x 0.5 = 1.25, and near full white 8 x 0.34 = 2.72.
func TestDoubtOfClippingAtItsFigures(t *testing.T) {
	for _, c := range []struct {
		share, y, light float64
		want            bool
	}{{0.50, 0.3, 0.95, false}, {0.51, 0.3, 0.95, true}, {1, 0.3, 0.9, false}, {0.34, 1, 0.9, false}, {0.35, 1, 0.9, true}} {
		p := onePad()
		p.Parts[0].Clipped, p.Parts[0].XYZ.Y = c.share, c.y
		assert.Equal(t, c.want, len(doubtOfClipping(p, evenLight(c.light))) > 0, "%+v", c)
	}
}

// A change of the light counts by what it does to the reading. L* moves by 100 a natural
// log unit and by 20 a step here, so a trend of v is a shade of v/100, of which 0.6
// is error: v x 0.6 / 20 steps, 0.325 from 10.83 on. Where L* hardly matters to
// the place nothing is said; of two parts 12 and 16 are sqrt(200) together, and each
// part of the pad is off by its own.
func TestDoubtOfTrendCountsStepsAndNamesTheWorst(t *testing.T) {
	p := onePad()
	at := func(trend ...float64) (c colourAt) {
		for range trend {
			c.toLab = append(c.toLab, block{{-100}})
		}
		c.trend = trend
		return c
	}
	s := func(a, b colourAt) Scale { return Scale{nodes: []colourAt{a, b}, pad: a} }
	r := Reading{pull: pull{by: []float64{1. / 20, 0, 0, 1. / 20, 0, 0}}}
	assert.Empty(t, r.doubtOfTrend(s(at(10.8), at(2)), p))
	for _, c := range []struct {
		a, b   colourAt
		value  string
		figure float64
	}{
		{at(10.9), at(2), "for 0", 10.9 * 0.6 / 20}, {at(10.9), at(11), "for 2", 11 * 0.6 / 20},
		{at(12, 16), at(4.9, 0), "for 0", math.Sqrt(200) * math.Sqrt2 * 0.6 / 20},
	} {
		w := r.doubtOfTrend(s(c.a, c.b), p)
		require.Len(t, w, 1)
		assert.Contains(t, w[0].Seen, "The swatch "+c.value+" grows")
		within(t, c.figure, w[0].Figure, 1e-12, "trend")
	}
	hardly := Reading{pull: pull{by: []float64{1. / 2000, 1. / 5, 0}}}
	assert.Empty(t, hardly.doubtOfTrend(s(at(40), at(2)), p))
	still := Reading{} // the curve does not move: anything may be
	assert.Len(t, still.doubtOfTrend(s(at(4), at(2)), p), 1)
}

// A pad that changes from side to side speaks by what that does to its place: an
// error of e in L* is e/20 steps here, caution from 0.195 and unreliable over 0.455. A
// change too small to see is no shadow, whatever it does; one of 8 of L* is always
// named, and one over 18 never stands.
func TestTrendSpeaksBySteps(t *testing.T) {
	p := onePad()
	check := func(e, seen float64) Reliability {
		r := Reading{Reliability: Good, pull: pull{by: []float64{1. / 20, 0, 0}, lo: 0.5, hi: 0.5}}
		even := colourAt{trend: []float64{0}, uneven: []block{{}}}
		s := Scale{nodes: []colourAt{even, even}, pad: colourAt{trend: []float64{seen}, uneven: []block{{{e * e}}}}}
		r.checkTrend(p, evenLight(1), s)
		if len(r.Warnings) == 0 {
			return ""
		}
		return r.Warnings[0].Weight
	}
	assert.Empty(t, check(3.8, 7.9))
	assert.Equal(t, Caution, check(4, 7.9))
	assert.Equal(t, Caution, check(9, 7.9))
	assert.Equal(t, Unreliable, check(9.2, 7.9))
	assert.Empty(t, check(9.2, 2.9))
	assert.Equal(t, Caution, check(0.1, 8))
	assert.Equal(t, Caution, check(0.1, 18))
	assert.Equal(t, Unreliable, check(0.1, 18.1))
}

// Uneven or mixed light makes no reading unreliable whose own light is known.
func TestKnownLightHolds(t *testing.T) {
	r := Reading{Budget: []Contribution{{SourceMismatch, 0.4}, {SourceLight, 0.14}}}
	for code, want := range map[Code]bool{CodeUnevenLight: true, CodeMixedLight: true, CodeShadow: false} {
		assert.Equal(t, want, r.lightHolds(Warning{Code: code}), code)
	}
	r.Budget[1].Steps = 0.16
	assert.False(t, r.lightHolds(Warning{Code: CodeUnevenLight}))
	assert.False(t, (&Reading{}).lightHolds(Warning{Code: CodeUnevenLight}), "no budget")
}

// How bright a photo is says nothing of how well the phone balanced the lamp; a
// white without a cast expects the least mismatch.
func TestExpectedSizeIsOfTheCastAlone(t *testing.T) {
	size := func(k float64, cast colorimetry.XYZ) float64 {
		p := scene(onRamp(2.5))
		relight(&p, func(colorimetry.Point) colorimetry.XYZ {
			return colorimetry.XYZ{X: k * cast.X, Y: k * cast.Y, Z: k * cast.Z}
		})
		return FitLight(p.Whites, p.Width, p.Height, colorimetry.XYZ{}).expectedSize(p)
	}
	neutral := colorimetry.XYZ{X: colorimetry.D50.X / 0.97, Y: 1, Z: colorimetry.D50.Z / 0.78}
	warm := colorimetry.XYZ{X: neutral.X, Y: 1, Z: 0.93 * neutral.Z}
	within(t, -castMismatch/3.6, size(1, neutral), 1e-3, "no cast")
	// A white with 0.93 of its blue has b* = 200 x (1 - 0.93^(1/3)) = 4.78 (CIE 015), a quarter of the way to the most.
	for _, k := range []float64{0.25, 0.5, 1, 1.2} {
		within(t, castMismatch*4.78/20-castMismatch/3.6, size(k, warm), 5e-3, "a warm cast at any exposure")
	}
}

func TestScaleRefusesWhatIsNoFigure(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for k := range 6 {
			p := scene(onRamp(1))
			s := &p.Pads[0].Parts[0]
			if k >= 3 {
				s = &p.Pads[0].Swatches[3][0]
			}
			*[]*float64{&s.XYZ.X, &s.XYZ.Y, &s.XYZ.Z}[k%3] = v
			_, _, err := Read(p)
			assert.ErrorContains(t, err, "not a finite number", "%v, %d", v, k)
		}
	}
}
