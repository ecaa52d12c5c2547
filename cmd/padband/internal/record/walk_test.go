package record

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record/bag"
)

// walked are the paths found and the problems told, relative to the root.
func walked(t testing.TB, root string) (found, problems []string) {
	t.Helper()
	Walk(root, func(s Summary) {
		rel, err := filepath.Rel(root, s.Path)
		require.NoError(t, err)
		found = append(found, filepath.ToSlash(rel))
	}, func(p string, err error) {
		rel, relErr := filepath.Rel(root, p)
		require.NoError(t, relErr)
		problems = append(problems, fmt.Sprintf("%s: %v", filepath.ToSlash(rel), err))
	})
	return found, problems
}

// zipped is a zip file with these entries.
func zipped(t testing.TB, names ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range names {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte("x"))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestWalkFindsEveryRecordOnceInOrder(t *testing.T) {
	root := t.TempDir()
	deep := filepath.Join(root, "b", "deep")
	require.NoError(t, os.MkdirAll(deep, 0o755))
	keepSummed(t, root, "c", oneReading)
	inner := keepSummed(t, deep, "a", oneReading)
	keepSummed(t, filepath.Join(inner, "data"), "within", oneReading) // within a record: a part of it
	require.NoError(t, os.Rename(keepSummed(t, root, "x", oneReading), filepath.Join(root, hosted.PassingLarge+"1")))
	require.NoError(t, os.Rename(filepath.Join(root, "x.zip"), filepath.Join(root, ".padband-part-2.zip")))
	require.NoError(t, os.WriteFile(filepath.Join(root, "other.zip"), zipped(t, "holiday/1.jpg"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(root, "notes.txt"), nil, 0o644))
	require.NoError(t, os.Symlink(root, filepath.Join(root, "loop")))
	require.NoError(t, os.Symlink(filepath.Join(deep, "a"), filepath.Join(root, "d")))
	found, problems := walked(t, root)
	assert.Equal(t, []string{"b/deep/a", "b/deep/a.zip", "c", "c.zip"}, found)
	assert.Empty(t, problems)

	for _, one := range []string{"c", "c.zip"} {
		found, problems = walked(t, filepath.Join(root, one))
		assert.Equal(t, []string{"."}, found)
		assert.Empty(t, problems)
	}
	found, _ = walked(t, filepath.Join(root, "loop")) // named by the person, so followed
	assert.Len(t, found, 4)
	t.Chdir(root)
	found, _ = walked(t, ".")
	assert.Equal(t, []string{"b/deep/a", "b/deep/a.zip", "c", "c.zip"}, found)
}

func TestWalkTellsWhatItPassesOver(t *testing.T) {
	root := t.TempDir()
	keepSummed(t, root, "good", oneReading)
	require.NoError(t, os.Remove(filepath.Join(keepSummed(t, root, "torn", oneReading), "bag-info.txt")))
	for name, data := range map[string][]byte{
		"cut.zip":     []byte("PK\x03\x04"),
		"climb.zip":   zipped(t, "r/../../bagit.txt"),
		"mixed.zip":   zipped(t, "r/bagit.txt", "r/A", "r/a"),
		"control.zip": zipped(t, "r/bagit.txt", "r/\x1b[2J"),
	} {
		require.NoError(t, os.WriteFile(filepath.Join(root, name), data, 0o644))
	}
	found, problems := walked(t, root)
	assert.Equal(t, []string{"good", "good.zip", "torn.zip"}, found)
	require.Len(t, problems, 5)
	for i, want := range []string{"climb.zip: r/../../bagit.txt: refused", `control.zip: "r/\x1b[2J": refused`, "cut.zip: is neither", "mixed.zip: r/a: refused", "torn: bag-info.txt: is not there"} {
		assert.Contains(t, problems[i], want)
	}
	_, problems = walked(t, filepath.Join(root, "none"))
	assert.Len(t, problems, 1)
	require.NoError(t, os.WriteFile(filepath.Join(root, "holiday.zip"), zipped(t, "holiday/1.jpg"), 0o644))
	_, problems = walked(t, filepath.Join(root, "holiday.zip"))
	assert.Equal(t, []string{".: is no record: it holds no bagit.txt"}, problems, "a zip file that was named is spoken of")
}

// many writes n records, each with a small photo, into a folder of the test.
func many(t testing.TB, n int) string {
	t.Helper()
	root := t.TempDir()
	c := content()
	c.Reading, c.Attached = []byte(oneReading), nil
	for i := range n {
		c.Facts = []bag.Fact{{Label: "Place", Value: fmt.Sprintf("Mill Lane %d", i%50)}, {Label: "Photo-Taken", Value: fmt.Sprintf("2026-%02d-%02dT08:41:10", 1+i/28%12, 1+i%28)}}
		files, err := Make(c, nil)
		require.NoError(t, err)
		dir := filepath.Join(root, fmt.Sprintf("rec%05d", i))
		for _, f := range files {
			name := filepath.Join(dir, filepath.FromSlash(f.Name))
			require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
			require.NoError(t, os.WriteFile(name, f.Data, 0o644))
		}
	}
	return root
}

// What a walk holds does not grow with the records that it looks through.
func TestWalkHoldsOneRecordAtATime(t *testing.T) {
	live := func(n int) uint64 {
		root, seen, most := many(t, n), 0, uint64(0)
		var m runtime.MemStats
		Walk(root, func(Summary) {
			if seen++; seen%50 == 0 {
				runtime.GC()
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}, func(p string, err error) { t.Error(p, err) })
		require.Equal(t, n, seen)
		return most
	}
	live(100) // what is made once
	few, lots := live(100), live(600)
	assert.Less(t, lots, few+200*1024, "600 records hold %d bytes, 100 hold %d", lots, few)
}

func BenchmarkWalk2000(b *testing.B) {
	root := many(b, 2000)
	b.ReportAllocs()
	for b.Loop() {
		var names []string
		Walk(root, func(s Summary) { names = append(names, s.Path) }, func(p string, err error) { b.Error(p, err) })
		if len(names) != 2000 || !slices.IsSorted(names) {
			b.Fatalf("%d found", len(names))
		}
	}
}
