package words

import (
	"slices"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

// Grade is a reading's reliability as people read it. Files and tables for programs
// keep good, caution and unreliable. No grade may be taken for a word on the water, so
// it names the reading.
func Grade(r calib.Reliability) string {
	switch r {
	case calib.Good:
		return "Clear reading"
	case calib.Caution:
		return "Doubtful reading"
	}
	return "Do not use this reading"
}

// GradeWithin is the grade as it stands within a line, after other words.
func GradeWithin(r calib.Reliability) string { return lines.LowerFirst(Grade(r)) }

// GradeShort is the grade as a column of a table has room for it.
func GradeShort(r calib.Reliability) string {
	switch r {
	case calib.Good:
		return "clear"
	case calib.Caution:
		return "doubtful"
	}
	return "do not use"
}

// Headed is the grade with the fact that the water breaks a limit, so that nobody
// takes a clear reading of bad water for clear water.
func Headed(grade string, js []judge.Judgement) string {
	the := "the limit"
	if len(js) > 1 {
		the = "a limit"
	}
	over := func(j judge.Judgement) bool { return j.Verdict == judge.VerdictAbove && !j.Limit.TwoSided() }
	outside := func(j judge.Judgement) bool {
		return j.Limit.TwoSided() && (j.Verdict == judge.VerdictAbove || j.Verdict == judge.VerdictBelow)
	}
	switch {
	case slices.ContainsFunc(js, over):
		return grade + ", over " + the
	case slices.ContainsFunc(js, outside):
		return grade + ", outside " + the
	}
	return grade
}
