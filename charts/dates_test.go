package charts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestParseExpiry: a month means its last day, also in leap years and December.
func TestParseExpiry(t *testing.T) {
	for text, want := range map[string]string{
		"2027-05": "2027-05-31", "2027-02": "2027-02-28", "2028-02": "2028-02-29", "2026-12": "2026-12-31", "2027-05-03": "2027-05-03",
	} {
		day, err := ParseExpiry(text)
		require.NoError(t, err)
		assert.Equal(t, want, day.Format(time.DateOnly), text)
	}
	for _, text := range []string{"", "2027", "05/2027", "2027-02-30", "2027-5", "2027-13"} {
		_, err := ParseExpiry(text)
		assert.Error(t, err, text)
	}
}
