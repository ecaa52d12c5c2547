package record

import (
	"fmt"
	"time"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report"
)

// Compared sets two records' readings beside each other; what is what was done
// between, and may be empty.
func Compared(before, after Sheet, what string) report.DifferenceInput {
	in := report.DifferenceInput{Subject: what, Before: before.side(), After: after.side()}
	in.Doubts = append(doubtsOf("before", before), doubtsOf("after", after)...)
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
		in.Pairs = append(in.Pairs, report.Pair{Before: b, After: a, Change: c})
	}
	for _, a := range after.Readings {
		if _, ok := readingOf(before.Readings, a.Analyte.Name); !ok {
			in.NotCompared = append(in.NotCompared, fmt.Sprintf("%s was read after alone.", a.Analyte.Name))
		}
	}
	return in
}

// readingOf finds the reading of an analyte.
func readingOf(in []calib.Reading, analyte string) (calib.Reading, bool) {
	for _, r := range in {
		if r.Analyte.Name == analyte {
			return r, true
		}
	}
	return calib.Reading{}, false
}

// side is the record as one side of a comparison.
func (s Sheet) side() report.Side {
	return report.Side{Source: s.Source, Subject: s.Subject, Facts: s.Facts, Missing: s.Missing, Fingerprint: s.Result.Fingerprint}
}

// doubtsOf is what is wrong with a record, its first fault as the example.
func doubtsOf(which string, s Sheet) []string {
	for _, f := range s.Result.Findings {
		if f.Fault {
			return []string{fmt.Sprintf("The record %s is not as it was made (%s: %s%s). Do not rely on what follows.",
				which, bag.Shown(f.About), f.Text, more(s.Result.Faults()-1))}
		}
	}
	return nil
}

// swapped is whether the photo named before is the later one, where both say when.
func swapped(before, after Sheet) bool {
	a, errA := takenAt(before.Source.Photo.Taken)
	b, errB := takenAt(after.Source.Photo.Taken)
	return errA == nil && errB == nil && b.Before(a)
}

// takenAt reads a photo's time with its offset; one without is no point in time.
func takenAt(s string) (time.Time, error) { return time.Parse(time.RFC3339, s) }
