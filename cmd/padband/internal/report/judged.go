package report

import (
	"strings"

	"padband/calib/judge"
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
)

// summed is what several analytes mean together, in words.
type summed struct {
	Head   string
	Judged []against
	Next   []string
}

func sumsOf(s Source) (out []summed) {
	for _, j := range s.Sums {
		js := judgedWords([]judge.Judgement{j})
		out = append(out, summed{lines.UpperFirst(lines.OneLine(reading.SumName(j))) + ", together", js, nextOf(js)})
	}
	return out
}

// against is one judgement in words: what it says, and what to do.
type against struct {
	Verdict string // the sentence with the verdict
	Grounds string // what it rests on, and what would settle it; may be empty
	Next    []string
}

// judgedWords puts judgements in words. What to do is said once, with the first
// that says it.
func judgedWords(js []judge.Judgement) (out []against) {
	seen := map[string]bool{}
	for _, j := range js {
		var a against
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

// nextOf is all that is to be done.
func nextOf(as []against) (out []string) {
	for _, a := range as {
		out = append(out, a.Next...)
	}
	return out
}
