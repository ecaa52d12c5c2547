package readers

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCountLines(t *testing.T) {
	name := filepath.Join(t.TempDir(), "x")
	long := strings.Repeat("x", 100_000) // more than is read at once
	for text, want := range map[string]int{"": 0, "a": 1, "a\n": 1, "a\nb": 2, "\n\n": 2, long: 1, long + "\n" + long: 2} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
		n, err := countLines(name)
		require.NoError(t, err)
		assert.Equal(t, want, n, "%.5q", text)
	}
}
