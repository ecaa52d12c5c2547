package words

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"padband/charts"
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

func TestDueMoment(t *testing.T) {
	dipped := time.Date(2026, 11, 14, 23, 59, 18, 0, time.FixedZone("", -5*3600))
	m := charts.Moment{From: 30, To: 60, Analytes: []string{"nitrate", "pH"}}
	assert.Equal(t, "Take a photo from 23:59:48 to 00:00:18, for nitrate and pH", DueMoment(m, dipped))
	m.From = 60
	assert.Equal(t, "Take a photo at 00:00:18, for nitrate and pH", DueMoment(m, dipped))
}
