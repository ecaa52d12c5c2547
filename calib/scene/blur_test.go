package scene

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

// shotOf reads the first scenes of a class with a fault.
func shotOf(t *testing.T, seed uint64, class Class, fault Fault, photos int) (os []outcome) {
	t.Helper()
	for n := 0; n < photos; seed++ {
		c, err := Draw(seed, class)
		require.NoError(t, err)
		if c.Fault != fault {
			continue
		}
		n++
		s, err := sampled(c)
		require.NoError(t, err)
		o, err := readCase(&s)
		require.NoError(t, err)
		os = append(os, o...)
	}
	return os
}

// Blurred photos are named, sharp ones are not, and blur alone, with the marks
// well inside the patches, seldom makes a reading unreliable.
func TestBlurIsSeenInThePicture(t *testing.T) {
	count := func(os []outcome) (named, unreliable int) {
		for _, o := range os {
			if slices.Contains(o.Codes, "blurred") {
				named++
			}
			if o.Trust == calib.Unreliable {
				unreliable++
			}
		}
		return named, unreliable
	}
	named, _ := count(shotOf(t, 500_000, Good, None, 12))
	assert.Zero(t, named, "sharp photos")
	blurred := shotOf(t, 510_000, Bad, Blurred, 12)
	named, unreliable := count(blurred)
	assert.GreaterOrEqual(t, named, len(blurred)/2, "of %d", len(blurred))
	assert.LessOrEqual(t, unreliable, len(blurred)/5, "of %d", len(blurred))
}
