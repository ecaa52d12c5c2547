package record

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFactsThatAreTimes(t *testing.T) {
	for _, c := range []struct{ name, value, want string }{
		{"dipped", "", ""},
		{"dipped", "2026-11-14T08:40:18-05:00", ""},
		{"dipped", "2026-11-14 08:40", `is "2026-11-14 08:40", which cannot be read; write a time with its offset, such as 2026-11-14T08:40:18-05:00`},
		{"taken", "2026-11-14 08:40", ""},
		{"taken", "noon", `is "noon", which cannot be read; write a time with its offset, such as 2026-11-14T08:40:18-05:00`},
		{"opened", "2026-09-01", ""},
		{"opened", "2026-09", `is "2026-09", which cannot be read; write a day, such as 2026-09-01`},
		{"expires", "2027-05", ""},
		{"expires", "May", `is "May", which cannot be read; write a month, such as 2027-05, or a day`},
		{"place", "anything at all", ""},
		{"light", "Tube ", ""},
		{"light", "neon", `is "neon"; write one of daylight, lamp, tube, flash, or leave it out for mixed light`},
		{"water", "tint", ""},
		{"water", "brown", `is "brown"; write one of clear, tint, dark, cloudy, or leave it out where nobody looked`},
	} {
		err := CheckFact(c.name, c.value)
		if c.want == "" {
			assert.NoError(t, err, "%+v", c)
			continue
		}
		assert.EqualError(t, err, c.want)
	}
}
