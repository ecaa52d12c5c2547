package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/cmd/padband/internal/report/reporttest"
)

// What nobody said of kit and times is said once for all readings, and what was
// said of the kit stays with each; a weightless warning of the pad does too.
func TestUnknownIsOfKitAndTimes(t *testing.T) {
	r := reporttest.Nitrate()
	for _, c := range calib.Codes() {
		r.Warnings = append(r.Warnings, calib.Warning{Code: c.Code, Weight: calib.Good})
	}
	var apart []string
	for _, w := range Unsaid([]calib.Reading{r, r}) {
		apart = append(apart, string(w.Code))
	}
	assert.Equal(t, []string{"early", "late", "no-dip-time", "expired", "open-too-long", "no-kit-date"}, apart)
	assert.Len(t, Weighty(r), len(calib.Codes())-6)
	for i := range r.Warnings {
		r.Warnings[i].Weight = calib.Caution
	}
	assert.Empty(t, Unsaid([]calib.Reading{r}))
}
