package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// Kubelka and Munk (1931): K/S = (1-R)^2 / 2R. R = 1/2 gives 1/4, R = 1/4 gives
// 9/8; no absorption is a perfect white.
func TestKubelkaMunk(t *testing.T) {
	assert.Equal(t, 0.25, absorption(0.5))
	assert.Equal(t, 1.125, absorption(0.25))
	assert.Equal(t, 1.0, reflectance(0))
	assert.InDelta(t, 0.5, reflectance(0.25), 1e-15)
	for r := 0.01; r <= 1; r += 0.01 {
		assert.InDelta(t, r, reflectance(absorption(r)), 1e-12)
	}
}

func TestAPadWithoutDyeIsItsPaper(t *testing.T) {
	paper := flat(0.83)
	r := reagent{paper.ratio(), []Spectrum{flat(3)}, func(v float64) []float64 { return []float64{v} }}
	got, stained := r.spectrumAt(0, 1), r.spectrumAt(1, 1)
	for i := range got {
		assert.InDelta(t, paper[i], got[i], 1e-12)
		assert.Less(t, stained[i], paper[i])
	}
	p := Pad{Gloss: 0.02}
	wet := p.wet(&r, 0, 1)
	assert.InDelta(t, 0.02+0.98*0.83, wet[40], 1e-12, "gloss adds unfiltered light")
}

func TestHillIsHalfAtItsHalf(t *testing.T) {
	assert.Equal(t, 0.0, hill(0, 3, 0.7))
	assert.Equal(t, 0.0, hill(-1, 3, 0.7))
	assert.InDelta(t, 0.5, hill(3, 3, 0.7), 1e-15)
	assert.InDelta(t, 0.5, dissociated(6.3, 6.3, 1), 1e-15)
	assert.InDelta(t, 10.0/11, dissociated(7.3, 6.3, 1), 1e-12, "Henderson-Hasselbalch, one unit above")
}

// The families do what they are for: some scale of each kind goes the way the
// name says.
func TestReversedReagentsTurnBack(t *testing.T) {
	light, err := lampNamed("D50")
	require.NoError(t, err)
	v := newViewer(&light)
	values := []float64{0, 1, 2, 5, 10, 20, 50}
	turned := 0
	for seed := range uint64(40) {
		r := reversed(newDice(seed, streamReagent), values)
		least, last := math.Inf(1), 0.0
		for _, value := range values {
			s := r.spectrumAt(value, 1)
			last = v.lab(&s).L
			least = math.Min(least, last)
		}
		if last > least+2 {
			turned++
		}
	}
	assert.Greater(t, turned, 20, "of 40")
}

func TestStepsAndValues(t *testing.T) {
	a := charts.Analyte{Unit: "mg/L", Spacing: charts.SpacingAuto, Swatches: []charts.Swatch{{Value: 0}, {Value: 1}, {Value: 3}, {Value: 5}}}
	for step, want := range map[float64]float64{
		0: 0, 0.5: 0.5, 1: 1, 1.5: math.Sqrt(3), 2: 3, 2.25: 3.5, 3: 5, 3.5: 6, -0.5: 0,
	} {
		assert.InDelta(t, want, valueAt(&a, step), 1e-12, "step %g", step)
		if step >= 0 && step <= 3 {
			assert.InDelta(t, a.ValueAt(step), valueAt(&a, step), 1e-12, "as the chart has it")
		}
	}
}

// drawn draws scenes of a class, without rendering them.
func drawn(t *testing.T, class Class, n int) (out []Config) {
	t.Helper()
	for seed := uint64(1); len(out) < n; seed++ {
		c, err := Draw(seed, class)
		require.NoError(t, err, "seed %d", seed)
		out = append(out, c)
	}
	return out
}

func TestInksMatchThePadsUnderD50(t *testing.T) {
	swatches := 0
	for _, c := range drawn(t, Good, 12) {
		for i := range c.Pads {
			c.Pads[i].PrintCommon, c.Pads[i].PrintEach = 0, 0
		}
		prints, err := c.allPrints()
		require.NoError(t, err)
		for _, p := range prints {
			for part := range p.colours.Scale {
				for k, want := range p.colours.Scale[part] {
					assert.Less(t, colorimetry.DeltaE76(want, p.colours.Swatch[part][k]), matchTolerance)
					swatches++
				}
			}
		}
	}
	assert.Greater(t, swatches, 100)
}

// The printing error is the one stated: its mean square over many swatches is
// 3 (common^2 + each^2), the numbers drawn being cut at 2.5 standard deviations.
func TestPrintingErrorIsAsStated(t *testing.T) {
	sum, n := 0.0, 0.0
	for _, c := range drawn(t, Good, 30) {
		for i := range c.Pads {
			c.Pads[i].PrintCommon, c.Pads[i].PrintEach = 0.5, 0.5
		}
		prints, err := c.allPrints()
		require.NoError(t, err)
		for _, p := range prints {
			for part := range p.colours.Scale {
				for k, want := range p.colours.Scale[part] {
					e := colorimetry.DeltaE76(want, p.colours.Swatch[part][k])
					assert.Less(t, e, 2.5*math.Sqrt(3)*(0.5+0.5)+matchTolerance)
					sum, n = sum+e*e, n+1
				}
			}
		}
	}
	got := math.Sqrt(sum / n)
	t.Logf("printing error over %.0f swatches: %.2f (stated 1.22)", n, got)
	assert.InDelta(t, math.Sqrt(1.5), got, 0.15)
}

// What matches under D50 parts under a lamp of narrow bands: with no printing
// error, the distance of pad and print grows from D50 to FL11.
func TestDyeAndInkPartUnderOtherLamps(t *testing.T) {
	mean := map[string]float64{}
	cs := drawn(t, Good, 15)
	for _, name := range []string{"D50", "LED-B4", "FL11"} {
		light, err := lampNamed(name)
		require.NoError(t, err)
		v, n := newViewer(&light), 0.0
		for _, c := range cs {
			for i := range c.Pads {
				c.Pads[i].PrintCommon, c.Pads[i].PrintEach = 0, 0
			}
			prints, err := c.allPrints()
			require.NoError(t, err)
			for i, p := range prints {
				for part := range p.swatches {
					for k, s := range c.Chart.Analytes[i].Swatches {
						pad := c.Pads[i].reagents[part].spectrumAt(s.Value, 1)
						mean[name] += colorimetry.DeltaE76(v.lab(&pad), v.lab(&p.swatches[part][k]))
						n++
					}
				}
			}
		}
		mean[name] /= n
		t.Logf("%s: mean dE of pad and matching print %.2f", name, mean[name])
	}
	assert.Less(t, mean["D50"], matchTolerance)
	assert.Greater(t, mean["LED-B4"], 5*mean["D50"])
	assert.Greater(t, mean["FL11"], mean["LED-B4"])
}
