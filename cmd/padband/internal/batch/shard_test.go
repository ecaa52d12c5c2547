package batch

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func numbered(n int) (out []Photo) {
	for i := range n {
		out = append(out, Photo{Name: fmt.Sprint(i), File: fmt.Sprint(i)})
	}
	return out
}

// The shards of a batch hold each photo once, in order, and differ by one photo at most.
func TestShardsAreTheWhole(t *testing.T) {
	for _, n := range []int{1, 2, 3, 16, 40} {
		for _, total := range []int{0, 1, 15, 16, 17, 100} {
			all := numbered(total)
			var union []Photo
			least, most := total, 0
			for k := 1; k <= n; k++ {
				share := Shard{k, n}.Of(all)
				assert.True(t, slices.IsSortedFunc(share, func(a, b Photo) int { return len(a.File)*1000 + int(a.File[0]) - len(b.File)*1000 - int(b.File[0]) }))
				least, most = min(least, len(share)), max(most, len(share))
				union = append(union, share...)
			}
			assert.ElementsMatch(t, all, union, "%d shards of %d photos", n, total)
			assert.LessOrEqual(t, most-least, 1)
		}
	}
	assert.Equal(t, numbered(5), Shard{}.Of(numbered(5)))
	assert.Equal(t, []string{"2", "5"}, called(Shard{3, 3}.Of(numbered(7))))
}

func TestShardIsRead(t *testing.T) {
	var s Shard
	assert.NoError(t, s.Set("3/16"))
	assert.Equal(t, Shard{3, 16}, s)
	assert.Equal(t, "3/16", s.String())
	for _, text := range []string{"", "3", "0/4", "5/4", "-1/4", "1/0", "a/b", "1/2/3", "1/1000001"} {
		assert.EqualError(t, s.Set(text), "it is K/N, such as 3/16, with K from 1 to N", text)
	}
	assert.Equal(t, Shard{3, 16}, s, "what is wrong changes nothing")
}
