package beside

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func text(t *testing.T, folder, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, name))
	require.NoError(t, err)
	return string(data)
}

// One file of three is there already: none is written, and it is named.
func TestWriteIsAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b"), []byte("old"), 0o600))
	files := []File{{"a", []byte("1")}, {"b", []byte("new")}, {"c", []byte("3")}}
	err := Write(dir, files, false)
	var exists *ExistsError
	require.ErrorAs(t, err, &exists)
	assert.Equal(t, []string{"b"}, exists.Names)
	assert.EqualError(t, err, "there already: b; nothing was written")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
	assert.Equal(t, "old", text(t, dir, "b"))

	require.NoError(t, Write(dir, files, true))
	assert.Equal(t, "1new3", text(t, dir, "a")+text(t, dir, "b")+text(t, dir, "c"))
	require.NoError(t, Write(dir, files, false), "the same content is no hindrance")
	entries, err = os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 3, "no passing file stays")
}

// A folder or a link of the file's name is not followed or replaced, by force neither.
func TestWriteLeavesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "a"), 0o700))
	err := Write(dir, []File{{"b", []byte("1")}, {"a", []byte("1")}}, true)
	assert.ErrorContains(t, err, "a: there is a folder, link or device of this name")
	outside := filepath.Join(t.TempDir(), "far")
	require.NoError(t, os.WriteFile(outside, []byte("far"), 0o600))
	if os.Symlink(outside, filepath.Join(dir, "l")) == nil {
		assert.ErrorContains(t, Write(dir, []File{{"l", []byte("x")}}, true), "link")
		assert.Equal(t, "far", text(t, filepath.Dir(outside), "far"))
	}
	assert.NoFileExists(t, filepath.Join(dir, "b"))
}

func TestWriteWithoutAFolder(t *testing.T) {
	err := Write(filepath.Join(t.TempDir(), "none"), []File{{"a", []byte("1")}}, false)
	assert.ErrorContains(t, err, "a: cannot be written: no such file or directory; nothing was written")
	var exists *ExistsError
	assert.False(t, errors.As(err, &exists))
}
