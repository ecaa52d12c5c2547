package record

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
)

// heldFolder is a folder with some of a record's files in it.
func heldFolder(t *testing.T, files map[string]string) *bag.Root {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	}
	root, err := bag.Open(dir)
	require.NoError(t, err)
	t.Cleanup(func() { root.Close() })
	return root
}

// A record's own photo, chart and marks; the photo when it is asked for.
func TestHeld(t *testing.T) {
	files := map[string]string{"data/photo/a.jpg": "photo", "data/chart.json": "chart", "data/marks.json": "marks", "data/attached/b.jpg": "other"}
	h, err := HeldIn(heldFolder(t, files), false)
	require.NoError(t, err)
	assert.Equal(t, Held{Name: "a.jpg", ChartData: []byte("chart"), MarksData: []byte("marks")}, h)
	h, err = HeldIn(heldFolder(t, files), true)
	require.NoError(t, err)
	assert.Equal(t, "photo", string(h.Photo))
}

func TestHeldWithoutItsFiles(t *testing.T) {
	_, err := HeldIn(heldFolder(t, map[string]string{"data/marks.json": "{}"}), false)
	assert.EqualError(t, err, "data/photo/ holds 0 files; a record is of one photo")
	_, err = HeldIn(heldFolder(t, map[string]string{"data/photo/a": "", "data/photo/b": ""}), false)
	assert.EqualError(t, err, "data/photo/ holds 2 files; a record is of one photo")
	_, err = HeldIn(heldFolder(t, map[string]string{"data/photo/a": "x", "data/chart.json": "{}"}), true)
	assert.EqualError(t, err, "data/marks.json: file does not exist")
}
