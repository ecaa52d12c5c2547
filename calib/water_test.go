package calib

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// By hand: r = t = 1/2 have f = 1/4 each, q = 1/2, so r' = 3/2 - sqrt(1/4 + 1) = 0.381966 and
// the share 0.763932. r = 1/5 has f = 8/5; with t = 1/2, q = 37/20 and r' = 57/20 -
// sqrt((37/20)^2 + 37/10) = 0.181199, the share 0.905994.
func TestStainMixedInByHand(t *testing.T) {
	within(t, 0.763932, mixedIn(0.5, 0.5), 1e-6, "half in half")
	within(t, 0.905994, mixedIn(0.2, 0.5), 1e-6, "half in a fifth")
	within(t, 1, mixedIn(0.4, 1), 1e-12, "no stain")
	within(t, 0.5, mixedIn(0.97, 0.5), 0.02, "on white it is nearly the film")
}

// A film that lets half of all light through halves Y of any colour; L* is by CIE 15,
// 116 Y^(1/3) - 16: a grey of Y = 0.4 becomes one of 0.2, L* 51.837.
func TestFilmByHand(t *testing.T) {
	w := stain{through: [3]float64{0.5, 0.5, 0.5}}
	grey := colorimetry.D50.Scale(0.4).Lab(colorimetry.D50)
	got := w.over([3]float64{grey.L, grey.A, grey.B}, 1, 0, [3]float64{1, 1, 1})
	within(t, 51.837, got[0], 0.001, "L*")
	within(t, 0, got[1], 1e-9, "a*")
	within(t, 0, got[2], 1e-9, "b*")
}

// soakedIn is a photo with a wet white of this colour.
func soakedIn(p Photo, lab colorimetry.Lab) Photo {
	at := colorimetry.Point{X: 150, Y: 500}
	y := 0.8 * math.Exp(0.0001*(at.X-500)-0.00005*at.Y) // of the light of scene
	p.WetWhites = []White{{Material: "filter", Sample: flat(at, lab, colorimetry.XYZ{X: 0.97 * y, Y: y, Z: 0.78 * y})}}
	return p
}

// inWater is a photo of a pad at a place of the ramp in pink water, and with its wet white.
func inWater(step float64) Photo {
	w := stain{through: [3]float64{0.9, 0.25, 0.55}}
	over := func(c colorimetry.Lab, amount float64) colorimetry.Lab {
		v := w.over([3]float64{c.L, c.A, c.B}, amount, stainMixed, [3]float64{1, 1, 1})
		return colorimetry.Lab{L: v[0], A: v[1], B: v[2]}
	}
	return soakedIn(scene(over(onRamp(step), 0.8)), over(colorimetry.Lab{L: 97}, 1))
}

func TestStainIsTakenIntoAccount(t *testing.T) {
	for _, step := range []float64{1.5, 2.5, 3.5} {
		p := inWater(step)
		r := readOne(t, p)
		assert.True(t, covers(r, step), "with the wet white, step %v", step)
		assert.NotEqual(t, Good, r.Reliability)
		assert.Positive(t, r.share(SourceWater))
		require.NotEmpty(t, r.Warnings)
		assert.Equal(t, CodeColouredWater, r.Warnings[len(r.Warnings)-1].Code)
		dry := p
		dry.WetWhites = nil
		without := readOne(t, dry)
		off := func(r Reading) float64 { return math.Abs(r.Analyte.StepOf(r.Value) - step) }
		assert.Less(t, off(r), 0.75, "step %v", step)
		assert.Greater(t, off(without), 0.5, "the stain would mislead, step %v", step)
		assert.False(t, covers(without, step), "step %v", step)
		for i, sw := range r.Swatches {
			assert.Equal(t, without.Swatches[i].Lab, sw.Lab, "swatches are shown as they are printed")
		}
	}
}

// covers reports whether the band holds a place.
func covers(r Reading, step float64) bool {
	v := r.Analyte.ValueAt(step)
	return r.Band.Low.Value <= v && (r.Band.High.Open || v <= r.Band.High.Value)
}

// warnedOf is the warning of a code, or none.
func warnedOf(r Reading, code Code) (Warning, bool) {
	for _, w := range r.Warnings {
		if w.Code == code {
			return w, true
		}
	}
	return Warning{}, false
}

func TestWaterAsThePersonSaysIt(t *testing.T) {
	plain := readOne(t, scene(onRamp(2.5)))
	grey, blue, wood := colorimetry.Lab{L: 80, B: 2}, colorimetry.Lab{L: 80, A: -18, B: -31}, colorimetry.Lab{L: 75, A: 4, B: 10}
	for name, c := range map[string]struct {
		water charts.Water
		wet   []colorimetry.Lab
		want  Reliability
		named bool
	}{
		"unsaid":                {charts.WaterUnsaid, nil, Good, false},
		"clear":                 {charts.WaterClear, nil, Good, false},
		"tint":                  {charts.WaterTint, nil, Good, false},
		"dark":                  {charts.WaterDark, nil, Unreliable, true},
		"cloudy":                {charts.WaterCloudy, nil, Unreliable, true},
		"cloudy and soaked":     {charts.WaterCloudy, []colorimetry.Lab{blue}, Unreliable, true},
		"clear on a dark table": {charts.WaterClear, []colorimetry.Lab{grey}, Good, false},
		"dark that leaves none": {charts.WaterDark, []colorimetry.Lab{grey}, Unreliable, true},
		"clear but blue":        {charts.WaterClear, []colorimetry.Lab{blue}, Caution, true},
		"unsaid but blue":       {charts.WaterUnsaid, []colorimetry.Lab{blue}, Caution, true},
		"clear on warm wood":    {charts.WaterClear, []colorimetry.Lab{wood}, Good, false},
		"unsaid on warm wood":   {charts.WaterUnsaid, []colorimetry.Lab{wood}, Caution, true},
		"clear but dark red":    {charts.WaterClear, []colorimetry.Lab{{L: 30, A: 40, B: 20}}, Caution, true},
		"dark and pale":         {charts.WaterDark, []colorimetry.Lab{wood}, Caution, true},
	} {
		p := scene(onRamp(2.5))
		p.Water = c.water
		for _, lab := range c.wet {
			p = soakedIn(p, lab)
		}
		r := readOne(t, p)
		if c.want == Caution {
			assert.NotEqual(t, Good, r.Reliability, name)
		} else {
			assert.Equal(t, c.want, r.Reliability, "%s: %v", name, r.Warnings)
		}
		w, named := warnedOf(r, CodeColouredWater)
		assert.Equal(t, c.named, named, name)
		assert.True(t, !named || w.Weight == c.want, "%s: %v", name, w.Weight)
		assert.NotContains(t, strings.ReplaceAll(w.Text(), "coffee filter", ""), "filter", "%s: metals stay in a filter", name)
		if !c.named && c.water != charts.WaterTint {
			assert.Equal(t, plain, r, "%s: nothing is changed", name)
		}
	}
}

// What tannin takes is small; it widens the band and never narrows it, but for what its
// place moves (the colour runs unevenly in the first step).
func TestTintWidensTheBand(t *testing.T) {
	for _, step := range []float64{0.5, 1.5, 2.5, 3.5, 4.5} {
		p := scene(onRamp(step))
		clear := readOne(t, p)
		p.Water = charts.WaterTint
		tint := readOne(t, p)
		assert.GreaterOrEqual(t, tint.Posterior.Spread(), 0.995*clear.Posterior.Spread())
		assert.True(t, covers(tint, step))
		assert.Positive(t, tint.share(SourceWater))
		assert.Zero(t, clear.share(SourceWater))
	}
}

// The stain is one for all parts of a pad.
func TestStainOfSeveralParts(t *testing.T) {
	w := stain{through: [3]float64{0.3, 0.7, 1}, amount: stainAmount, amountError: stainAmountError, grey: 0.1}
	one, errors := w.stained([]float64{80, 5, 20})
	two, both := w.stained([]float64{80, 5, 20, 50, 30, -10})
	assert.Equal(t, one, two[:3])
	require.Len(t, both, len(errors))
	for k := range errors {
		assert.Equal(t, errors[k], both[k][:3])
	}
}

func TestPresencePadInColouredWater(t *testing.T) {
	p := inWater(4)
	p.Pads[0].Analyte.Kind = charts.KindPresence
	p.Pads[0].Analyte.Swatches = p.Pads[0].Analyte.Swatches[:2]
	p.Pads[0].Swatches = [][]colorimetry.Sample{p.Pads[0].Swatches[0], p.Pads[0].Swatches[4]}
	r := readOne(t, p)
	assert.Greater(t, r.Yes, 0.9)
	assert.NotEqual(t, Good, r.Reliability)
}

// A wet white that is marked wrongly tells nothing of the water.
func TestSlipsWithTheWetWhite(t *testing.T) {
	good := inWater(2.5)
	dry := soakedIn(scene(onRamp(2.5)), colorimetry.Lab{L: 97, B: 1}).WetWhites[0]
	for name, c := range map[string]struct {
		change func(p *Photo)
		says   string
	}{
		"beside it":     {func(p *Photo) { p.WetWhites[0].Sample.Place.X += 200 }, "from grey"},
		"no dry white":  {func(p *Photo) { p.Whites = nil }, "No dry white"},
		"one still dry": {func(p *Photo) { p.WetWhites = append(p.WetWhites, dry) }, "far less coloured"},
		"half soaked": {func(p *Photo) {
			s := &p.WetWhites[0].Sample
			s.Split = colorimetry.Split{Share: 0.4, Clean: 0.98, Together: 0.95, Own: s.XYZ, Other: dry.Sample.XYZ}
		}, "over an edge"},
	} {
		for _, said := range []charts.Water{charts.WaterUnsaid, charts.WaterClear} {
			p := good
			p.Water = said
			p.WetWhites = append([]White(nil), good.WetWhites...)
			p.Pads = append([]Pad(nil), good.Pads...)
			c.change(&p)
			r := readOne(t, p)
			w, _ := warnedOf(r, CodeColouredWater)
			assert.Contains(t, w.Seen, c.says, "%s %s", name, said)
			assert.Equal(t, name == "beside it", w.Weight == Caution, "%s %s: %v", name, said, w.Weight)
		}
	}
}

// What a dye takes from all colours is not told from wet paper's grey: the darker the wet
// white is, the wider the band.
func TestGreyOfTheWetWhiteIsInDoubt(t *testing.T) {
	p := inWater(2.5)
	pale := readOne(t, p)
	p.WetWhites = append([]White(nil), p.WetWhites...)
	p.WetWhites[0].Sample.XYZ = p.WetWhites[0].Sample.XYZ.Scale(0.4)
	dark := readOne(t, p)
	assert.Greater(t, dark.Posterior.Spread(), 1.1*pale.Posterior.Spread())
}
