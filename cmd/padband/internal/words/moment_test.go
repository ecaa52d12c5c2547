package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMoment(t *testing.T) {
	for taken, want := range map[string]string{
		"2026-11-14T08:41:10-05:00": "2026-11-14 08:41:10 -05:00",
		"2026-11-14T08:41:10Z":      "2026-11-14 08:41:10 UTC",
		"2026-11-14T08:41:10":       "2026-11-14 08:41:10",
		"2026":                      "2026",
	} {
		assert.Equal(t, want, Moment(taken))
	}
}
