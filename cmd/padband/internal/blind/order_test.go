package blind

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The order is that of the hashes, worked out with another program:
// printf '7\000cellar\000nitrate' | sha256sum (GNU coreutils), and so on.
func TestOrderIsThatOfTheSeed(t *testing.T) {
	pads, err := padsOf(demoPhotos(t), "")
	require.NoError(t, err)
	require.Len(t, pads, 6)
	named := func(seed uint64, pads []pad) (out []string) {
		for _, p := range shuffled(pads, seed) {
			out = append(out, p.Sample+" "+p.analyte.Name)
		}
		return out
	}
	want := []string{"kitchen total hardness", "cellar total hardness", "cellar pH", "kitchen nitrate", "cellar nitrate", "kitchen pH"}
	assert.Equal(t, want, named(7, pads))
	turned := []pad{pads[5], pads[3], pads[0], pads[4], pads[2], pads[1]}
	assert.Equal(t, want, named(7, turned), "whatever order the pads come in")
	assert.Equal(t, setOf(pads), setOf(turned))
	assert.NotEqual(t, want, named(8, pads))
	assert.NotEqual(t, setOf(pads), setOf(pads[1:]))
	assert.Equal(t, []string{"cellar nitrate", "cellar total hardness", "cellar pH"}, []string{
		pads[0].Sample + " " + pads[0].analyte.Name, pads[1].Sample + " " + pads[1].analyte.Name, pads[2].Sample + " " + pads[2].analyte.Name}, "they are left as they were")
}

// Every one of six orders of three comes about as often: no seed favours a pad.
// With 6,000 seeds a count has a standard deviation of sqrt(6000 x 1/6 x 5/6) = 29.
func TestOrderFavoursNone(t *testing.T) {
	pads, err := padsOf(demoPhotos(t)[:1], "")
	require.NoError(t, err)
	count := map[string]int{}
	for seed := uint64(1); seed <= 6000; seed++ {
		o := shuffled(pads, seed)
		count[o[0].analyte.Name+o[1].analyte.Name]++
	}
	require.Len(t, count, 6)
	for name, n := range count {
		assert.InDelta(t, 1000, n, 5*29, name)
	}
}
