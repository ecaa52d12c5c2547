package difference

import (
	"fmt"
	"time"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/record"
)

// Of sets two records' readings beside each other; what is what was done
// between, and may be empty.
func Of(before, after record.Sheet, what string) Input {
	in := Input{Subject: what, Before: sideFrom(before), After: sideFrom(after)}
	in.Doubts = append(before.Doubts("before"), after.Doubts("after")...)
	if swapped(before, after) {
		in.Doubts = append(in.Doubts, "The photo named after was taken before the one named before: are the two exchanged?")
	}
	if before.Source.Photo.SHA256 == after.Source.Photo.SHA256 {
		in.Doubts = append(in.Doubts, "Both records are of one and the same photo.")
	}
	for _, b := range before.Readings {
		a, ok := readingOf(after.Readings, b.Analyte.Name)
		if !ok {
			in.NotCompared = append(in.NotCompared, fmt.Sprintf("%s was read before alone.", b.Analyte.Name))
			continue
		}
		c, err := judge.Difference(b, a)
		if err != nil {
			in.NotCompared = append(in.NotCompared, err.Error()+".")
			continue
		}
		in.Pairs = append(in.Pairs, Pair{Before: b, After: a, Change: c})
	}
	for _, a := range after.Readings {
		if _, ok := readingOf(before.Readings, a.Analyte.Name); !ok {
			in.NotCompared = append(in.NotCompared, fmt.Sprintf("%s was read after alone.", a.Analyte.Name))
		}
	}
	return in
}

// readingOf is the reading of an analyte among those of one side.
func readingOf(in []calib.Reading, analyte string) (calib.Reading, bool) {
	for _, r := range in {
		if r.Analyte.Name == analyte {
			return r, true
		}
	}
	return calib.Reading{}, false
}

// sideFrom is one side as the page shows it, from its record.
func sideFrom(s record.Sheet) Side {
	return Side{Source: s.Source, Subject: s.Subject, Facts: s.Facts, Missing: s.Missing, Fingerprint: s.Result.Fingerprint}
}

// swapped is whether the photo named before is the later one, where both say when
// with their offset from UTC.
func swapped(before, after record.Sheet) bool {
	a, errA := time.Parse(time.RFC3339, before.Source.Photo.Taken)
	b, errB := time.Parse(time.RFC3339, after.Source.Photo.Taken)
	return errA == nil && errB == nil && b.Before(a)
}
