package figure

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTicksAreRound(t *testing.T) {
	labels := func(from, to float64) string {
		var out []string
		for _, k := range (Even{Spaces: 7, Label: func(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }}).Ticks(from, to) {
			out = append(out, k.Label)
		}
		return strings.Join(out, " ")
	}
	assert.Equal(t, "0 5 10 15 20 25", labels(0, 27.5))
	assert.Equal(t, "6.4 6.6 6.8 7.0 7.2 7.4 7.6", labels(6.4, 7.7))
	assert.Equal(t, "0.00 0.02 0.04 0.06 0.08", labels(0, 0.09))
	day := func(s string) float64 {
		at, err := time.Parse(time.DateOnly, s)
		require.NoError(t, err)
		return Seconds(at)
	}
	dates := func(from, to string) (out []string) {
		for _, k := range (Dates{}).Ticks(day(from), day(to)) {
			out = append(out, k.Label)
		}
		return out
	}
	assert.Equal(t, []string{"Jan 2026", "Mar 2026", "May 2026", "Jul 2026"}, dates("2026-01-01", "2026-08-20"))
	assert.Equal(t, []string{"2021", "2023", "2025"}, dates("2019-06-01", "2026-08-20"))
	assert.Equal(t, []string{"1 Jan", "4 Jan", "7 Jan", "10 Jan"}, dates("2026-01-01", "2026-01-11"))
	assert.Equal(t, []string{"Jan 2025", "Apr 2025", "Jul 2025", "Oct 2025", "Jan 2026", "Apr 2026"},
		dates("2024-12-20", "2026-05-20"), "months begin quarters, not where they fall")
	for _, to := range []string{"2026-01-02", "2026-01-20", "2026-03-10", "2026-04-01", "2027-01-01", "2030-01-01", "2090-01-01"} {
		n := len(dates("2026-01-01", to))
		assert.True(t, n >= 2 && n <= 7, "%s: %d", to, n)
	}
}
