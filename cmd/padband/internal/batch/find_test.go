package batch

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tree writes files of the given contents into a new folder.
func tree(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, data := range files {
		name = filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o700))
		require.NoError(t, os.WriteFile(name, []byte(data), 0o600))
	}
	return dir
}

// called lists what the rows call photos; an exclamation mark stands after those
// that are known not to be readable.
func called(photos []Photo) (out []string) {
	for _, p := range photos {
		mark := ""
		if p.Err != nil {
			mark = "!"
		}
		out = append(out, p.File+mark)
	}
	return out
}

// Photos with marks are found in every folder and sorted by their whole path,
// whatever they are called; nothing else is, and marks alone are not lost.
func TestFind(t *testing.T) {
	dir := tree(t, map[string]string{
		"b/kitchen.jpg": "", "b/kitchen.marks.json": "",
		"a/kitchen.JPEG": "", "a/kitchen.marks.json": "", "a/kitchen.txt": "notes", "a/kitchen.chart.json": "{}",
		"a-b.png": "", "a-b.marks.json": "",
		"two.jpg": "", "two.heic": "", "two.marks.json": "",
		"named": "\xff\xd8\xff\xe0 and so on", "named.marks.json": "",
		"odd.photo": "\x00\x00\x00\x18ftypheic", "odd.marks.json": "", "odd.note": "\xff",
		"brief": "\xff\xd8\xff", "brief.marks.json": "",
		"song.p": "RIFF\x00\x00\x00\x00WAVE", "w.p": "RIFF\x00\x00\x00\x00WEBP", "w.marks.json": "", "song.marks.json": "",
		"short": "RI", "short.marks.json": "",
		"unmarked.jpg":    "",
		"lone.marks.json": "", "c/d/lone.marks.json": "",
		".hidden/x.jpg": "", ".hidden/x.marks.json": "", "._kitchen.jpg": "", "._kitchen.marks.json": "",
	})
	photos, err := Find(dir, false)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"a-b.png", "a/kitchen.JPEG", "b/kitchen.jpg", "brief", "c/d/lone.marks.json!", "lone.marks.json!",
		"named", "odd.photo", "short.marks.json!", "song.marks.json!", "two.heic", "two.jpg", "w.p",
	}, called(photos))
	assert.Equal(t, filepath.Join(dir, "a", "kitchen.JPEG"), photos[1].Name)
	assert.ErrorContains(t, photos[4].Err, "have no photo beside them")
}

// A link to a folder leads round in circles, one to a photo reads it twice:
// neither is followed, but the folder named may itself be a link.
func TestFindFollowsNoLinks(t *testing.T) {
	dir := tree(t, map[string]string{"a/p.jpg": "", "a/p.marks.json": "", "q.marks.json": ""})
	if os.Symlink(dir, filepath.Join(dir, "a", "round")) != nil {
		t.Skip("this system makes no links")
	}
	require.NoError(t, os.Symlink(filepath.Join(dir, "a", "p.jpg"), filepath.Join(dir, "q.jpg")))
	photos, err := Find(dir, false)
	require.NoError(t, err)
	assert.Equal(t, []string{"a/p.jpg", "q.marks.json!"}, called(photos))
	again, err := Find(filepath.Join(dir, "a", "round"), false)
	require.NoError(t, err)
	assert.Equal(t, called(photos), called(again))
}

func TestFindWithoutAFolder(t *testing.T) {
	_, err := Find(filepath.Join(t.TempDir(), "none"), false)
	assert.EqualError(t, err, "there is no such file or folder; check the name")
}

// closed is a tree with a folder that may not be opened.
type closed struct{ fstest.MapFS }

func (c closed) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == "shut" {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return c.MapFS.ReadDir(name)
}

// A folder that cannot be searched is an entry of its own, not the end.
func TestFindShutFolder(t *testing.T) {
	s := search{tree: closed{fstest.MapFS{
		"shut/p.jpg": {}, "shut/p.marks.json": {}, "z.jpg": {}, "z.marks.json": {},
	}}}
	s.folder(".")
	assert.ElementsMatch(t, []string{"shut!", "z.jpg"}, called(s.found))
	for _, p := range s.found {
		if p.Err != nil {
			assert.EqualError(t, p.Err, "the folder cannot be searched: may not be opened; check its permissions")
		}
	}
}

// Photos without marks are found where they are wanted; other files and marks alone are
// told apart as ever.
func TestFindUnmarked(t *testing.T) {
	dir := tree(t, map[string]string{
		"a/kitchen.jpg": "", "a/kitchen.marks.json": "", "a/bare.jpg": "", "a/notes.txt": "notes", "a/own.chart.json": "{}",
		"named": "\xff\xd8\xff\xe0 and so on", "lone.marks.json": "", ".hidden/x.jpg": "", ".x.jpg": "",
	})
	photos, err := Find(dir, true)
	require.NoError(t, err)
	assert.Equal(t, []string{"a/bare.jpg", "a/kitchen.jpg", "lone.marks.json!", "named"}, called(photos))
	photos, err = Photos(dir, nil, false)
	require.NoError(t, err)
	assert.Equal(t, []string{"a/kitchen.jpg", "lone.marks.json!"}, called(photos))
	empty := t.TempDir()
	_, err = Photos(empty, nil, true)
	assert.EqualError(t, err, "there is no photo in this folder; name another")
	_, err = Photos(empty, nil, false)
	assert.EqualError(t, err, "there is no photo with marks in this folder; mark some first")
}
