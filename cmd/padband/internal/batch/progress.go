package batch

import (
	"fmt"
	"strings"
	"time"
)

// Progress words how far a run has come.
type Progress struct {
	Total   int           // photos of the run
	Before  int           // of them done by runs before this one
	Done    int           // of them done by now
	Failed  int           // of these could not be read
	Elapsed time.Duration // of this run
}

// String is one line without its break, at most 79 columns: how many are done,
// the rate, and the time left, or taken when all are done.
func (p Progress) String() string {
	parts := []string{fmt.Sprintf("%d of %d", p.Done, p.Total)}
	if rate := float64(p.Done-p.Before) / p.Elapsed.Seconds(); p.Done > p.Before && p.Elapsed > 0 {
		parts = append(parts, rated(rate))
		left := time.Duration(float64(p.Total-p.Done) / rate * float64(time.Second))
		if p.Done == p.Total {
			parts = append(parts, "in "+spoken(p.Elapsed))
		} else {
			parts = append(parts, spoken(left)+" left")
		}
	}
	if p.Failed > 0 {
		parts = append(parts, fmt.Sprintf("%d could not be read", p.Failed))
	}
	return strings.Join(parts, ", ")
}

func rated(perSecond float64) string {
	switch {
	case perSecond >= 10:
		return fmt.Sprintf("%.0f a second", perSecond)
	case perSecond >= 1:
		return fmt.Sprintf("%.1f a second", perSecond)
	}
	return fmt.Sprintf("%.1f a minute", 60*perSecond)
}

// spoken is a time in its two largest units.
func spoken(d time.Duration) string {
	s := int64(d.Round(time.Second) / time.Second)
	switch {
	case s < 60:
		return fmt.Sprintf("%d s", s)
	case s < 3600:
		return fmt.Sprintf("%d min %d s", s/60, s%60)
	case s < 48*3600:
		return fmt.Sprintf("%d h %d min", s/3600, s%3600/60)
	}
	return fmt.Sprintf("%d days", (s+43200)/86400)
}
