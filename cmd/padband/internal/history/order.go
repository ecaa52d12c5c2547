package history

import (
	"cmp"
	"slices"
	"time"

	"padband/cmd/padband/internal/lines"
)

// clocks turns times without an offset into the place's own time: that of the
// record with an offset that is nearest on the clock, else UTC for all.
func (g *gathered) clocks() (notes []string) {
	var known []gatheredRow
	for _, r := range g.rows {
		if r.offset {
			known = append(known, r)
		}
	}
	missing := len(g.rows) - len(known)
	for i, r := range g.rows {
		if r.offset || len(known) == 0 {
			continue
		}
		near := slices.MinFunc(known, func(a, b gatheredRow) int {
			return cmp.Compare(onClock(a.time).Sub(r.time).Abs(), onClock(b.time).Sub(r.time).Abs())
		})
		y, m, d := r.time.Date()
		g.rows[i].time = time.Date(y, m, d, r.time.Hour(), r.time.Minute(), r.time.Second(), r.time.Nanosecond(), near.time.Location())
	}
	if missing > 0 {
		notes = append(notes, lines.Count(missing, "time")+" without an offset from UTC, taken as the place's clock.")
	}
	if g.untimed > 0 {
		notes = append(notes, lines.Count(g.untimed, "record")+" without a time of the photo left out.")
	}
	return notes
}

// onClock is what a time shows on its own clock, as if that were UTC's.
func onClock(t time.Time) time.Time {
	_, offset := t.Zone()
	return t.UTC().Add(time.Duration(offset) * time.Second)
}

// once leaves out further records of one photo, and further photos of one dip: each
// dip counts once, or the test would take repetition for proof.
func (g *gathered) once() (notes []string) {
	photos, dips := map[string]bool{}, map[string]bool{}
	photo, dip := 0, 0
	g.rows = slices.DeleteFunc(g.rows, func(r gatheredRow) bool {
		samePhoto, sameDip := r.Photo != "" && photos[r.Photo], r.Dipped != "" && dips[r.Dipped]
		photos[r.Photo], dips[r.Dipped] = true, true
		switch {
		case samePhoto:
			photo++
		case sameDip:
			dip++
		}
		return samePhoto || sameDip
	})
	if photo > 0 {
		notes = append(notes, lines.Count(photo, "record")+" of a photo that another record has, left out.")
	}
	if dip > 0 {
		notes = append(notes, lines.Count(dip, "record")+" of a dip that another record has, left out.")
	}
	return notes
}
