package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts/limits"
)

// Every grade names the reading, so that none is taken for a word on the water.
func TestGradesAreOfTheReading(t *testing.T) {
	for r, want := range map[calib.Reliability]string{
		calib.Good: "Clear reading", calib.Caution: "Doubtful reading", calib.Unreliable: "Do not use this reading",
		"": "Do not use this reading",
	} {
		assert.Equal(t, want, Grade(r))
		assert.Contains(t, GradeWithin(r), " reading")
	}
	assert.Equal(t, []string{"clear", "doubtful", "do not use"}, []string{GradeShort(calib.Good), GradeShort(calib.Caution),
		GradeShort(calib.Unreliable)})
}

// A clear reading of water over a limit says so in the same breath.
func TestHeadNamesALimitPassed(t *testing.T) {
	one := func(v judge.Verdict) judge.Judgement {
		return judge.Judgement{Verdict: v, Limit: limits.Limit{Value: 10}}
	}
	two := func(v judge.Verdict) judge.Judgement {
		return judge.Judgement{Verdict: v, Limit: limits.Limit{Low: 6.5, High: 8.5}}
	}
	const clear = "Clear reading"
	for _, k := range []struct {
		js   []judge.Judgement
		want string
	}{
		{nil, clear},
		{[]judge.Judgement{one(judge.VerdictAbove)}, clear + ", over the limit"},
		{[]judge.Judgement{one(judge.VerdictBelow), one(judge.VerdictAbove)}, clear + ", over a limit"},
		{[]judge.Judgement{one(judge.VerdictBelow)}, clear},
		{[]judge.Judgement{one(judge.VerdictCannotTell)}, clear},
		{[]judge.Judgement{one(judge.VerdictNone)}, clear},
		{[]judge.Judgement{two(judge.VerdictBelow)}, clear + ", outside the limit"},
		{[]judge.Judgement{two(judge.VerdictAbove)}, clear + ", outside the limit"},
		{[]judge.Judgement{two(judge.VerdictWithin)}, clear},
		{[]judge.Judgement{two(judge.VerdictBelow), one(judge.VerdictAbove)}, clear + ", over a limit"},
	} {
		assert.Equal(t, k.want, Headed(clear, k.js), "%v", k.js)
	}
}
