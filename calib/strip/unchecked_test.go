package strip

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts/limits"
)

// Marks that nobody looked at move no figure. Every reading on them is doubtful at the
// most, says so, and clears no water.
func TestUncheckedMarks(t *testing.T) {
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	epa, err := limits.ParseLimit("us-epa")
	require.NoError(t, err)
	in := Input{Photo: data, Chart: demoChart(t), Marks: demoMarks(t, "kitchen.jpg"), Ask: Ask{Limits: []limits.LimitChoice{epa}}}
	checked, err := Read(in)
	require.NoError(t, err)
	in.Marks.Unchecked = true
	got, err := Read(in)
	require.NoError(t, err)
	require.Len(t, got.Readings, 3)
	health := 0
	for i, r := range got.Readings {
		was := checked.Readings[i]
		assert.NotContains(t, codesOf(was), string(calib.CodeMarksUnchecked))
		assert.Contains(t, codesOf(r), string(calib.CodeMarksUnchecked))
		assert.Equal(t, calib.Good, was.Reliability, "else nothing is shown")
		assert.Equal(t, calib.Caution, r.Reliability)
		assert.Equal(t, was.Posterior, r.Posterior)
		assert.Equal(t, was.WaterBand, r.WaterBand)
		for _, j := range got.Meanings[i].Judgements {
			if j.Limit.Kind == limits.LimitHealth {
				health++
				assert.NotContains(t, []judge.Verdict{judge.VerdictBelow, judge.VerdictWithin}, j.Verdict)
			}
		}
	}
	assert.Positive(t, health)
}

// A pool of several photos is no surer than its outlines.
func TestPoolOfUncheckedMarks(t *testing.T) {
	for _, unchecked := range []int{-1, 0, 1} {
		p := pooledFirst(t, several(t, 2, func(i int, r *Result) { r.Marks.Unchecked = i == unchecked }))
		want := calib.Good
		if unchecked >= 0 {
			want = calib.Caution
		}
		assert.Equal(t, want, p.Reliability, unchecked)
		assert.Equal(t, unchecked >= 0, len(p.Warnings) == 1 && p.Warnings[0].Code == calib.CodeMarksUnchecked, unchecked)
	}
}

// Looking at outlines is no answer to what was asked about them: a reading stays
// doubtful until somebody says which end is which.
func TestOpenQuestion(t *testing.T) {
	p := readDemo(t, "kitchen.jpg").Photo
	marks := demoMarks(t, "kitchen.jpg")
	marks.Asked = []string{"direction"}
	r, err := ReadPhoto(p, demoChart(t), marks, Ask{})
	require.NoError(t, err)
	for _, x := range r.Readings {
		k := slices.IndexFunc(x.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeMarksUnchecked })
		require.GreaterOrEqual(t, k, 0, x.Analyte.Name)
		assert.Contains(t, x.Warnings[k].Seen, "nobody has answered")
		assert.NotEqual(t, calib.Good, x.Reliability)
	}
}
