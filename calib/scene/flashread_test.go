package scene

import (
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip/bare"
	"padband/charts"
	"padband/colorimetry"
)

// less is sample b less k times sample a, times up.
func less(b, a colorimetry.Sample, k, up float64) colorimetry.Sample {
	out := b
	sub := func(x, y colorimetry.XYZ) colorimetry.XYZ {
		return colorimetry.XYZ{X: up * (x.X - k*y.X), Y: up * (x.Y - k*y.Y), Z: up * (x.Z - k*y.Z)}
	}
	out.XYZ = sub(b.XYZ, a.XYZ)
	for i := range out.Cov {
		for j := range out.Cov[i] {
			out.Cov[i][j] = up * up * (b.Cov[i][j] + k*k*a.Cov[i][j])
		}
	}
	out.Effective, out.Pixels = math.Min(a.Effective, b.Effective), min(a.Pixels, b.Pixels)
	out.Clipped, out.Floor, out.Glare = math.Max(a.Clipped, b.Clipped), math.Max(a.Floor, b.Floor), math.Max(a.Glare, b.Glare)
	out.Slope = [2]colorimetry.XYZ{sub(b.Slope[0], a.Slope[0]), sub(b.Slope[1], a.Slope[1])}
	out.InsetShift, out.Edge = math.Max(a.InsetShift, b.InsetShift), math.Max(a.Edge, b.Edge)
	out.Dark, out.Bright = sub(b.Dark, a.Dark), sub(b.Bright, a.Bright)
	return out
}

var errNoLight = errors.New("no light of the lamp is left")

// litByLamp is what the lamp alone shows: the second photo less k times the first,
// scaled so that white is as bright as in the second.
func litByLamp(a, b *shot, k float64) (calib.Photo, error) {
	var share []float64
	for i, w := range b.said.Whites {
		d := less(w.Sample, a.said.Whites[i].Sample, k, 1).XYZ
		if !(d.X > 0.01 && d.Y > 0.01 && d.Z > 0.01) {
			return calib.Photo{}, errNoLight
		}
		share = append(share, w.Sample.XYZ.Y/d.Y)
	}
	if len(share) == 0 {
		return calib.Photo{}, errNoLight
	}
	slices.Sort(share)
	up := at(share, 0.5)
	out := calib.Photo{Width: b.said.Width, Height: b.said.Height, Lamp: charts.LampFlash}
	for i, w := range b.said.Whites {
		w.Sample = less(w.Sample, a.said.Whites[i].Sample, k, up)
		out.Whites = append(out.Whites, w)
	}
	row := func(x, y []colorimetry.Sample) (out []colorimetry.Sample) {
		for i := range x {
			out = append(out, less(x[i], y[i], k, up))
		}
		return out
	}
	for i, p := range b.said.Pads {
		o := calib.Pad{Analyte: p.Analyte, Parts: row(p.Parts, a.said.Pads[i].Parts)}
		for j, sw := range p.Swatches {
			o.Swatches = append(o.Swatches, row(sw, a.said.Pads[i].Swatches[j]))
		}
		out.Pads = append(out.Pads, o)
	}
	plan := bare.NewPlan(b.placed, b.photo.Width, b.photo.Height)
	out.Found = plan.Grow(out, func(i int) (colorimetry.Sample, bool) {
		x, err := b.photo.Sample(plan.Regions[i])
		y, other := a.photo.Sample(plan.Regions[i])
		if err != nil || other != nil {
			return x, false
		}
		s := less(x, y, k, up)
		return s, s.XYZ.X > 0 && s.XYZ.Y > 0 && s.XYZ.Z > 0
	})
	return out, nil
}

// readFlash reads one photo's samples; no reading is more reliable than its light.
func readFlash(p calib.Photo) ([]calib.Reading, error) {
	light, rs, err := calib.Read(p)
	if err != nil {
		return nil, err
	}
	word := light.Report(p).Reliability
	for i := range rs {
		rs[i].Reliability = rs[i].Reliability.Worse(word)
	}
	return rs, nil
}

func outcomeOf(r calib.Reading, c *case1, t Truth, top float64) outcome {
	o := outcome{Case: c, Truth: t, Top: top, Trust: r.Reliability, Value: r.Analyte.StepOf(r.Value)}
	o.Low, o.High = r.Analyte.StepOf(r.Band.Low.Value), r.Analyte.StepOf(r.Band.High.Value)
	if r.Band.Low.Open {
		o.Low = math.Inf(-1)
	}
	if r.Band.High.Open {
		o.High = math.Inf(1)
	}
	return o
}

// flashStudy holds what each method read, by method.
type flashStudy map[string][]outcome

// readPair reads the photos of a pair by each method. Where no light of the lamp is left,
// the pool stands for the difference.
func (f flashStudy) readPair(t *testing.T, c Config, a, b *shot) {
	t.Helper()
	ra, err := readFlash(a.said)
	require.NoError(t, err)
	rb, err := readFlash(b.said)
	require.NoError(t, err)
	var rd []calib.Reading
	p, failed := litByLamp(a, b, b.gain/a.gain)
	if failed == nil {
		rd, failed = readFlash(p)
	}
	cs := &case1{Class: c.Class, Fault: c.Fault, Curved: c.Curved, Photo: a.said, Truth: a.truth}
	for i, truth := range a.truth {
		put := func(name string, rs ...calib.Reading) {
			r := rs[0]
			if len(rs) > 1 {
				p, err := calib.Pool(rs, calib.OneStrip)
				require.NoError(t, err)
				r = p.Reading
			}
			f[name] = append(f[name], outcomeOf(r, cs, truth, float64(len(ra[i].Swatches)-1)))
		}
		put("without", ra[i])
		put("with", rb[i])
		put("pool", ra[i], rb[i])
		put("pool, with twice", ra[i], rb[i], rb[i])
		if failed != nil {
			put("difference", ra[i], rb[i])
			put("pool of all", ra[i], rb[i])
			continue
		}
		put("difference", rd[i])
		put("pool of all", ra[i], rb[i], rd[i])
	}
}

// flashReads are the methods in the order of the table.
var flashReads = []string{"without", "with", "pool", "pool, with twice", "difference", "pool of all"}

// TestTheDifferenceIsTheLampsLight: by a camera with the plain curve that clips nothing,
// the difference has the colours of a third photo under the lamp alone.
func TestTheDifferenceIsTheLampsLight(t *testing.T) {
	compared := 0
	for seed := uint64(83_500_000); compared < 6; seed++ {
		c, err := Draw(seed, Fair)
		if err != nil {
			continue
		}
		way := flashWay{plain: true, noGlow: true, still: true}
		c.Format, c.Camera.Read, c.Camera.Shot, c.Camera.Exposure = PNGDeep, 0, 0, 0.5
		c.Camera.Contrast, c.Camera.Lift, c.Camera.Shoulder, c.Camera.Saturation = 0, 1, 1, 1
		a, b, err := takePair(c, way, nil)
		require.NoError(t, err)
		n, _, err := c.flashed(newDice(c.Seed, 77), way, &a)
		require.NoError(t, err)
		n.Lights, n.Camera.Balance = n.Lights[1:], c.Camera.Balance
		n.lock(&c.Camera, &a)
		n.Camera.Exposure = 0.5 / n.brightest(a.matrix)
		s, err := c.marked()
		require.NoError(t, err)
		only, err := n.take(&s, &a.matrix, 0, nil)
		require.NoError(t, err)
		d, err := litByLamp(&a, &b, b.gain/a.gain)
		require.NoError(t, err)
		for i, p := range d.Pads {
			x, y := p.Parts[0].XYZ, only.said.Pads[i].Parts[0].XYZ
			w, v := d.Whites[0].Sample.XYZ, only.said.Whites[0].Sample.XYZ
			compared++
			for _, gap := range []float64{x.X/w.X - y.X/v.X, x.Y/w.Y - y.Y/v.Y, x.Z/w.Z - y.Z/v.Z} {
				assert.InDelta(t, 0, gap, 0.01)
			}
		}
	}
}

// flashWays are the ways in which pairs are taken: the first is as a phone would.
var flashWays = []flashWay{
	{name: "as taken"},
	{name: "plain curve", plain: true},
	{name: "no mirrored lamp", noGlow: true},
	{name: "both, and no shift", plain: true, noGlow: true, still: true},
	{name: "automatic balance", auto: true},
	{name: "all that, an even strong lamp", plain: true, noGlow: true, still: true, even: true, strong: true},
}

// flashAround is the light around the pairs, in turn.
var flashAround = []string{"fair", "bad", "fair", "bad", "fair", "bad", "tube"}

// drawAround draws scene i of the study.
func drawAround(i int) (Config, error) {
	seed := uint64(96_500_000 + i)
	switch flashAround[i%len(flashAround)] {
	case "tube":
		return DrawUnder(seed, Fair, Tube)
	case "bad":
		return Draw(seed, Bad)
	}
	return Draw(seed, Fair)
}

// readAround takes and reads scene i in the first way and, in every second round, in all.
func readAround(t *testing.T, i int) map[string]flashStudy {
	t.Helper()
	c, err := drawAround(i)
	if err != nil {
		return nil
	}
	ways := flashWays
	if flashAround[i%len(flashAround)] == "tube" || (i/len(flashAround))%2 == 1 {
		ways = ways[:1]
	}
	out := map[string]flashStudy{}
	var first [2]*shot // by the camera's own curve, by the plain one
	for _, w := range ways {
		k := 0
		if w.plain {
			k = 1
		}
		a, b, err := takePair(c, w, first[k])
		if err != nil {
			continue
		}
		first[k], out[w.name] = &a, flashStudy{}
		out[w.name].readPair(t, c, &a, &b)
	}
	return out
}

// TestFlashAndNoFlash compares two photos of one strip, without and with the phone's
// lamp: each alone, pooled, and the difference, which the lamp alone lights. The README
// has its table. The pool, which is what the program does with two photos, must cover.
func TestFlashAndNoFlash(t *testing.T) {
	if testing.Short() {
		t.Skip("renders pairs of photos; left out with -short")
	}
	scenes := make([]map[string]flashStudy, max(7, *studyPads/43))
	var wg sync.WaitGroup
	n := runtime.GOMAXPROCS(0)
	for w := range n {
		wg.Go(func() {
			for i := w; i < len(scenes); i += n {
				scenes[i] = readAround(t, i)
			}
		})
	}
	wg.Wait()
	for _, around := range []string{"fair", "bad", "tube"} {
		for _, way := range flashWays {
			all := flashStudy{}
			for i, s := range scenes {
				for name, os := range s[way.name] {
					if flashAround[i%len(flashAround)] == around {
						all[name] = append(all[name], os...)
					}
				}
			}
			if len(all) == 0 {
				continue
			}
			out := around + ", " + way.name + "\n" + heading + "\n"
			for _, name := range flashReads {
				out += summarise(name, all[name]).String() + "\n"
			}
			t.Log("\n" + out)
			// Three standard errors under 0.95 on so many pads.
			r := summarise("pool", all["pool"])
			assert.GreaterOrEqual(t, r.cover, 0.95-3*math.Sqrt(0.95*0.05/float64(r.n)), out)
		}
	}
}
