package batch

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// The expected lines are worked out by hand.
func TestProgress(t *testing.T) {
	for want, p := range map[string]Progress{
		"0 of 1000": {Total: 1000},
		"412 of 1000, 6.4 a second, 1 min 32 s left":               {Total: 1000, Done: 412, Elapsed: 64375 * time.Millisecond},
		"412 of 1000, 20 a second, 29 s left, 3 could not be read": {Total: 1000, Before: 12, Done: 412, Failed: 3, Elapsed: 20 * time.Second},
		"5 of 20000, 10.0 a minute, 33 h 19 min left":              {Total: 20000, Done: 5, Elapsed: 30 * time.Second},
		"1 of 500000, 30.0 a minute, 12 days left":                 {Total: 500000, Done: 1, Elapsed: 2 * time.Second},
		"1000 of 1000, 10 a second, in 1 min 40 s":                 {Total: 1000, Done: 1000, Elapsed: 100 * time.Second},
		"300 of 1000": {Total: 1000, Before: 300, Done: 300, Elapsed: time.Second},
	} {
		assert.Equal(t, want, p.String())
		assert.Less(t, len(p.String()), 80)
	}
}
