package usage

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The distances of kitten and sitting and of ca and abc are given with the
// definitions (Levenshtein; the example by which the optimal string alignment
// differs from the unrestricted distance), here from memory; the others are
// counted by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"read", "read", 0}, {"raed", "read", 1}, {"red", "read", 1}, {"reads", "read", 1}, {"reed", "read", 1},
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"über", "ueber", 2}, {"chrat", "chart", 1}, {"dear", "read", 2},
	} {
		assert.Equal(t, c.want, distance(c.a, c.b), "%s, %s", c.a, c.b)
		assert.Equal(t, c.want, distance(c.b, c.a), "%s, %s", c.b, c.a)
	}
}

func TestNear(t *testing.T) {
	words := []string{"mark", "read", "batch", "verify", "version", "compare", "completion", "max-megapixels"}
	for typed, want := range map[string][]string{
		"raed": {"read"}, "READ": {"read"}, "marl": {"mark"}, "bacth": {"batch"}, "vrefiy": {"verify"}, "max-megapixel": {"max-megapixels"},
		"max_mega_pixels": {"max-megapixels"}, "ver": {"verify", "version"}, "comp": {"compare", "completion"}, "ba": {"batch"},
		"": nil, "r": nil, "x": nil, "rd": nil, "dear": nil, "photo": nil, "batched-up": nil,
	} {
		assert.Equal(t, want, Near(typed, words), typed)
	}
	assert.Equal(t, []string{"lot", "low"}, Near("loz", []string{"lot", "low", "lot"}), "each once")
}
