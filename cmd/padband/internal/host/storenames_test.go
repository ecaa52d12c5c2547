package host

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

func listedInOrder(t *testing.T, s hosted.Store) {
	empty, err := s.List("")
	require.NoError(t, err)
	assert.Empty(t, empty)
	require.NoError(t, s.WriteWhole([]hosted.File{file("b", ""), file("B", ""), file("a b", ""), file("a/z", "1"), file("a/c/d", "22"), file("é", ""), file("a.txt", "333")}, hosted.Never))
	names := func(folder string) (out []string) {
		there, err := s.List(folder)
		require.NoError(t, err)
		for _, e := range there {
			info, err := e.Info()
			require.NoError(t, err)
			assert.Equal(t, e.IsDir(), info.IsDir())
			if !e.IsDir() {
				out = append(out, fmt.Sprintf("%s %d", e.Name(), info.Size()))
				continue
			}
			out = append(out, e.Name()+"/")
		}
		return out
	}
	assert.Equal(t, []string{"B 0", "a/", "a b 0", "a.txt 3", "b 0", "é 0"}, names(""), "by their bytes")
	assert.Equal(t, []string{"c/", "z 1"}, names("a"))
	assert.Equal(t, []string{"d 2"}, names("a/c"))
	_, err = s.List("b")
	assert.Error(t, err, "a file is no folder")
	_, err = s.List("a/z")
	assert.Error(t, err)
}

// badNames lead elsewhere, or are none on some system.
var badNames = []string{
	"", ".", "..", "../x", "a/../../x", "a/../x", "a/./x", "./x", "/x", "/etc/passwd", "//x", "a//x", "a/", `..\x`, `a\x`, `C:\x`, `\\server\x`,
	"a\x00b", "con", "CON.jpg", "aux.marks.json", "nul ", "lpt1.txt", "COM9", "r/prn/x", "r/nul.txt", "\xff",
}

func namesThatLeadElsewhere(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("a/b", "b"), file("x", "x")}, hosted.Never))
	before := all(t, s)
	for _, name := range badNames {
		for _, over := range []hosted.Over{hosted.Never, hosted.Same, hosted.Replace} {
			assert.Error(t, s.WriteWhole([]hosted.File{file("good", "x"), file(name, "y")}, over), "%q", name)
		}
		_, err := s.Read(name)
		assert.Error(t, err, "%q", name)
		assert.Error(t, s.Remove(name), "%q", name)
		if name != "" {
			_, err = s.List(name)
			assert.Error(t, err, "%q", name)
		}
	}
	assert.Equal(t, before, all(t, s))
	require.NoError(t, s.WriteWhole([]hosted.File{file("...", "x"), file("console.txt", "x"), file("a..b", "x"), file(".x", "x"), file("-x", "x"), file("é ü.jpg", "x")}, hosted.Never), "these are names")
}

func namesThatClash(t *testing.T, s hosted.Store) {
	for _, files := range [][]hosted.File{
		{file("a", "1"), file("a", "2")},
		{file("r/a", "1"), file("r/a", "2")},
		{file("a", "1"), file("a/b", "2")},
		{file("r/a/b", "1"), file("x", ""), file("r/a", "2")},
		{file(hosted.Passing+"x", "1")},
		{file(hosted.PassingLarge+"x/y", "1")},
	} {
		assert.Error(t, s.WriteWhole(files, hosted.Replace), "%v", files)
	}
	assert.Empty(t, all(t, s))
}

func largeFiles(t *testing.T, s hosted.Store) {
	piece := bytes.Repeat([]byte("0123456789abcdef"), 1<<16) // 1 MiB
	const pieces = 40
	big := hosted.File{Name: "r/big", Make: func(w io.Writer) error {
		for range pieces {
			if _, err := w.Write(piece); err != nil {
				return err
			}
		}
		return nil
	}}
	require.NoError(t, s.WriteWhole([]hosted.File{big, {Name: "top", Data: bytes.Repeat(piece, pieces)}}, hosted.Never))
	for _, name := range []string{"r/big", "top"} {
		f, err := s.Read(name)
		require.NoError(t, err)
		info, err := f.Stat()
		require.NoError(t, err)
		assert.Equal(t, int64(pieces*len(piece)), info.Size())
		last := make([]byte, 16)
		_, err = f.ReadAt(last, info.Size()-16)
		require.NoError(t, err)
		assert.Equal(t, "0123456789abcdef", string(last))
		assert.NoError(t, f.Close())
	}
}

// Of many that write the same names, each its own content, one writes all of its
// files and the others are refused; nothing is mixed.
func writersAtOnce(t *testing.T, s hosted.Store) {
	for round := range 20 {
		one, two, tree := fmt.Sprintf("a%d", round), fmt.Sprintf("b%d", round), fmt.Sprintf("r%d", round)
		var taken, wrote sync.Map
		var writers sync.WaitGroup
		for k := range 8 {
			writers.Go(func() {
				text := fmt.Sprintf("writer %d", k)
				err := s.WriteWhole([]hosted.File{file(one, text), file(two, text), file(tree+"/x", text)}, hosted.Same)
				var exists *hosted.ExistsError
				switch {
				case err == nil:
					wrote.Store(text, true)
				case errors.As(err, &exists):
					taken.Store(k, true)
				default:
					assert.NoError(t, err)
				}
			})
		}
		writers.Wait()
		winner := text(t, s, one)
		assert.Equal(t, winner, text(t, s, two))
		assert.Equal(t, winner, text(t, s, tree+"/x"))
		n := 0
		wrote.Range(func(k, _ any) bool { n++; return assert.Equal(t, winner, k) })
		taken.Range(func(any, any) bool { n++; return true })
		assert.Equal(t, 8, n)
	}
	there, err := s.List("")
	require.NoError(t, err)
	assert.Len(t, there, 60, "no passing file stays")
}

func removed(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("a", "a"), file("ab", "ab"), file("r/x", "x"), file("r/y/z", "z"), file("rr/x", "x")}, hosted.Never))
	require.NoError(t, s.Remove("a"))
	require.NoError(t, s.Remove("r"))
	assert.Equal(t, map[string]string{"ab": "ab", "rr/x": "x"}, all(t, s))
	assert.ErrorIs(t, s.Remove("a"), fs.ErrNotExist)
	assert.ErrorIs(t, s.Remove("r"), fs.ErrNotExist)
	require.NoError(t, s.WriteWhole([]hosted.File{file("r/x", "again")}, hosted.Never))
	assert.Equal(t, "again", text(t, s, "r/x"))
}

// What a killed run left is taken away when it is a day old, and nothing else.
func leftOversAreSwept(t *testing.T, s hosted.Store) {
	require.NoError(t, s.WriteWhole([]hosted.File{file("mine", "m"), file("r/x", "x")}, hosted.Never))
	leave(t, s, hosted.PassingLarge+"1/half")
	leave(t, s, hosted.PassingLarge+"2")
	leave(t, s, hosted.Passing+"other")
	n := len(all(t, s))
	hosted.Sweep(s, time.Now().Add(23*time.Hour))
	assert.Len(t, all(t, s), n, "another run may be at it")
	hosted.Sweep(s, time.Now().Add(25*time.Hour))
	assert.Equal(t, map[string]string{"mine": "m", "r/x": "x", hosted.Passing + "other": "half"}, all(t, s))
}
