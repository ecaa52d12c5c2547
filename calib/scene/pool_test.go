package scene

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

// again is another photo of the same strip and chart: light and camera settings
// of another scene, and its lamp too when asked.
func again(t *testing.T, c Config, seed uint64, otherLamp bool) Config {
	t.Helper()
	o, err := Draw(seed, c.Class)
	require.NoError(t, err)
	n := c
	n.Lights = slices.Clone(o.Lights)
	n.Camera.Exposure, n.Camera.Balance = o.Camera.Exposure, o.Camera.Balance
	if !otherLamp {
		for i := range n.Lights {
			n.Lights[i].Lamp, n.Lights[i].Power = c.Lights[0].Lamp, c.Lights[0].Power
		}
	}
	return n
}

// pooledErrors reads each strip from three photos and returns the absolute
// errors, in steps, of the first photo alone and of the pool, the share of pools
// whose band covers, and the mean widths.
type pooledErrors struct{ single, pooled, cover, widthOne, widthPool float64 }

func poolStudy(t *testing.T, strips int, class Class, otherLamp bool) pooledErrors {
	t.Helper()
	var out pooledErrors
	var single, pooled []float64
	n := 0.0
	for seed := uint64(9_000_000); n < float64(strips); seed++ {
		c, err := Draw(seed, class)
		if err != nil {
			continue
		}
		photos, truth, err := threePhotos(t, c, seed, otherLamp)
		if err != nil {
			continue
		}
		for i, want := range truth {
			if want.Past {
				continue
			}
			rs := []calib.Reading{photos[0][i], photos[1][i], photos[2][i]}
			p, err := calib.Pool(rs, calib.OneStrip)
			require.NoError(t, err)
			n++
			a := p.Analyte
			single = append(single, math.Abs(a.StepOf(rs[0].Value)-want.Step))
			pooled = append(pooled, math.Abs(a.StepOf(p.Value)-want.Step))
			lo, hi := a.StepOf(p.Band.Low.Value), a.StepOf(p.Band.High.Value)
			add(&out.cover, lo <= want.Step && (p.Band.High.Open || want.Step <= hi))
			out.widthPool += hi - lo
			out.widthOne += a.StepOf(rs[0].Band.High.Value) - a.StepOf(rs[0].Band.Low.Value)
		}
	}
	out.single, _ = mean(single)
	out.pooled, _ = mean(pooled)
	out.cover, out.widthOne, out.widthPool = out.cover/n, out.widthOne/n, out.widthPool/n
	return out
}

// threePhotos reads a scene and two more photos of its strip. The error is of a
// scene that cannot be rendered, such as a mark that lies outside the photo.
func threePhotos(t *testing.T, c Config, seed uint64, otherLamp bool) (photos [][]calib.Reading, truth []Truth, err error) {
	t.Helper()
	for k := range uint64(3) {
		o := c
		if k > 0 {
			o = again(t, c, seed+k*1_000_000, otherLamp)
		}
		s, err := sampled(o)
		if err != nil {
			return nil, nil, err
		}
		_, rs, err := calib.Read(s.Photo)
		require.NoError(t, err)
		photos, truth = append(photos, rs), s.Truth
	}
	return photos, truth, nil
}

// TestPoolingPhotosOfOneStrip holds that three photos of a strip read no worse
// than one, with a band that is narrower and still covers.
func TestPoolingPhotosOfOneStrip(t *testing.T) {
	n := max(20, *studyPads/10)
	for _, c := range []struct {
		name  string
		other bool
	}{{"one lamp", false}, {"other lamps", true}} {
		r := poolStudy(t, n, Fair, c.other)
		t.Logf("%-12s mean error of one photo %.3f, of three pooled %.3f; mean width %.2f, %.2f; coverage of the pool %.3f", c.name, r.single, r.pooled, r.widthOne, r.widthPool, r.cover)
		assert.LessOrEqual(t, r.pooled, r.single*1.1, c.name)
		assert.Less(t, r.widthPool, r.widthOne, c.name)
		assert.GreaterOrEqual(t, r.cover, 0.85, c.name) // three standard errors under 0.95 on 30 pads
	}
}
