package words

import (
	"strings"

	"padband/calib/judge"
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
)

// Sum says in words what the readings of several analytes mean together.
type Sum struct {
	Head   string
	Judged []Against
	Next   []string
}

// Together puts the judgements about several analytes together into words.
func Together(sums []judge.Judgement) (out []Sum) {
	for _, j := range sums {
		js := Judged([]judge.Judgement{j})
		out = append(out, Sum{lines.UpperFirst(lines.OneLine(reading.SumName(j))) + ", together", js, Next(js)})
	}
	return out
}

// Against is one judgement in words: what it says, and what to do.
type Against struct {
	Verdict string // the sentence with the verdict
	Grounds string // what it rests on, and what would settle it; may be empty
	Next    []string
}

// Judged puts judgements in words. The same advice is given once, with the first
// judgement that gives it.
func Judged(js []judge.Judgement) (out []Against) {
	seen := map[string]bool{}
	for _, j := range js {
		var a Against
		if len(j.Words) > 0 {
			a.Verdict, a.Grounds = lines.OneLine(j.Words[0]), lines.OneLine(strings.Join(j.Words[1:], " "))
		}
		for _, n := range j.Next {
			if !seen[n] {
				seen[n] = true
				a.Next = append(a.Next, lines.OneLine(n))
			}
		}
		out = append(out, a)
	}
	return out
}

// Next lists all that the judgements tell a person to do.
func Next(as []Against) (out []string) {
	for _, a := range as {
		out = append(out, a.Next...)
	}
	return out
}
