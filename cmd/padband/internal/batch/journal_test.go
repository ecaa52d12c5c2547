package batch

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// head and rows are what the tests write: rows of one line and of
// several, one without any, lines with numbers in them as the state has.
var head = []byte("photo,value\n")

var rows = []Row{
	{[]byte("a,1\na,2\n"), Good}, {[]byte("b,12 deadbeef g\n"), Unreliable}, {nil, Good},
	{[]byte("c,\"two\nlines\"\n"), Failed}, {[]byte("d,4\n"), Good},
}

// whole is what they make.
func whole() []byte {
	out := bytes.Clone(head)
	for _, r := range rows {
		out = append(out, r.Data...)
	}
	return out
}

// goOn goes on with a journal to its last row and returns how many were there.
func goOn(t *testing.T, name string, o OpenOptions) (j *Journal, before int) {
	t.Helper()
	j, err := Open(name, o)
	require.NoError(t, err)
	before = len(j.Done())
	for i, o := range j.Done() {
		require.Equal(t, rows[i].Outcome, o)
	}
	for _, r := range rows[before:] {
		require.NoError(t, j.Append(r))
	}
	require.Len(t, j.Done(), len(rows))
	return j, before
}

// finish goes on with a journal to its end.
func finish(t *testing.T, name string, o OpenOptions) (before int) {
	t.Helper()
	j, before := goOn(t, name, o)
	require.NoError(t, j.Finish())
	return before
}

// goneOn goes on with these two files to the last row, and returns how many rows
// were whole. What comes of them is what comes of a run that was not cut.
func goneOn(t *testing.T, name string, part, state, wholePart, wholeState []byte) int {
	t.Helper()
	require.NoError(t, os.WriteFile(name+".part", part, 0o600))
	require.NoError(t, os.WriteFile(name+".part.state", state, 0o600))
	j, before := goOn(t, name, resume)
	require.NoError(t, j.Close())
	require.Equal(t, string(wholePart), content(t, name+".part"))
	require.Equal(t, string(wholeState), content(t, name+".part.state"))
	return before
}

func names(t *testing.T, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func content(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

// half returns both files of a journal whose rows are all written and that has
// not ended.
func half(t *testing.T) (part, state []byte) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "out")
	j, err := Open(name, OpenOptions{Run: "run", Photos: numbered(5), Head: head})
	require.NoError(t, err)
	for _, r := range rows {
		require.NoError(t, j.Append(r))
	}
	require.NoError(t, j.Close())
	return []byte(content(t, name+".part")), []byte(content(t, name+".part.state"))
}

var resume = OpenOptions{Run: "run", Photos: numbered(5), Head: head, Resume: true}

func TestJournalWrites(t *testing.T) {
	dir := t.TempDir()
	assert.Zero(t, finish(t, filepath.Join(dir, "out"), OpenOptions{Run: "run", Photos: numbered(5), Head: head}))
	assert.Equal(t, []string{"out"}, names(t, dir), "no passing file stays")
	assert.Equal(t, string(whole()), content(t, filepath.Join(dir, "out")))
}

// However much of both files a kill or a loss of power leaves, the run goes on
// to the same bytes, and no row that both hold whole is done again.
func TestJournalGoesOnFromAnyCut(t *testing.T) {
	part, state := half(t)
	ends, at := []int{len(head)}, len(head) // of whole rows in the part
	for _, r := range rows {
		at += len(r.Data)
		ends = append(ends, at)
	}
	lines := bytes.SplitAfter(state, []byte("\n"))
	name := filepath.Join(t.TempDir(), "out")
	for p := 0; p <= len(part); p++ {
		for s := len(state); s >= 0; s -= 3 {
			if firstLine := len(lines[0]); s < firstLine && p > 0 {
				continue // the part is begun after it
			}
			want, seen := 0, len(lines[0])
			for i, end := range ends {
				if seen += len(lines[1+i]); end <= p && seen <= s {
					want = i
				}
			}
			require.Equal(t, want, goneOn(t, name, part[:p], state[:s], part, state), "%d bytes of the part, %d of the state", p, s)
		}
	}
}

// A byte that changed on the disk takes its row and those after it along.
func TestJournalTrustsNoChangedByte(t *testing.T) {
	part, state := half(t)
	assert.Equal(t, string(whole()), string(part))
	name := filepath.Join(t.TempDir(), "out")
	p, s := bytes.Clone(part), bytes.Clone(state)
	for _, from := range [][]byte{p, s[bytes.IndexByte(s, '\n')+1:]} {
		for i := range from {
			from[i] ^= 0x01
			require.Less(t, goneOn(t, name, p, s, part, state), len(rows))
			from[i] ^= 0x01
		}
	}
}

// What is there of another run, or of one that may not be replaced, is left alone.
func TestJournalReplacesNothingUnasked(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "out")
	part, state := half(t)
	require.NoError(t, os.WriteFile(name+".part", part, 0o600))
	require.NoError(t, os.WriteFile(name+".part.state", state, 0o600))

	_, err := Open(name, OpenOptions{Run: "run", Photos: numbered(5), Head: head})
	var left *PartError
	require.ErrorAs(t, err, &left)
	_, err = Open(name, OpenOptions{Run: "other", Photos: numbered(5), Head: head, Resume: true})
	var other *OtherRunError
	require.ErrorAs(t, err, &other)
	assert.Equal(t, string(part)+string(state), content(t, name+".part")+content(t, name+".part.state"))

	assert.Zero(t, finish(t, name, OpenOptions{Run: "other", Photos: numbered(5), Head: head, Force: true}), "by force it begins again")
	_, err = Open(name, resume)
	var exists *hosted.ExistsError
	require.ErrorAs(t, err, &exists)
	assert.Equal(t, []string{"out"}, names(t, dir))
	assert.Zero(t, finish(t, name, OpenOptions{Run: "run", Photos: numbered(5), Head: head, Force: true}))

	_, err = Open(dir, OpenOptions{Run: "run", Force: true})
	assert.ErrorContains(t, err, "there is a folder, link or device of this name")
	_, err = Open(filepath.Join(dir, "none", "out"), OpenOptions{Run: "run"})
	assert.ErrorContains(t, err, "cannot be written: there is no such file or folder")
}

// Photos that came after those that are done are no other run; others in their
// place are, and fewer.
func TestJournalHoldsToItsPhotos(t *testing.T) {
	part, state := half(t)
	name := filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.WriteFile(name+".part", part, 0o600))
	require.NoError(t, os.WriteFile(name+".part.state", state, 0o600))
	more, others := numbered(7), numbered(7)
	others[3], others[4] = others[4], others[3]
	for _, photos := range [][]Photo{others, more[:4], nil, {{Name: "0", File: "a"}}} {
		_, err := Open(name, OpenOptions{Run: "run", Photos: photos, Head: head, Resume: true})
		var other *OtherRunError
		require.ErrorAs(t, err, &other)
	}
	j, err := Open(name, OpenOptions{Run: "run", Photos: more, Head: head, Resume: true})
	require.NoError(t, err)
	assert.Len(t, j.Done(), len(rows))
	require.NoError(t, j.Append(Row{[]byte("e,5\n"), Good}))
	require.NoError(t, j.Close())
	assert.Equal(t, string(part)+"e,5\n", content(t, name+".part"))
}

// A part without its state could be anyone's.
func TestJournalWithoutItsState(t *testing.T) {
	part, _ := half(t)
	name := filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.WriteFile(name+".part", part, 0o600))
	_, err := Open(name, resume)
	var other *OtherRunError
	require.ErrorAs(t, err, &other)
	assert.Equal(t, string(part), content(t, name+".part"))
}

// An output that appears while the run goes on is not replaced.
func TestJournalEndsBesideAnother(t *testing.T) {
	name := filepath.Join(t.TempDir(), "out")
	j, err := Open(name, OpenOptions{Run: "run", Photos: numbered(5), Head: head})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, []byte("other"), 0o600))
	var exists *hosted.ExistsError
	require.ErrorAs(t, j.Finish(), &exists)
	assert.Equal(t, "other"+string(head), content(t, name)+content(t, name+".part"))
}

func BenchmarkJournal(b *testing.B) {
	j, err := Open(filepath.Join(b.TempDir(), "out"), OpenOptions{Run: "run"})
	require.NoError(b, err)
	j.photos = numbered(1)
	row := Row{bytes.Repeat([]byte("x"), 4000), Good}
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, j.Append(row))
		j.done = j.done[:0]
	}
	require.NoError(b, j.Close())
}
