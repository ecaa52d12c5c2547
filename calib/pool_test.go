package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func threeAt(t *testing.T, steps ...float64) []Reading {
	t.Helper()
	var out []Reading
	for _, s := range steps {
		out = append(out, readOne(t, scene(onRamp(s))))
	}
	return out
}

func TestPoolNarrowsTheBandButNotBelowWhatIsShared(t *testing.T) {
	rs := threeAt(t, 2.5, 2.5, 2.5)
	p, err := Pool(rs, OneStrip)
	require.NoError(t, err)
	one := rs[0].Posterior.Spread()
	assert.Less(t, p.Posterior.Spread(), one)
	assert.Greater(t, p.Posterior.Spread(), math.Sqrt(math.Min(sharedVariance(rs), sq(one)))*0.9)
	within(t, 2.5, p.Analyte.StepOf(p.Value), 0.1, "place")
	assert.Empty(t, p.Disagree)
	assert.Equal(t, []int{0, 1, 2}, p.Used)
}

func TestPoolLeavesTheKitErrorWhole(t *testing.T) {
	rs := threeAt(t, 2.5, 2.5, 2.5)
	p, err := Pool(rs, OneStrip)
	require.NoError(t, err)
	sd, _ := kitSpread(p.Analyte)
	within(t, math.Hypot(p.Posterior.Spread(), sd), p.Water.Spread(), 0.02, "water spread")
}

func TestPoolNamesThePhotoThatDisagrees(t *testing.T) {
	p, err := Pool(threeAt(t, 1.5, 1.5, 4.4, 1.5), OneStrip)
	require.NoError(t, err)
	assert.Equal(t, []int{2}, p.Disagree)
	assert.NotEqual(t, Good, p.Reliability)
}

func TestPoolIsTheSameInAnyOrder(t *testing.T) {
	a, err := Pool(threeAt(t, 1.2, 1.6, 1.9), OneStrip)
	require.NoError(t, err)
	b, err := Pool(threeAt(t, 1.9, 1.2, 1.6), OneStrip)
	require.NoError(t, err)
	within(t, a.Value, b.Value, 1e-9, "value")
	within(t, a.Posterior.Spread(), b.Posterior.Spread(), 1e-9, "spread")
}

func TestStripsThatScatterGiveAWiderBandThanPhotosOfOne(t *testing.T) {
	rs := threeAt(t, 0.8, 1.7, 2.6)
	one, err := Pool(rs, OneStrip)
	require.NoError(t, err)
	several, err := Pool(rs, Strips)
	require.NoError(t, err)
	assert.Greater(t, several.Posterior.Spread(), one.Posterior.Spread())
	assert.Greater(t, several.Scatter, one.Scatter)
}

func TestPoolKeepsAnOpenEnd(t *testing.T) {
	p, err := Pool(threeAt(t, 6, 6.2, 6.1), OneStrip)
	require.NoError(t, err)
	assert.Equal(t, Above, p.Range)
	assert.True(t, p.Band.High.Open)
}

func TestPoolRefusesOneReadingAndOtherScales(t *testing.T) {
	rs := threeAt(t, 1, 2)
	_, err := Pool(rs[:1], OneStrip)
	assert.ErrorContains(t, err, "two or more")
	rs[1].Analyte.Unit = "ppm"
	_, err = Pool(rs, OneStrip)
	assert.ErrorContains(t, err, "different scales")
}
