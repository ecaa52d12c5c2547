package batch

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The line is written over the one before, and what earlier runs did counts.
func TestMeterShowsWhatIsDone(t *testing.T) {
	var b strings.Builder
	m := NewMeter(&b, 3, []Outcome{Failed})
	m.Step(Good)
	m.Step(Unreliable)
	m.End()
	assert.Equal(t, Tally{Good: 1, Unreliable: 1, Failed: 1}, m.Tally)
	shown := strings.Split(b.String(), "\r")
	assert.Len(t, shown, 3, "the second step came too soon to be shown, the end is: %q", shown)
	assert.True(t, strings.HasPrefix(shown[1], "2 of 3, "), shown[1])
	assert.Regexp(t, `^3 of 3, .* in 0 s, 1 could not be read *\n$`, shown[2])

	NewMeter(nil, 1, nil).End() // nothing is shown, and nothing breaks
}
