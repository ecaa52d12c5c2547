package baseline

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A progressive JPEG in many scans, in every sampling and of sizes that end within a
// unit, has the samples of the standard library where they are wanted.
func TestProgressiveEqualsTheStandardLibrary(t *testing.T) {
	for i, sampling := range samplings {
		for seed := range uint64(6) {
			s := spec{41 + 7*int(seed), 50, sampling, 0, seed%2 == 0, 10*uint64(i) + seed}
			data := s.progressive()
			want, err := jpeg.Decode(bytes.NewReader(data))
			require.NoError(t, err, "%x, %d", sampling, seed)
			for _, areas := range [][]image.Rectangle{
				{want.Bounds()}, {image.Rect(0, 0, 1, 1)}, {image.Rect(17, 9, 33, 30), image.Rect(40, 45, 99, 99)}, {},
			} {
				got, ok := Decode(data, areas)
				require.True(t, ok, "%x, %d", sampling, seed)
				require.True(t, equalTo(got, want, areas), "%x, %d, %v", sampling, seed, areas)
			}
		}
	}
}

// So has one that another program made.
func TestProgressiveOfAnotherProgram(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/photos/progressive.jpg")
	require.NoError(t, err)
	want, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	for _, areas := range [][]image.Rectangle{{want.Bounds()}, {image.Rect(20, 20, 50, 40)}} {
		got, ok := Decode(data, areas)
		require.True(t, ok)
		assert.True(t, equalTo(got, want, areas), "%v", areas)
	}
}

// Without areas nothing would be gained, and a smaller one has no use for scans: the
// standard library decodes. It decides about a fault at any place, too.
func TestProgressiveLeftToTheStandardLibrary(t *testing.T) {
	data := spec{41, 50, []byte{0x22, 0x11, 0x11}, 0, false, 3}.progressive()
	all := []image.Rectangle{image.Rect(0, 0, 41, 50)}
	_, ok := Decode(data, all)
	require.True(t, ok)
	_, ok = Decode(data, nil)
	assert.False(t, ok)
	_, ok = Smaller(data, 2)
	assert.False(t, ok)
	for n := len(data) - 1; n > len(data)/2; n -= 7 {
		_, ok = Decode(data[:n], all)
		assert.False(t, ok, "cut to %d bytes", n)
	}
}
