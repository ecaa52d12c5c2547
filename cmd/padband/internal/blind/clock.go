package blind

import (
	"strconv"
	"time"
)

// stopwatch measures how long a pad is shown, by the server's clock: from when the
// page first has the pad's pictures until the pad's call.
type stopwatch struct {
	at     int // the pad it is for
	since  time.Time
	before time.Duration // shown earlier, when its call was taken back
}

// start begins the time of a pad. When the pad is shown again, its time goes on.
func (s *stopwatch) start(at int, now time.Time) {
	if s.at != at {
		*s = stopwatch{at: at}
	}
	if s.since.IsZero() {
		s.since = now
	}
}

// running reports whether the pad is being shown.
func (s *stopwatch) running(at int) bool { return s.at == at && !s.since.IsZero() }

// took is the time until now, in seconds to a tenth.
func (s *stopwatch) took(now time.Time) string {
	d := s.before + max(0, now.Sub(s.since))
	return strconv.FormatFloat(d.Seconds(), 'f', 1, 64)
}

// again makes the clock ready for a pad whose call was taken back after so many
// seconds.
func (s *stopwatch) again(at int, took string) {
	*s = stopwatch{at: at}
	if v, err := strconv.ParseFloat(took, 64); err == nil && v >= 0 && v < 1e7 {
		s.before = time.Duration(v * float64(time.Second))
	}
}
