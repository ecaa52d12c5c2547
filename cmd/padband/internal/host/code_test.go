//go:build !js

package host

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The marks of every QR code, ISO/IEC 18004 section 6.3: four light modules
// around, a finder of 7 by 7 at three corners, lines of alternating modules
// between them, and one module that is always dark. That a code reads as its
// address was tried with a reader of codes.
func TestCodeIsAQRCode(t *testing.T) {
	c := code("http://192.168.178.123:65535/abcdefghijklmnop/")
	n := len(c) - 8
	require.Equal(t, 0, (n-17)%4, "%d modules are no version", n)
	for i := range c {
		for k := range 4 {
			assert.False(t, c[k][i] || c[len(c)-1-k][i] || c[i][k] || c[i][len(c)-1-k], "the border is light")
		}
	}
	finder := []string{"#######", "#.....#", "#.###.#", "#.###.#", "#.###.#", "#.....#", "#######"}
	for _, at := range [][2]int{{4, 4}, {n - 3, 4}, {4, n - 3}} {
		for y, row := range finder {
			for x, m := range row {
				assert.Equal(t, m == '#', c[at[1]+y][at[0]+x], "finder at %v, %d %d", at, x, y)
			}
		}
	}
	for i := 8; i < n-8; i++ {
		assert.Equal(t, i%2 == 0, c[4+6][4+i], "timing across")
		assert.Equal(t, i%2 == 0, c[4+i][4+6], "timing down")
	}
	assert.True(t, c[4+n-8][4+8], "the dark module")
}

// The text and the drawing show the same modules.
func TestCodeInTextAndDrawing(t *testing.T) {
	const address = "http://10.0.0.7:40123/abcdefghijklmnop/"
	c := code(address)
	lines := strings.Split(strings.TrimSuffix(Code(address), "\n"), "\n")
	require.Len(t, lines, (len(c)+1)/2)
	svg := CodeSVG(address)
	for y, row := range c {
		line := []rune(lines[y/2])
		require.Len(t, line, len(row))
		for x, dark := range row {
			drawn := "█▀" // light above
			if y%2 == 1 {
				drawn = "█▄"
			}
			assert.Equal(t, dark, !strings.ContainsRune(drawn, line[x]), "%d %d", x, y)
		}
	}
	n := 0
	for _, row := range c {
		for _, dark := range row {
			if dark {
				n++
			}
		}
	}
	assert.Equal(t, n, strings.Count(svg, "h1v1h-1z"))
	assert.NotContains(t, svg, "style")
}
