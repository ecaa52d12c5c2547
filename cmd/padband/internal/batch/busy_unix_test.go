//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package batch

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two runs into one output: the second is refused, and changes nothing.
func TestJournalIsOneRunsAlone(t *testing.T) {
	name := filepath.Join(t.TempDir(), "out")
	first, err := Open(name, OpenOptions{Run: "run", Photos: numbered(5), Head: head})
	require.NoError(t, err)
	require.NoError(t, first.Append(rows[0]))
	for _, o := range []OpenOptions{resume, {Run: "run", Photos: numbered(5), Head: head, Force: true}} {
		_, err = Open(name, o)
		var busy *BusyError
		require.ErrorAs(t, err, &busy)
	}
	for _, r := range rows[1:] {
		require.NoError(t, first.Append(r))
	}
	require.NoError(t, first.Finish())
	assert.Equal(t, string(whole()), content(t, name))
}
