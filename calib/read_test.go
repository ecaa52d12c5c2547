package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// flat is a sample of one colour under a light, with a little noise.
func flat(at colorimetry.Point, lab colorimetry.Lab, light colorimetry.XYZ) colorimetry.Sample {
	c := lab.XYZ(colorimetry.D50)
	s := colorimetry.Sample{Place: at, Pixels: 1600, Effective: 400,
		XYZ: colorimetry.XYZ{X: c.X * light.X / colorimetry.D50.X, Y: c.Y * light.Y, Z: c.Z * light.Z / colorimetry.D50.Z}}
	for i := range 3 {
		s.Cov[i][i] = sq(0.004)
	}
	return s
}

// ramp is a six-swatch scale from pale to strong pink.
var ramp = []colorimetry.Lab{{L: 92, A: 2, B: 4}, {L: 86, A: 10, B: 2}, {L: 79, A: 20, B: 0}, {L: 71, A: 31, B: -3},
	{L: 63, A: 42, B: -5}, {L: 54, A: 53, B: -6}}

func rampAnalyte() charts.Analyte {
	a := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1}
	for _, v := range []float64{0, 1, 3, 7, 12, 25} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	return a
}

// onRamp is the straight line between two swatches of the ramp, carried on
// past its ends.
func onRamp(t float64) colorimetry.Lab {
	i := min(max(int(math.Floor(t)), 0), len(ramp)-2)
	f := t - float64(i)
	a, b := ramp[i], ramp[i+1]
	return colorimetry.Lab{L: a.L + f*(b.L-a.L), A: a.A + f*(b.A-a.A), B: a.B + f*(b.B-a.B)}
}

// wetten adds the white light that a wet pad throws back.
func wetten(lab colorimetry.Lab) colorimetry.Lab {
	c, w := lab.XYZ(colorimetry.D50), colorimetry.D50
	g := glossMean
	return colorimetry.XYZ{X: c.X*(1-g) + g*w.X, Y: c.Y*(1-g) + g*w.Y, Z: c.Z*(1-g) + g*w.Z}.Lab(w)
}

// scene is a photo of the ramp in slightly uneven light with the pad at the colour given.
func scene(pad colorimetry.Lab) Photo {
	light := func(p colorimetry.Point) colorimetry.XYZ {
		y := 0.8 * math.Exp(0.0001*(p.X-500)-0.00005*p.Y)
		return colorimetry.XYZ{X: 0.97 * y, Y: y, Z: 0.78 * y}
	}
	p := Photo{Width: 1000, Height: 750}
	white := colorimetry.Lab{L: 100}
	for _, at := range []colorimetry.Point{{X: 60, Y: 60}, {X: 940, Y: 60}, {X: 60, Y: 690}, {X: 940, Y: 690}, {X: 500, Y: 380}} {
		p.Whites = append(p.Whites, White{Material: "card", Sample: flat(at, white, light(at))})
	}
	at := colorimetry.Point{X: 150, Y: 400}
	pd := Pad{Analyte: rampAnalyte(), Parts: []colorimetry.Sample{flat(at, wetten(pad), light(at))}}
	for i, lab := range ramp {
		at := colorimetry.Point{X: 250 + 110*float64(i), Y: 200}
		pd.Swatches = append(pd.Swatches, []colorimetry.Sample{flat(at, lab, light(at))})
	}
	p.Pads = []Pad{pd}
	return p
}

func readOne(t *testing.T, p Photo) Reading {
	t.Helper()
	_, rs, err := Read(p)
	require.NoError(t, err)
	require.Len(t, rs, len(p.Pads))
	return rs[0]
}

// within fails for NaN as well.
func within(t *testing.T, want, got, tol float64, what string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, tol)
	}
}

func TestPadOnTheScaleReadsItsPlace(t *testing.T) {
	for _, colour := range []float64{0.5, 1, 1.7, 2.25, 3.5, 4.4} {
		step := colour
		if colour < 1 {
			// The ramp's first two steps are 10.198 and 12.369 long, at 0, 1 and 3 mg/L: r is 0.4519, k is 0.2163 + 0.5, and
			// f (1 + k) / (1 + k f) is 0.5 at 0.3681, by hand.
			step = 0.3681
		}
		r := readOne(t, scene(onRamp(colour)))
		a := r.Analyte
		within(t, step, a.StepOf(r.Value), 0.1, "place")
		assert.Equal(t, Within, r.Range)
		assert.LessOrEqual(t, r.Band.Low.Value, a.ValueAt(step))
		assert.True(t, r.Band.High.Open || r.Band.High.Value >= a.ValueAt(step))
		assert.Equal(t, Good, r.Reliability, "step %v: %v", step, r.Warnings)
		assert.Less(t, r.DeltaEToScale, 1.0)
	}
}

func TestBracketHoldsTheValue(t *testing.T) {
	r := readOne(t, scene(onRamp(3.4)))
	assert.Equal(t, [2]float64{7, 12}, r.Bracket)
	assert.Greater(t, r.Value, 7.0)
	assert.Less(t, r.Value, 12.0)
}

func TestPastTheTopIsOpenAndNeverExtended(t *testing.T) {
	r := readOne(t, scene(onRamp(6.2)))
	assert.Equal(t, Above, r.Range)
	assert.Equal(t, 25.0, r.Value)
	assert.True(t, r.Band.High.Open)
	assert.False(t, r.Band.Low.Open)
}

func TestPadThatMatchesTheTopSwatchIsAtLeast(t *testing.T) {
	r := readOne(t, scene(ramp[5]))
	assert.True(t, r.Band.High.Open)
}

func TestZeroSwatchClosesTheLowSide(t *testing.T) {
	r := readOne(t, scene(ramp[0]))
	assert.False(t, r.Band.Low.Open)
	assert.Equal(t, 0.0, r.Band.Low.Value)
	assert.Equal(t, Within, r.Range)
}

func TestLowestSwatchThatIsNotZeroLeavesTheLowSideOpen(t *testing.T) {
	p := scene(onRamp(-0.6))
	for i, v := range []float64{0.5, 1, 3, 7, 12, 25} {
		p.Pads[0].Analyte.Swatches[i].Value = v
	}
	r := readOne(t, p)
	assert.Equal(t, Below, r.Range)
	assert.Equal(t, 0.5, r.Value)
	assert.True(t, r.Band.Low.Open)
}

func TestColourOffTheScaleIsUnreliable(t *testing.T) {
	r := readOne(t, scene(colorimetry.Lab{L: 60, A: -35, B: 40}))
	assert.Equal(t, Unreliable, r.Reliability)
	assert.Contains(t, codes(r.Warnings), "off-scale-colour")
}

func TestTwoSwatchesOfOneColourAreAlike(t *testing.T) {
	p := scene(onRamp(2.5))
	p.Pads[0].Swatches[3][0].XYZ = p.Pads[0].Swatches[2][0].XYZ
	p.Pads[0].Parts[0].XYZ = flat(colorimetry.Point{X: 150, Y: 400}, wetten(ramp[2]), colorimetry.XYZ{X: 0.76, Y: 0.77, Z: 0.6}).XYZ
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "swatches-alike")
	assert.LessOrEqual(t, r.Band.Low.Value, 3.0)
	assert.True(t, r.Band.High.Open || r.Band.High.Value >= 7)
}

func TestExchangedSwatchesAreNoticed(t *testing.T) {
	p := scene(onRamp(4.5))
	s := p.Pads[0].Swatches
	s[1][0].XYZ, s[2][0].XYZ = s[2][0].XYZ, s[1][0].XYZ
	assert.Contains(t, codes(readOne(t, p).Warnings), "swatches-out-of-order")
	assert.NotContains(t, codes(readOne(t, scene(onRamp(4.5))).Warnings), "swatches-out-of-order")
}

func TestColourThatFitsTwoPlacesIsTwoPlaces(t *testing.T) {
	p := scene(onRamp(1))
	fold := []colorimetry.Lab{{L: 90, A: 0, B: 5}, {L: 70, A: 30, B: 5}, {L: 55, A: 60, B: 5}, {L: 50, A: 60, B: 60},
		{L: 70, A: 32, B: 40}, {L: 70, A: 31, B: 6}}
	for i, lab := range fold {
		s := &p.Pads[0].Swatches[i][0]
		*s = flat(s.Place, lab, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
	}
	for i := range p.Whites {
		s := &p.Whites[i].Sample
		*s = flat(s.Place, colorimetry.Lab{L: 100}, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
	}
	p.Pads[0].Parts[0] = flat(p.Pads[0].Parts[0].Place, wetten(fold[1]), colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "two-places")
	assert.GreaterOrEqual(t, len(r.Band.Hills), 2)
	assert.Equal(t, Unreliable, r.Reliability)
}

func TestClippedPadWidensTheBandAndIsNotUnreliable(t *testing.T) {
	clear := readOne(t, scene(onRamp(3.5)))
	p := scene(onRamp(3.5))
	p.Pads[0].Parts[0].Clipped = 1
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "clipped")
	assert.NotEqual(t, Unreliable, r.Reliability)
	assert.Greater(t, r.Posterior.Spread(), 1.2*clear.Posterior.Spread())
}

func TestGlareIsNamedAndMuchOfItIsUnreliable(t *testing.T) {
	p := scene(onRamp(3.5))
	p.Pads[0].Parts[0].Glare = 0.4
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "glare")
	assert.Equal(t, Caution, r.Reliability)
	p.Pads[0].Parts[0].Glare = 0.6
	assert.Equal(t, Unreliable, readOne(t, p).Reliability)
}

func TestTrendWithinThePadIsNamedByItsKind(t *testing.T) {
	p := scene(onRamp(3.5))
	pad := &p.Pads[0].Parts[0]
	calm := readOne(t, p)
	pad.Slope[0] = colorimetry.XYZ{X: 0.0039, Y: 0.004, Z: 0.0031} // white light, 20 % of the white over 40 pixels
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "glare")
	assert.Greater(t, r.Posterior.Spread(), 1.3*calm.Posterior.Spread(), "an uneven pad is less certain")
	k := 0.4 / 40
	pad.Slope[0] = colorimetry.XYZ{X: k * pad.XYZ.X, Y: k * pad.XYZ.Y, Z: k * pad.XYZ.Z}
	assert.Contains(t, codes(readOne(t, p).Warnings), "shadow")
	pad.Slope[0] = colorimetry.XYZ{X: 2 * k * pad.XYZ.X, Y: 2 * k * pad.XYZ.Y, Z: 2 * k * pad.XYZ.Z}
	assert.Equal(t, Unreliable, readOne(t, p).Reliability)
}

func TestPadBrighterThanWhiteIsGlare(t *testing.T) {
	p := scene(colorimetry.Lab{L: 109, A: 2, B: 3})
	p.Pads[0].Swatches[0][0] = flat(p.Pads[0].Swatches[0][0].Place, colorimetry.Lab{L: 97, A: 1, B: 2}, colorimetry.XYZ{X: 0.77,
		Y: 0.79, Z: 0.62})
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "glare")
	assert.Equal(t, Unreliable, r.Reliability)
	assert.NotContains(t, codes(readOne(t, scene(ramp[0])).Warnings), "glare")
}

func TestNoWhiteIsSaidAndStillReads(t *testing.T) {
	p := scene(onRamp(3.5))
	p.Whites = nil
	light, rs, err := Read(p)
	require.NoError(t, err)
	assert.Contains(t, codes(light.Report(p).Warnings), "no-white")
	assert.Equal(t, Caution, rs[0].Reliability)
	assert.LessOrEqual(t, rs[0].Band.Low.Value, rs[0].Analyte.ValueAt(3.5))
}

func TestDarkPhotoIsUnreliable(t *testing.T) {
	p := scene(onRamp(3.5))
	dim := func(s *colorimetry.Sample) {
		s.XYZ = colorimetry.XYZ{X: s.XYZ.X / 30, Y: s.XYZ.Y / 30, Z: s.XYZ.Z / 30}
	}
	for i := range p.Whites {
		dim(&p.Whites[i].Sample)
	}
	dim(&p.Pads[0].Parts[0])
	for i := range p.Pads[0].Swatches {
		dim(&p.Pads[0].Swatches[i][0])
	}
	r := readOne(t, p)
	assert.Contains(t, codes(r.Warnings), "too-dark")
	assert.Equal(t, Unreliable, r.Reliability)
}

func TestSmallMarksAreNamed(t *testing.T) {
	p := scene(onRamp(3.5))
	p.Pads[0].Swatches[2][0].Pixels = 60
	assert.Contains(t, codes(readOne(t, p).Warnings), "too-small")
}

func TestBurntOutWhiteIsNamed(t *testing.T) {
	p := scene(onRamp(3.5))
	for i := range 3 {
		p.Whites[i].Sample.Clipped = 1
	}
	light, _, err := Read(p)
	require.NoError(t, err)
	rep := light.Report(p)
	assert.Contains(t, codes(rep.Warnings), "clipped")
	assert.Equal(t, Caution, rep.Reliability)
}

func TestPresencePadIsNeverInterpolated(t *testing.T) {
	a := charts.Analyte{Name: "nitrite", Kind: charts.KindPresence, Parts: 1, Swatches: []charts.Swatch{{Value: 0, Label: "no"},
		{Value: 1, Label: "yes"}}}
	at := func(t float64) Photo {
		p := scene(onRamp(t))
		p.Pads[0].Analyte = a
		p.Pads[0].Swatches = [][]colorimetry.Sample{p.Pads[0].Swatches[0], p.Pads[0].Swatches[3]}
		return p
	}
	assert.Equal(t, 0.0, readOne(t, at(0.1)).Value)
	assert.Equal(t, 1.0, readOne(t, at(2.8)).Value)
	r := readOne(t, at(1.5))
	assert.True(t, math.IsNaN(r.Value), "half way between no and yes is neither: %v", r.Value)
	assert.Equal(t, [2]float64{0, 1}, r.Bracket)
}

func TestWaterBandHoldsTheBandAndSaysWhatItRestsOn(t *testing.T) {
	p := scene(onRamp(2.5))
	r := readOne(t, p)
	assert.True(t, r.KitAssumed)
	assert.Less(t, r.WaterBand.Low.Value, r.Band.Low.Value)
	assert.Greater(t, r.WaterBand.High.Value, r.Band.High.Value)
	p.Pads[0].Analyte.KitError = &charts.KitError{Steps: 1.5}
	wide := readOne(t, p)
	assert.False(t, wide.KitAssumed)
	assert.Greater(t, wide.WaterBand.High.Value, r.WaterBand.High.Value)
}

func TestWaterBandHoldsTheBandOfTwoHills(t *testing.T) {
	r := Reading{Analyte: rampAnalyte()}
	for _, share := range []float64{0.03, 0.1, 0.5} {
		p := Posterior{First: 0, Top: 5, Mass: make([]float64, 6*PerStep+1)}
		p.Mass[PerStep/2], p.Mass[4*PerStep+PerStep/2] = 1-share, share
		band := r.band(p)
		water := r.band(p.Blur(func(float64) float64 { return 0.25 })).Hull(band)
		assert.LessOrEqual(t, water.Low.Value, band.Low.Value)
		assert.True(t, water.High.Open || water.High.Value >= band.High.Value)
	}
}

func TestBudgetAddsUpToThePosterior(t *testing.T) {
	r := readOne(t, scene(onRamp(2.5)))
	sum := 0.0
	for _, s := range r.Budget {
		assert.GreaterOrEqual(t, s.Steps, 0.0)
		sum += sq(s.Steps)
	}
	// To first order; the posterior has Student tails and a bending scale, so
	// the two agree only roughly.
	within(t, 1, math.Sqrt(sum)/r.Posterior.Spread(), 0.35, "budget over posterior")
}

func TestPoolingTakesTheOtherPadsMismatchIn(t *testing.T) {
	alone := readOne(t, scene(onRamp(2.5)))
	p := scene(onRamp(2.5))
	for range 2 { // two neighbours well off their scales
		other := scene(colorimetry.Lab{L: 71, A: 26, B: 14}).Pads[0]
		p.Pads = append(p.Pads, other)
	}
	assert.Greater(t, readOne(t, p).Posterior.Spread(), 1.15*alone.Posterior.Spread())
}

func TestReadRefusesWhatMakesNoScale(t *testing.T) {
	p := scene(onRamp(1))
	p.Pads[0].Swatches = p.Pads[0].Swatches[:3]
	_, _, err := Read(p)
	assert.ErrorContains(t, err, "nitrate")
	p = scene(onRamp(1))
	p.Pads[0].Parts[0].XYZ.X = math.NaN()
	_, _, err = Read(p)
	assert.ErrorContains(t, err, "not a finite number")
}

func codes(ws []Warning) []string {
	var out []string
	for _, w := range ws {
		out = append(out, string(w.Code))
	}
	return out
}

func BenchmarkBandOfOnePad(b *testing.B) {
	p := scene(onRamp(2.5))
	for b.Loop() {
		if _, _, err := Read(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBandOfOnePadOfFourParts(b *testing.B) {
	p := scene(onRamp(2.5))
	rng := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		p.Pads[0].Parts = append(p.Pads[0].Parts, p.Pads[0].Parts[0])
		for i := range p.Pads[0].Swatches {
			s := p.Pads[0].Swatches[i][0]
			s.XYZ.X *= 1 + 0.02*rng.NormFloat64()
			p.Pads[0].Swatches[i] = append(p.Pads[0].Swatches[i], s)
		}
	}
	for b.Loop() {
		if _, _, err := Read(p); err != nil {
			b.Fatal(err)
		}
	}
}
