package bag

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// sparse is two megabytes of which so many bytes are noise, which does not
// pack, and the rest nought, of which deflate packs 1,032 into one (RFC 1951: a
// match of 258 bytes takes two bits at the least).
func sparse(noise int) []byte {
	data := make([]byte, 2<<20)
	r := rand.NewChaCha8([32]byte{3})
	_, _ = r.Read(data[:noise]) // never fails
	return data
}

// Verify refuses what packs over 200 times; what packs over half as well is put
// in as it is. 2 MiB less the noise packs into 2,000 bytes and the noise: 12,000
// bytes of it make a ratio of about 150, 24,000 of 80.
func TestPacksTooWellFromHalfTheRatio(t *testing.T) {
	for noise, want := range map[int]bool{24_000: false, 20_000: false, 17_500: true, 12_000: true, 6_400: true, 0: true} {
		assert.Equal(t, want, packsTooWell(sparse(noise)), "%d bytes of noise", noise)
	}
	assert.False(t, packsTooWell(make([]byte, slack)), "a small file is never refused")
	assert.True(t, packsTooWell(make([]byte, slack+1)))
}

// A file of just the limit is read, one of a byte more is not.
func TestReadHoldsToItsLimit(t *testing.T) {
	root := Memory([]File{{Name: "data/five", Data: []byte("hello")}})
	for limit, want := range map[int64]string{5: "hello", 6: "hello"} {
		got, err := root.Read("data/five", limit)
		assert.NoError(t, err)
		assert.Equal(t, want, string(got))
	}
	_, err := root.Read("data/five", 4)
	assert.ErrorContains(t, err, "over the limit")
	_, err = root.Read("data/six", 4)
	assert.Error(t, err)
}
