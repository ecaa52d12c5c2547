package scene

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

// strayed is another strip dipped into the sample of a scene, photographed anew
// under the same lamp: each pad's true place is off by its strip's own error.
// Pads are kept on the chart.
func strayed(t *testing.T, c Config, seed uint64, sd float64) Config {
	t.Helper()
	n := again(t, c, seed, false)
	d := rand.New(rand.NewPCG(seed, 77))
	n.Pads = slices.Clone(c.Pads)
	for i := range n.Pads {
		top := float64(len(n.Chart.Analytes[i].Swatches) - 1)
		n.Pads[i].Step = max(0, min(top, n.Pads[i].Step+sd*d.NormFloat64()))
	}
	return n
}

// threeStrips reads three strips of each pad's sample.
func threeStrips(t *testing.T, c Config, seed uint64, sd float64) (strips [][]calib.Reading, err error) {
	t.Helper()
	for k := range uint64(3) {
		s, err := sampled(strayed(t, c, seed+k*1_000_000, sd))
		if err != nil {
			return nil, err
		}
		_, rs, err := calib.Read(s.Photo)
		require.NoError(t, err)
		strips = append(strips, rs)
	}
	return strips, nil
}

// stripStudy pools three strips of one sample whose own errors have the
// standard deviation sd, in steps, and compares band and error with the sample's
// place. Pads within a step of an end are left out: strips that stray past an
// end are cut there.
func stripStudy(t *testing.T, pads int, sd float64) pooledErrors {
	t.Helper()
	var out pooledErrors
	var single, pooled []float64
	for seed := uint64(9_500_000); len(pooled) < pads; seed++ {
		c, err := Draw(seed, Fair)
		if err != nil {
			continue
		}
		strips, err := threeStrips(t, c, seed, sd)
		if err != nil {
			continue
		}
		for i, pad := range c.Pads {
			if pad.Step < 1 || pad.Step > float64(len(c.Chart.Analytes[i].Swatches)-2) {
				continue
			}
			p, err := calib.Pool([]calib.Reading{strips[0][i], strips[1][i], strips[2][i]}, calib.Strips)
			require.NoError(t, err)
			a := p.Analyte
			single = append(single, math.Abs(a.StepOf(strips[0][i].Value)-pad.Step))
			pooled = append(pooled, math.Abs(a.StepOf(p.Value)-pad.Step))
			lo, hi := a.StepOf(p.Band.Low.Value), a.StepOf(p.Band.High.Value)
			add(&out.cover, lo <= pad.Step && (p.Band.High.Open || pad.Step <= hi))
			out.widthPool += hi - lo
			out.widthOne += a.StepOf(strips[0][i].WaterBand.High.Value) - a.StepOf(strips[0][i].WaterBand.Low.Value)
		}
	}
	n := float64(len(pooled))
	out.single, _ = mean(single)
	out.pooled, _ = mean(pooled)
	out.cover, out.widthOne, out.widthPool = out.cover/n, out.widthOne/n, out.widthPool/n
	return out
}

// TestPoolingStripsOfOneSample holds that three strips that scatter as the assumed
// kit error says (half a step, 95 %) tell a sample better than one, with a band for
// the sample's place that covers. Run with many pads it also tries strips that
// agree, and strips that scatter twice as much.
func TestPoolingStripsOfOneSample(t *testing.T) {
	if testing.Short() {
		t.Skip("renders some fifty photos; left out with -short")
	}
	n, scatter := max(20, *studyPads/10), []float64{0.25}
	if *studyPads >= 600 {
		scatter = []float64{0, 0.25, 0.5}
	}
	last := 0.0
	for _, sd := range scatter {
		r := stripStudy(t, n, sd)
		t.Logf("strips scatter %.2f step: mean error of one %.3f, of three pooled %.3f; mean width of one's water band %.2f, of the pool's band %.2f; coverage of the pool %.3f", sd, r.single, r.pooled, r.widthOne, r.widthPool, r.cover)
		assert.LessOrEqual(t, r.pooled, r.single*1.1)
		assert.GreaterOrEqual(t, r.cover, 0.83) // three standard errors under 0.95 on 30 pads
		assert.Less(t, r.widthPool, r.widthOne, "three strips say more than one")
		assert.Greater(t, r.widthPool, last, "more scatter, wider band")
		last = r.widthPool
	}
}
