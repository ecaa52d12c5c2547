package host

import (
	"errors"
	"io"
	"io/fs"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// stores are the kinds of store; each must do all that is tested here.
var stores = []struct {
	name string
	make func(t *testing.T) hosted.Store
}{
	{"folder", func(t *testing.T) hosted.Store { return NewFolder(t.TempDir()) }},
	{"memory", func(*testing.T) hosted.Store { return &Memory{} }},
}

// storeTests are what a page relies on.
var storeTests = []struct {
	name string
	do   func(t *testing.T, s hosted.Store)
}{
	{"written is read", writtenIsRead},
	{"a folder appears whole", folderAppearsWhole},
	{"whole or not at all", wholeOrNotAtAll},
	{"never over what is there", neverOver},
	{"the very same is left alone", sameIsLeft},
	{"replaced when asked", replacedWhenAsked},
	{"listed in order", listedInOrder},
	{"names that lead elsewhere", namesThatLeadElsewhere},
	{"names that clash", namesThatClash},
	{"large files", largeFiles},
	{"writers at once", writersAtOnce},
	{"removed", removed},
	{"left-overs are swept", leftOversAreSwept},
}

func TestStores(t *testing.T) {
	for _, s := range stores {
		for _, one := range storeTests {
			t.Run(s.name+"/"+one.name, func(t *testing.T) { one.do(t, s.make(t)) })
		}
	}
}

func file(name, text string) hosted.File { return hosted.File{Name: name, Data: []byte(text)} }

// made is a file whose bytes are made as they are written.
func made(name string, pieces ...string) hosted.File {
	return hosted.File{Name: name, Make: func(w io.Writer) error {
		for _, p := range pieces {
			if _, err := io.WriteString(w, p); err != nil {
				return err
			}
		}
		return nil
	}}
}

var errInjected = errors.New("no room is left")

// failing writes a little and then fails.
func failing(name string) hosted.File {
	return hosted.File{Name: name, Make: func(w io.Writer) error {
		_, err := w.Write(make([]byte, 100_000))
		return errors.Join(err, errInjected)
	}}
}

// all is what a store holds, by name; every folder is gone through.
func all(t *testing.T, s hosted.Store) map[string]string {
	t.Helper()
	out := map[string]string{}
	var visit func(folder string)
	visit = func(folder string) {
		there, err := s.List(folder)
		require.NoError(t, err)
		for _, e := range there {
			name := strings.TrimPrefix(folder+"/"+e.Name(), "/")
			if e.IsDir() {
				visit(name)
			} else {
				out[name] = text(t, s, name)
			}
		}
	}
	visit("")
	return out
}

func text(t *testing.T, s hosted.Store, name string) string {
	t.Helper()
	f, err := s.Read(name)
	require.NoError(t, err, name)
	defer f.Close()
	data, err := io.ReadAll(f)
	require.NoError(t, err)
	return string(data)
}

func changedAt(t *testing.T, s hosted.Store, name string) time.Time {
	t.Helper()
	f, err := s.Read(name)
	require.NoError(t, err)
	defer f.Close()
	info, err := f.Stat()
	require.NoError(t, err)
	return info.ModTime()
}

func writtenIsRead(t *testing.T, s hosted.Store) {
	begun := time.Now().Add(-2 * time.Second) // some disks keep whole seconds
	require.NoError(t, s.WriteWhole([]hosted.File{file("b c.json", "bee"), made("a.zip", "zip", "ped"), file("empty", "")}, hosted.Never))
	assert.Equal(t, map[string]string{"a.zip": "zipped", "b c.json": "bee", "empty": ""}, all(t, s))
	f, err := s.Read("a.zip")
	require.NoError(t, err)
	defer f.Close()
	info, err := f.Stat()
	require.NoError(t, err)
	assert.Equal(t, "a.zip", info.Name())
	assert.Equal(t, int64(6), info.Size())
	assert.True(t, info.Mode().IsRegular())
	assert.False(t, info.ModTime().Before(begun))
	part := make([]byte, 3)
	_, err = f.ReadAt(part, 2)
	require.NoError(t, err)
	assert.Equal(t, "ppe", string(part))
	_, err = f.Seek(-2, io.SeekEnd)
	require.NoError(t, err)
	end, err := io.ReadAll(f)
	require.NoError(t, err)
	assert.Equal(t, "ed", string(end))
	_, err = s.Read("nothing")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.NoError(t, s.WriteWhole(nil, hosted.Never), "nothing is written whole")
}

// A record's folder has files below files' folders; all of it is a file system.
func folderAppearsWhole(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("r/bagit.txt", "b"), file("r/data/photo/k.jpg", "k"), made("r/data/z", "z"), file("beside", "x")}, hosted.Never))
	assert.Equal(t, map[string]string{"r/bagit.txt": "b", "r/data/photo/k.jpg": "k", "r/data/z": "z", "beside": "x"}, all(t, s))
	_, err := s.Read("r")
	assert.Error(t, err)
	assert.NotErrorIs(t, err, fs.ErrNotExist, "something is there")
	var seen []string
	require.NoError(t, fs.WalkDir(hosted.Below(s, "r"), ".", func(p string, d fs.DirEntry, err error) error {
		seen = append(seen, p)
		return err
	}))
	assert.Equal(t, []string{".", "bagit.txt", "data", "data/photo", "data/photo/k.jpg", "data/z"}, seen)
	data, err := fs.ReadFile(hosted.Below(s, "r"), "data/photo/k.jpg")
	require.NoError(t, err)
	assert.Equal(t, "k", string(data))
	_, err = s.List("gone")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	_, err = fs.Stat(hosted.Below(s, "gone"), ".")
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

// When one file fails none of them is there, nor a part of one, and what was
// there is as it was.
func wholeOrNotAtAll(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("old", "old"), file("there/x", "x")}, hosted.Never))
	before := all(t, s)
	for what, files := range map[string][]hosted.File{
		"the last of some":  {file("a", "a"), file("old", "new"), failing("z")},
		"the first of some": {failing("a"), file("old", "new"), file("b", "b")},
		"within a folder":   {file("r/a", "a"), failing("r/data/b"), file("r/data/c", "c")},
		"beside a folder":   {file("r/a", "a"), file("old", "new"), failing("z")},
		"one alone":         {failing("only")},
	} {
		err := s.WriteWhole(files, hosted.Replace)
		var one *hosted.WriteError
		require.ErrorAs(t, err, &one, what)
		assert.ErrorIs(t, err, errInjected)
		assert.Contains(t, err.Error(), "cannot be written: no room is left")
		assert.Equal(t, before, all(t, s), what)
	}
	err := s.WriteWhole([]hosted.File{file("a", "a"), file("there/y", "y"), file("b", "b")}, hosted.Replace)
	assert.Equal(t, &hosted.ExistsError{Names: []string{"there"}}, err, "a folder is not added to")
	assert.Equal(t, before, all(t, s))
}

func neverOver(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "a"), file("b", "b"), file("r/a", "a")}, hosted.Never))
	before := all(t, s)
	err := s.WriteWhole([]hosted.File{file("b", "b"), file("new", "new"), made("a", "a"), file("r/new", "x"), file("q/x", "x")}, hosted.Never)
	var exists *hosted.ExistsError
	require.ErrorAs(t, err, &exists)
	assert.Equal(t, []string{"b", "a", "r"}, exists.Names)
	assert.EqualError(t, err, "there already: b, a, r; nothing was written")
	assert.ErrorAs(t, s.WriteWhole([]hosted.File{file("r", "x")}, hosted.Never), &exists, "a folder of that name")
	assert.ErrorAs(t, s.WriteWhole([]hosted.File{file("a/x", "x")}, hosted.Never), &exists, "a file of that name")
	assert.Equal(t, before, all(t, s))
}

func sameIsLeft(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "aa"), file("b", "bb")}, hosted.Never))
	before := changedAt(t, s, "a")
	time.Sleep(20 * time.Millisecond)
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "aa"), file("c", "cc"), file("b", "bb")}, hosted.Same))
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "aa")}, hosted.Replace))
	assert.Equal(t, before, changedAt(t, s, "a"), "it is not even written")
	want := map[string]string{"a": "aa", "b": "bb", "c": "cc"}
	assert.Equal(t, want, all(t, s))
	for what, files := range map[string][]hosted.File{
		"another content of the same length": {file("a", "ab"), file("d", "d")},
		"another length":                     {file("a", "aaa"), file("d", "d")},
		"what is not looked at":              {made("a", "aa"), file("d", "d")},
	} {
		var exists *hosted.ExistsError
		require.ErrorAs(t, s.WriteWhole(files, hosted.Same), &exists, what)
		assert.Equal(t, []string{"a"}, exists.Names)
	}
	assert.Equal(t, want, all(t, s))
}

func replacedWhenAsked(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "old"), file("b", "old"), file("r/x", "x")}, hosted.Never))
	open, err := s.Read("a")
	require.NoError(t, err)
	defer open.Close()
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "newer"), made("b", "new"), file("c", "new")}, hosted.Replace))
	want := map[string]string{"a": "newer", "b": "new", "c": "new", "r/x": "x"}
	assert.Equal(t, want, all(t, s))
	was, err := io.ReadAll(open)
	require.NoError(t, err)
	assert.Equal(t, "old", string(was), "who reads the old one reads all of it")
	err = s.WriteWhole([]hosted.File{file("a", "newest"), file("r", "x")}, hosted.Replace)
	assert.EqualError(t, err, "r: there is a folder, link or device of this name; move it away")
	assert.Equal(t, want, all(t, s))
}
