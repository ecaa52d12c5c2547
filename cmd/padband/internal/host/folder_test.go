package host

import (
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// leave puts into a store what a run that is killed would leave there.
func leave(t *testing.T, s hosted.Store, name string) {
	t.Helper()
	switch s := s.(type) {
	case *Folder:
		path := filepath.Join(s.dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, []byte("half"), 0o600))
	case *Memory:
		s.files[name] = held{[]byte("half"), time.Now()}
	default:
		t.Fatalf("no way to leave something in a %T", s)
	}
}

func inFolder(t *testing.T, dir string) (out []string) {
	t.Helper()
	there, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range there {
		out = append(out, e.Name())
	}
	return out
}

// When a file cannot be put in its place, the new ones before it go again. Here
// a folder takes the last one's name while it is being written.
func TestFolderTakesBackWhatWasNew(t *testing.T) {
	dir := t.TempDir()
	s := NewFolder(dir)
	require.NoError(t, s.WriteWhole([]hosted.File{file("old", "old")}, hosted.Never))
	late := hosted.File{Name: "z", Make: func(w io.Writer) error { return os.MkdirAll(filepath.Join(dir, "z", "y"), 0o700) }}
	err := s.WriteWhole([]hosted.File{file("a", "a"), file("r/b", "b"), late}, hosted.Replace)
	assert.ErrorContains(t, err, "z: cannot be put in its place: ")
	assert.ErrorContains(t, err, "; save again")
	assert.Equal(t, []string{"old", "z"}, inFolder(t, dir))
}

func TestFolderThatIsNotThere(t *testing.T) {
	s := NewFolder(filepath.Join(t.TempDir(), "none"))
	err := s.WriteWhole([]hosted.File{file("a", "a")}, hosted.Same)
	assert.EqualError(t, err, "a: cannot be written: no such file or directory; nothing was written")
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = s.List("")
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = s.Read("a")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// What is written can be read by others, as what people save is.
func TestFolderModes(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, NewFolder(dir).WriteWhole([]hosted.File{file("a", "a"), made("z", "z"), file("r/d/x", "x")}, hosted.Never))
	for name, want := range map[string]os.FileMode{"a": 0o644, "z": 0o644, "r": 0o755, "r/d": 0o755, "r/d/x": 0o644} {
		info, err := os.Stat(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, want, info.Mode().Perm(), name)
	}
}

func link(t *testing.T, to, at string) {
	t.Helper()
	if err := os.Symlink(to, at); err != nil {
		t.Skip("this system makes no links: " + err.Error())
	}
}

// A person's own link in the folder is read through; nothing is written through
// one, and below the folder none leads out of it.
func TestFolderAndLinks(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	s := NewFolder(dir)
	secret := filepath.Join(other, "secret")
	require.NoError(t, os.WriteFile(secret, []byte("secret"), 0o600))
	require.NoError(t, s.WriteWhole([]hosted.File{file("r/x", "x"), file("r/d/y", "y")}, hosted.Never))
	link(t, secret, filepath.Join(dir, "own"))
	link(t, filepath.Join(other, "gone"), filepath.Join(dir, "nowhere"))
	link(t, secret, filepath.Join(dir, "r", "out"))
	link(t, filepath.Join("..", "..", "own"), filepath.Join(dir, "r", "d", "round"))
	link(t, other, filepath.Join(dir, "tree"))
	link(t, filepath.Join("..", "r", "d"), filepath.Join(dir, "r", "d2"))

	assert.Equal(t, "secret", text(t, s, "own"))
	_, err := s.Read("nowhere")
	assert.ErrorContains(t, err, "leads nowhere")
	assert.NotErrorIs(t, err, os.ErrNotExist, "something has the name")
	for _, name := range []string{"r/out", "r/d/round", "tree/secret", "r/d2/y"} {
		_, err := s.Read(name)
		assert.Error(t, err, name)
	}
	for _, name := range []string{"tree", "r/d2", "own"} {
		_, err := s.List(name)
		assert.Error(t, err, name)
	}
	for _, over := range []hosted.Over{hosted.Same, hosted.Replace} {
		for _, name := range []string{"own", "nowhere", "tree"} {
			assert.ErrorContains(t, s.WriteWhole([]hosted.File{file(name, "new")}, over), "link or device of this name; move it away")
		}
	}
	require.NoError(t, s.Remove("tree"))
	require.NoError(t, s.Remove("own"))
	require.NoError(t, s.Remove("r"))
	assert.Equal(t, []string{"nowhere"}, inFolder(t, dir))
	assert.Equal(t, []string{"secret"}, inFolder(t, other), "what a link leads to stays")
	data, err := os.ReadFile(secret)
	require.NoError(t, err)
	assert.Equal(t, "secret", string(data))
}
