package difference

import (
	"fmt"
	"slices"
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
	if shared(before, after) {
		text := "Both records are of one and the same photo."
		if before.Strip() != nil || after.Strip() != nil {
			text = "The two records have a photo in common, so that both are of one strip."
		}
		in.Doubts = append(in.Doubts, text)
	}
	for i, b := range before.Readings {
		k := readingOf(after.Readings, b.Analyte.Name)
		if k < 0 {
			in.NotCompared = append(in.NotCompared, fmt.Sprintf("%s was read before alone.", b.Analyte.Name))
			continue
		}
		a := after.Readings[k]
		c, err := judge.Difference(b, a)
		if err != nil {
			in.NotCompared = append(in.NotCompared, err.Error()+".")
			continue
		}
		in.Pairs = append(in.Pairs, Pair{b, a, [2]calib.LightReport{before.From(i).Light, after.From(k).Light}, c})
	}
	for _, a := range after.Readings {
		if readingOf(before.Readings, a.Analyte.Name) < 0 {
			in.NotCompared = append(in.NotCompared, fmt.Sprintf("%s was read after alone.", a.Analyte.Name))
		}
	}
	return in
}

// shared reports whether a photo is in both records.
func shared(before, after record.Sheet) bool {
	return slices.ContainsFunc(before.SHA256s(), func(sum string) bool { return slices.Contains(after.SHA256s(), sum) })
}

// readingOf is the index of an analyte's reading among those of one side; -1 for none.
func readingOf(in []calib.Reading, analyte string) int {
	return slices.IndexFunc(in, func(r calib.Reading) bool { return r.Analyte.Name == analyte })
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
