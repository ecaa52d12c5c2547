package judge

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts/limits"
)

// On outlines that nobody looked at nothing is said to be below a limit for health, nor
// within one, and no chance is named that says it in other words. What is over a limit,
// or near it, is said as ever.
func TestUnlookedReadingClearsNoWater(t *testing.T) {
	for _, c := range []struct {
		kind  limits.LimitKind
		two   bool
		place float64
		want  Verdict
		told  bool
	}{
		{limits.LimitHealth, false, 1, VerdictCannotTell, false},
		{limits.LimitHealth, true, 2.4, VerdictCannotTell, false},
		{limits.LimitHealth, false, 3.5, VerdictCannotTell, true},
		{limits.LimitHealth, false, 4.7, VerdictAbove, true},
		{limits.LimitHealth, true, 0.2, VerdictBelow, true}, // under the range, which clears nothing
		{limits.LimitTreatment, false, 1, VerdictBelow, true},
		{limits.LimitTreatment, true, 2.4, VerdictWithin, true},
	} {
		j := Against(spoiltBy(calib.CodeMarksUnchecked, c.place), ofKind(c.kind, c.two), 0)
		text := strings.Join(j.Words, " ")
		assert.Equal(t, c.want, j.Verdict, "%+v", c)
		assert.False(t, j.ReadsBelow, "%+v", c)
		assert.Equal(t, c.told, strings.Contains(text, "%"), "%+v: %s", c, text)
		assert.Equal(t, !c.told, math.IsNaN(j.Probability), "%+v", c)
		if !c.told {
			assert.Contains(t, j.Reason, "Nobody has looked at the outlines")
			require.Len(t, j.Next, 1, "before that nothing else is worth doing")
			assert.Contains(t, j.Next[0], "Look at the outlines over the photo")
			assert.Equal(t, Chance{0, 1}, j.Over)
		}
	}
	j := Against(spoiltBy(calib.CodeMarksUnchecked, 1), ofKind(limits.LimitHealth, false), 0)
	assert.Equal(t, []string{"Cannot tell if it is over 10 mg/L as N (invented).", "Nobody has looked at the outlines that the program found, " +
		"so the reading may be of something else than the pad."}, j.Words)
}

// Where other things stand in the way too, the outlines come first, because they are
// looked at in a moment.
func TestOutlinesComeBeforeOtherDoubts(t *testing.T) {
	r := spoiltBy(calib.CodeExpired, 1)
	r.Warnings = append(r.Warnings, calib.Warning{Code: calib.CodeMarksUnchecked, Weight: calib.Caution})
	j := Against(r, ofKind(limits.LimitHealth, false), 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.False(t, j.ReadsBelow)
	assert.Contains(t, j.Next[0], "Look at the outlines")
	assert.NotContains(t, strings.Join(j.Words, " "), "Reads below")
}

// One such reading of two is enough to clear no sum.
func TestSumOfUnlookedPads(t *testing.T) {
	a, b := readingAt(nitrite(0.5), 1, 0.2), readingAt(evenNitrate(0.5), 1, 0.2)
	b.Warnings = []calib.Warning{{Code: calib.CodeMarksUnchecked, Weight: calib.Caution}}
	j := Sum([]calib.Reading{a, b}, sumOf(t, "us-epa"), 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.NotContains(t, strings.Join(j.Words, " "), "%")
}
