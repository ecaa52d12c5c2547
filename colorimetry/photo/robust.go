package photo

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// tone is a colour as its brightness and two colour differences that are 0 for greys:
// Y, X/Xn - Y, Z/Zn - Y. Outliers are judged in it, so that brightness and colour stay
// apart.
type tone [3]float64

func toneOf(c colorimetry.XYZ) tone {
	return tone{c.Y, c.X/colorimetry.D50.X - c.Y, c.Z/colorimetry.D50.Z - c.Y}
}

// codeStep is the linear step of half an 8-bit code at brightness y: the
// derivative of a display curve is about 2.2 y^0.55.
func codeStep(y float64) float64 { return 2.2 * math.Pow(math.Max(y, 0), 0.55) / 255 / 2 }

// shorth returns the middle and the half width of the shortest interval that holds
// half of the sorted values: the interval where they crowd most. Up to half of the
// values can lie anywhere above or below without moving it far.
func shorth(sorted []float64) (middle, half float64) {
	n := len(sorted)
	h := n/2 + 1
	best := math.Inf(1)
	at := 0
	for i := 0; i+h <= n; i++ {
		if w := sorted[i+h-1] - sorted[i]; w < best {
			best, at = w, i
		}
	}
	inner := sorted[at : at+h]
	return inner[len(inner)/2], best / 2
}

// normalHalf is the half width, in standard deviations, that holds half of a normal distribution.
const normalHalf = 0.6745

// core picks the tones that belong together: those within reject standard deviations
// of the crowd's middle in brightness and in both colour differences. It starts from
// the crowd's shortest half and settles in a few rounds. bright[i] says that tone i
// was left out and is brighter than the middle.
func core(tones []tone, floor float64) (keep, bright []bool) {
	n := len(tones)
	keep, bright = make([]bool, n), make([]bool, n)
	if n == 0 {
		return keep, bright
	}
	var mid, dev tone
	for c := range mid {
		v := make([]float64, n)
		for i := range tones {
			v[i] = tones[i][c]
		}
		slices.Sort(v)
		m, half := shorth(v)
		mid[c], dev[c] = m, half/normalHalf
	}
	for range rounds {
		if !gather(tones, keep, bright, &mid, &dev, floor) {
			break
		}
	}
	return keep, bright
}

const (
	reject = 3.5 // robust standard deviations; 1 in 2,000 normal values lies beyond
	rounds = 6
)

// gather marks the members, and moves the middle and the spread to those of the
// members. It reports whether the members changed.
func gather(tones []tone, keep, bright []bool, mid, dev *tone, floor float64) bool {
	changed := false
	count := 0
	var sum, sum2 tone
	for i, t := range tones {
		in := true
		for c := range t {
			in = in && math.Abs(t[c]-mid[c]) <= reject*math.Max(dev[c], floor)
		}
		changed = changed || in != keep[i]
		keep[i], bright[i] = in, !in && t[0] > mid[0]
		if in {
			count++
			for c := range t {
				sum[c] += t[c]
				sum2[c] += sq(t[c] - mid[c])
			}
		}
	}
	if count == 0 {
		return false
	}
	for c := range sum {
		m := sum[c] / float64(count)
		// A trimmed spread is a little smaller than the whole one; the factor is 1.01
		// for 3.5 deviations.
		dev[c] = 1.01 * math.Sqrt(math.Max(0, sum2[c]/float64(count)-sq(m-mid[c])))
		mid[c] = m
	}
	return changed
}
