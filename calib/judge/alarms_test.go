package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
)

// scenario is a series of readings to be drawn, in swatch steps.
type scenario struct {
	n, lots     int
	half, noise float64 // the colour band's half-width; the real standard deviation
	kit, shared float64 // the kit's error (95 %) and its share that a lot's strips have in common, of the variance
	slope       float64 // from the first record to the last
	uneven      bool    // the first lot has half of the records
	top         float64 // the chart's end; 0 has none
	untold      bool    // nobody wrote the lots down
}

func drawnSeries(r *rand.Rand, c scenario) (out []TrendPoint) {
	lots := make([]float64, c.lots)
	sd := c.kit / normal95
	for i := range lots {
		lots[i] = r.NormFloat64() * sd * math.Sqrt(c.shared)
	}
	for i := range c.n {
		lot := i * c.lots / c.n
		if c.uneven {
			lot = 1 + (i-c.n/2)*(c.lots-1)/(c.n-c.n/2)
			if i < c.n/2 || c.lots == 1 {
				lot = 0
			}
		}
		v := c.slope*float64(i)/float64(c.n-1) + lots[lot] + r.NormFloat64()*sd*math.Sqrt(1-c.shared) + r.NormFloat64()*c.noise
		p := point(v, c.half, c.kit, fmt.Sprint("lot ", lot))
		if c.top > 0 && v > c.top {
			p.Value, p.Band.High, p.WaterBand.High = c.top, calib.Bound{Value: c.top, Open: true}, calib.Bound{Value: c.top, Open: true}
			p.Band.Low.Value, p.WaterBand.Low.Value = c.top-c.half, c.top-math.Hypot(c.half, c.kit)
		}
		if c.untold {
			p.Source = ""
		}
		out = append(out, p)
	}
	return out
}

// found is the share of series that are said to change.
func found(c scenario, times int) float64 {
	r := rand.New(rand.NewPCG(uint64(c.n), uint64(c.lots)))
	n := 0
	for range times {
		if w := MannKendall(drawnSeries(r, c)).Word; w == Rising || w == Falling {
			n++
		}
	}
	return float64(n) / float64(times)
}

// With no change in the water, one series in 20 at most is said to change,
// whatever the lots have in common.
func TestFalseAlarms(t *testing.T) {
	times := 300
	if testing.Short() {
		times = 100
	}
	most := 0.05 + 3*math.Sqrt(0.05*0.95/float64(times))
	for _, lots := range []int{1, 2, 3, 5, 8} {
		for _, n := range []int{5, 8, 12, 40} {
			if lots > n {
				continue
			}
			line := ""
			for _, c := range []scenario{
				{half: 0.35, noise: 0.12, kit: 0.5, shared: 0.5}, {half: 0.1, noise: 0.05, kit: 0.5, shared: 1},
				{half: 0.1, noise: 0.1, kit: 0.5, shared: 1, uneven: true}, {half: 0.35, noise: 0.18, kit: 0.5, shared: 1, top: 0.1},
			} {
				c.n, c.lots = n, lots
				share := found(c, times)
				line += fmt.Sprintf(" %.3f", share)
				assert.LessOrEqual(t, share, most, "%+v", c)
			}
			t.Logf("%d records, %d lots:%s", n, lots, line)
		}
	}
}

// Lots that nobody wrote down: the water bands have to hold them. With five lots
// of eight records each the share is a little over 5 %.
func TestFalseAlarmsWithLotsUntold(t *testing.T) {
	for _, n := range []int{5, 8, 12, 40} {
		for _, lots := range []int{1, 2, 3, 5} {
			a := found(scenario{n: n, lots: lots, half: 0.35, noise: 0.18, kit: 0.5, shared: 1, untold: true}, 400)
			b := found(scenario{n: n, lots: lots, half: 0.1, noise: 0.05, kit: 0.5, shared: 1, untold: true}, 400)
			t.Logf("%d records, %d lots untold: %.3f %.3f", n, lots, a, b)
			assert.LessOrEqual(t, max(a, b), 0.10, "%d records, %d lots", n, lots)
		}
	}
	assert.Greater(t, found(scenario{n: 12, lots: 2, half: 0.35, noise: 0.18, kit: 0.5, shared: 1, untold: true, slope: 4}, 200), 0.9, "and a large change is found")
}

// What the test finds of a rise of one, two and four steps over the series.
func TestPower(t *testing.T) {
	times := 200
	if testing.Short() {
		times = 100
	}
	for _, c := range []struct {
		n, lots int
		least   [3]float64 // a tenth and more below what 500 series gave
	}{
		{5, 1, [3]float64{0.75, 0.95, 0.95}}, {8, 1, [3]float64{0.9, 0.95, 0.95}}, {8, 2, [3]float64{0.45, 0.85, 0.95}}, {8, 4, [3]float64{0.15, 0.7, 0.95}},
		{12, 3, [3]float64{0.5, 0.85, 0.95}}, {20, 5, [3]float64{0.4, 0.85, 0.95}}, {40, 5, [3]float64{0.35, 0.85, 0.95}},
	} {
		line := ""
		for i, slope := range []float64{1, 2, 4} {
			share := found(scenario{n: c.n, lots: c.lots, half: 0.35, noise: 0.15, kit: 0.5, shared: 1, slope: slope}, times)
			line += fmt.Sprintf(" %.2f", share)
			assert.GreaterOrEqual(t, share, c.least[i], "%+v, %v steps", c, slope)
		}
		t.Logf("%d records, %d lots: a rise of 1, 2, 4 steps is found in%s", c.n, c.lots, line)
	}
}
