package scene

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/calib/strip/outline"
	"padband/charts"
	"padband/colorimetry/photo"
)

// sameMarks reports whether each pad and swatch lies in both marks at the same place, to
// within a third of its size.
func sameMarks(a, b charts.Placed) bool {
	near := func(p, q charts.Mark) bool {
		return p.Region.Centroid().Distance(q.Region.Centroid()) < math.Sqrt(p.Region.Area())/3
	}
	return slices.EqualFunc(a.Pads, b.Pads, func(p, q charts.PlacedAnalyte) bool {
		return slices.EqualFunc(p.Pad, q.Pad, near) && slices.EqualFunc(p.Swatches, q.Swatches, func(x, y []charts.Mark) bool {
			return slices.EqualFunc(x, y, near)
		})
	})
}

// found is a scene read on marks that the search made, beside its own.
type found struct {
	right       bool      // best guess, or one of the answers
	first       bool      // the best guess itself is right
	yes         []outcome // read on a best guess that is wrong, as if a person had only said yes
	asked       bool
	true, found []outcome
}

// readFound searches a scene for its marks. Where its first guess is wrong, the answer
// that is right is taken, if there is one, as a person would who looks.
func readFound(seed uint64, class Class) (out found, err error) {
	c, err := Draw(seed, class)
	if err != nil {
		return out, err
	}
	s, err := Render(c)
	if err != nil {
		return out, err
	}
	_, m, _, err := photo.Glance(s.Photo, photo.Limits{}, outline.Longest)
	if err != nil {
		return out, err
	}
	p, err := photo.Decode(s.Photo, photo.Limits{})
	if err != nil {
		return out, err
	}
	samples, placed, err := strip.Samples(p, s.Chart, s.Marks)
	if err != nil {
		return out, err
	}
	whole := case1{s.Class, s.Fault, s.Lamp, s.Camera, s.Curved, samples, s.Truth}
	if out.true, err = readCase(&whole); err != nil {
		return out, err
	}
	o := outline.Find(m, p.Width, p.Height, s.Chart)
	out.asked = len(o.Questions) > 0
	var may []charts.Marks
	if o.Marks != nil {
		may = append(may, *o.Marks)
	}
	for _, q := range o.Questions {
		for _, a := range q.Answers {
			may = append(may, a.Marks)
		}
	}
	for i, marks := range may {
		samples, at, err := strip.Samples(p, s.Chart, marks)
		on := whole
		on.Photo = samples
		if err != nil || !sameMarks(placed, at) {
			if i == 0 && err == nil && len(at.Pads) == len(placed.Pads) {
				if out.yes, err = readCase(&on); err != nil {
					return out, nil // nothing is read: samples that make no scale
				}
			}
			continue
		}
		out.right, out.first = true, i == 0
		out.found, err = readCase(&on)
		return out, err
	}
	return out, nil
}

// Whoever only says yes to wrong outlines must not get a clear reading that misses. A
// reading on outlines with an open question is never clear (strip.TestOpenQuestion), so
// what counts are those that were wrong and asked nothing.
func TestOnlyYesGivesNoClearMiss(t *testing.T) {
	wrong, asked, readings, clear, missed := 0, 0, 0, 0, 0
	for k := range max(9, *studyPads/25) {
		f, err := readFound(uint64(990001+k), []Class{Good, Fair, Bad}[k%3])
		require.NoError(t, err)
		if len(f.yes) == 0 {
			continue
		}
		wrong++
		if f.asked {
			asked++
			continue
		}
		for _, o := range f.yes {
			readings++
			if o.Trust != calib.Good {
				continue
			}
			clear++
			if !o.covers() {
				missed++
				t.Logf("scene %d, %s: reads %.2f (%.2f to %.2f), true %.2f", k, o.Truth.Family, o.Value, o.Low, o.High, o.Truth.Step)
			}
		}
	}
	t.Logf("%d scenes outlined wrongly at first, %d with a question; of %d readings on the others %d are clear, %d of these miss",
		wrong, asked, readings, clear, missed)
	assert.Zero(t, missed)
}

// A reading on marks that the search made must be the reading on the true marks.
func TestReadingsOnFoundMarks(t *testing.T) {
	var differences []float64
	n, right, silent, coveredTrue, coveredFound := 0, 0, 0, 0, 0
	scenes := max(12, *studyPads/25)
	for k := range scenes {
		f, err := readFound(uint64(880001+k), []Class{Good, Fair, Bad}[k%3])
		require.NoError(t, err)
		n++
		switch {
		case f.right:
			right++
		case !f.asked:
			silent++
		}
		for i, o := range f.found {
			differences = append(differences, math.Abs(o.Value-f.true[i].Value))
			if o.covers() {
				coveredFound++
			}
			if f.true[i].covers() {
				coveredTrue++
			}
		}
	}
	require.NotEmpty(t, differences)
	slices.Sort(differences)
	pads := len(differences)
	median := differences[pads/2]
	t.Logf("%d scenes, %d found or asked rightly, %d not and nothing asked or found; %d pads: median difference %.3f steps, 90th percentile %.3f;"+
		" covered on true marks %.3f, on found %.3f", n, right, silent, pads, median, differences[pads*9/10],
		float64(coveredTrue)/float64(pads), float64(coveredFound)/float64(pads))
	assert.Less(t, median, 0.05)
	assert.InDelta(t, float64(coveredTrue)/float64(pads), float64(coveredFound)/float64(pads), 3*math.Sqrt(0.06/float64(pads))+0.02)
	assert.GreaterOrEqual(t, right, n/6) // most of these charts have no numbers, and strips no edges
}
