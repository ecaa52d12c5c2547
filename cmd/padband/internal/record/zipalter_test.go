package record

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
)

func TestZipRecordIsWholeAndTheSameEachTime(t *testing.T) {
	parent := t.TempDir()
	files := made(t, testKey(t, "anna"))
	require.NoError(t, inZipFile(parent, "rec", files))
	res := verify(t, filepath.Join(parent, "rec.zip"), nil)
	assert.Zero(t, res.Faults(), lines(res.Findings))
	var a, b bytes.Buffer
	require.NoError(t, bag.WriteZip(&a, "rec", files))
	require.NoError(t, bag.WriteZip(&b, "rec", files))
	assert.Equal(t, a.Bytes(), b.Bytes())
}

// zipAlteration changes a record's zip file. Those that are allowed leave every
// file as it was, for every program that unpacks it.
type zipAlteration struct {
	allowed bool
	change  func(t *testing.T, r *rand.Rand, f *rawFile) (after func([]byte) []byte)
}

// entries makes an alteration of one entry.
func entryChange(change func(r *rand.Rand, e *rawEntry)) func(*testing.T, *rand.Rand, *rawFile) func([]byte) []byte {
	return func(_ *testing.T, r *rand.Rand, f *rawFile) func([]byte) []byte {
		change(r, &f.entries[r.IntN(len(f.entries))])
		return nil
	}
}

func fileChange(change func(r *rand.Rand, f *rawFile)) func(*testing.T, *rand.Rand, *rawFile) func([]byte) []byte {
	return func(_ *testing.T, r *rand.Rand, f *rawFile) func([]byte) []byte {
		change(r, f)
		return nil
	}
}

// times is an extra field with a time, as common zip programs write it.
var times = []byte{0x55, 0x54, 5, 0, 1, 1, 2, 3, 4}

// sizes64 is an extra field of the form for huge files.
var sizes64 = []byte{1, 0, 16, 0, 1, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0}

// otherName is an extra field that gives an entry another name for some programs.
var otherName = []byte{0x75, 0x70, 6, 0, 1, 0, 0, 0, 0, 'x'}

var zipAlterations = map[string]zipAlteration{
	"the other order": {true, fileChange(func(r *rand.Rand, f *rawFile) {
		r.Shuffle(len(f.entries), func(i, k int) { f.entries[i], f.entries[k] = f.entries[k], f.entries[i] })
	})},
	"packed the other way": {true, entryChange(func(_ *rand.Rand, e *rawEntry) { e.store = !e.store })},
	"times":                {true, entryChange(func(_ *rand.Rand, e *rawEntry) { e.localExtra, e.centralExtra = times, times })},
	"sizes behind it":      {true, entryChange(func(r *rand.Rand, e *rawEntry) { e.store, e.described = false, []string{"mark", "plain"}[r.IntN(2)] })},
	"an empty folder": {true, fileChange(func(_ *rand.Rand, f *rawFile) {
		f.entries = append(f.entries, rawEntry{name: "rec/data/", store: true, attributes: 0o40755 << 16})
	})},
	"another base folder": {true, fileChange(func(_ *rand.Rand, f *rawFile) {
		for i := range f.entries {
			f.entries[i].name = "other" + strings.TrimPrefix(f.entries[i].name, "rec")
		}
	})},
	"renamed":                      {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.name += "x" })},
	"renamed by case":              {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.name = "rec/" + strings.ToUpper(e.name[4:]) })},
	"another name at the entry":    {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.local = e.name[:len(e.name)-1] + "x" })},
	"another length of that name":  {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.local = e.name + "x" })},
	"another checksum everywhere":  {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.store, e.wrongSum = false, true })},
	"another checksum there":       {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.otherSum = true })},
	"bytes behind the packed data": {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.store, e.behind = false, []byte("hidden") })},
	"bytes before an entry":        {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.gap = []byte("hidden") })},
	"zip64 at the entry":           {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.localExtra = sizes64 })},
	"zip64 in the list":            {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.centralExtra = sizes64 })},
	"another name in a field":      {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.centralExtra = otherName })},
	"that at the entry":            {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.localExtra = otherName })},
	"a broken field":               {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.localExtra = []byte{0x55, 0x54, 9, 0, 1} })},
	"a comment of an entry":        {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.comment = "trust me" })},
	"a link":                       {false, entryChange(func(_ *rand.Rand, e *rawEntry) { e.attributes = 0o120777 << 16 })},
	"a comment":                    {false, fileChange(func(_ *rand.Rand, f *rawFile) { f.comment = "trust me" })},
	"bytes at the end":             {false, fileChange(func(r *rand.Rand, f *rawFile) { f.suffix = make([]byte, 1+r.IntN(100)) })},
	"bytes before the list":        {false, fileChange(func(_ *rand.Rand, f *rawFile) { f.beforeList = []byte("hidden") })},
	"bytes before the end":         {false, fileChange(func(_ *rand.Rand, f *rawFile) { f.beforeEnd = []byte("hidden") })},
	"bytes at the start":           {false, fileChange(func(r *rand.Rand, f *rawFile) { f.prefix, f.unshifted = make([]byte, 1+r.IntN(100)), r.IntN(2) == 0 })},
	"a program at the start": {false, fileChange(func(r *rand.Rand, f *rawFile) {
		f.prefix, f.unshifted = []byte("#!/bin/sh\nexit\n"), r.IntN(2) == 0
	})},
	"an entry that is not listed": {false, func(t *testing.T, r *rand.Rand, f *rawFile) func([]byte) []byte {
		e := f.entries[r.IntN(len(f.entries))]
		f.beforeList = rawFile{entries: []rawEntry{{name: e.name, data: []byte("other"), store: true}}}.bytes(t)[:entrySize+len(e.name)+5]
		return nil
	}},
	"twice": {false, fileChange(func(r *rand.Rand, f *rawFile) { f.entries = append(f.entries, f.entries[r.IntN(len(f.entries))]) })},
	"twice, not the same": {false, fileChange(func(r *rand.Rand, f *rawFile) {
		e := f.entries[r.IntN(len(f.entries))]
		e.data = append([]byte("other"), e.data...)
		f.entries = append(f.entries, e)
	})},
	"two lines of one entry": {false, fileChange(func(r *rand.Rand, f *rawFile) {
		n := r.IntN(len(f.entries))
		e := f.entries[n]
		e.onto, e.name = n+1, e.name+"2"
		f.entries = append(f.entries, e)
	})},
	"one taken away": {false, fileChange(func(r *rand.Rand, f *rawFile) {
		n := r.IntN(len(f.entries))
		f.entries = slices.Delete(f.entries, n, n+1)
	})},
	"one less counted": {false, fileChange(func(_ *rand.Rand, f *rawFile) { f.countedLess = 1 })},
	"two exchanged": {false, fileChange(func(r *rand.Rand, f *rawFile) {
		a := r.IntN(len(f.entries))
		b := (a + 1 + r.IntN(len(f.entries)-1)) % len(f.entries)
		f.entries[a].name, f.entries[b].name = f.entries[b].name, f.entries[a].name
	})},
	"a byte of a file": {false, entryChange(func(r *rand.Rand, e *rawEntry) {
		e.data = bytes.Clone(e.data)
		e.data[r.IntN(len(e.data))] ^= byte(1 + r.IntN(255))
	})},
	"a file beside the folder": {false, fileChange(func(_ *rand.Rand, f *rawFile) {
		f.entries = append(f.entries, rawEntry{name: "note.txt", data: []byte("x"), store: true})
	})},
	"a second zip file behind it": {false, func(t *testing.T, r *rand.Rand, f *rawFile) func([]byte) []byte {
		first := f.bytes(t)
		f.entries = slices.Clone(f.entries)
		f.entries[r.IntN(len(f.entries))].data = []byte("other")
		return func(second []byte) []byte { return append(first, second...) }
	}},
	"a second zip file before it": {false, func(t *testing.T, r *rand.Rand, f *rawFile) func([]byte) []byte {
		other := rawFile{entries: slices.Clone(f.entries)}
		other.entries[r.IntN(len(f.entries))].data = []byte("other")
		return func(second []byte) []byte { return append(other.bytes(t), second...) }
	}},
	"a second list": {false, func(_ *testing.T, _ *rand.Rand, _ *rawFile) func([]byte) []byte {
		return func(b []byte) []byte { return append(b, b[bytes.Index(b, []byte(lineMark)):]...) }
	}},
	"cut at the end": {false, func(_ *testing.T, r *rand.Rand, _ *rawFile) func([]byte) []byte {
		return func(b []byte) []byte { return b[:len(b)-1-r.IntN(len(b)-1)] }
	}},
}

// zipWords are what is said of some of them, so that each check shows by itself.
var zipWords = map[string]string{
	"a comment":                    "has a comment, which no checksum covers",
	"a comment of an entry":        "has a comment at rec/",
	"another name at the entry":    "calls an entry rec/",
	"another checksum everywhere":  "its checksum is not what the zip file says",
	"another checksum there":       "says one thing of rec/",
	"zip64 at the entry":           "form for huge files (zip64) at rec/",
	"zip64 in the list":            "form for huge files (zip64) at rec/",
	"another name in a field":      "extra field (0x7075) at rec/",
	"that at the entry":            "extra field (0x7075) at rec/",
	"a broken field":               "broken extra field at rec/",
	"bytes behind the packed data": "holds more bytes behind it",
	"bytes before an entry":        "belong to no entry",
	"bytes before the list":        "belong to no entry",
	"bytes at the end":             "belong to no entry",
	"a program at the start":       "belong to no entry",
	"a second list":                "belong to no entry",
	"an entry that is not listed":  "belong to no entry",
}

// zipFaults are the faults of a zip file in memory and the files that it gives.
func zipFaults(data []byte) (faults []string, got map[string]string) {
	root, err := bag.OpenZip("", bytes.NewReader(data))
	if err != nil {
		return []string{err.Error()}, nil
	}
	got = map[string]string{}
	for _, name := range root.Names() {
		b, err := root.Read(name, bag.FileBytes)
		got[name] = fmt.Sprint(string(b), err)
	}
	return faultsOf(Verify(root, Options{Check: sshsig.Check, Stamp: stamp.Check, Again: sameAgain})), got
}

func asRead(files []bag.File) map[string]string {
	out := map[string]string{}
	for _, f := range files {
		out[f.Name] = string(f.Data) + "<nil>"
	}
	return out
}

// Each of 500 and more changes to a zip file is a fault, or one of those that are
// allowed and leaves every file the same.
func TestNoAlterationOfAZipIsMissed(t *testing.T) {
	var kinds []string
	for k := range zipAlterations {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	files := made(t, testKey(t, "anna"))
	want := asRead(files)
	faults, got := zipFaults(rawRecord(files).bytes(t))
	require.Empty(t, faults)
	require.Equal(t, want, got)
	for i := range 15 * len(kinds) {
		r := rand.New(rand.NewPCG(uint64(i), 2))
		kind := kinds[i%len(kinds)]
		f := rawRecord(files)
		after := zipAlterations[kind].change(t, r, &f)
		data := f.bytes(t)
		if after != nil {
			data = after(data)
		}
		faults, got := zipFaults(data)
		if zipAlterations[kind].allowed {
			assert.Empty(t, faults, "%d, %s", i, kind)
			assert.Equal(t, want, got, "%d, %s", i, kind)
		} else {
			assert.NotEmpty(t, faults, "%d, %s", i, kind)
			assert.Contains(t, strings.Join(faults, "\n"), zipWords[kind], "%d, %s", i, kind)
		}
	}
	t.Logf("%d changes of %d kinds", 15*len(kinds), len(kinds))
}

// Any byte of a zip file, changed: a fault, or the very same files. What may
// change unseen is stated: times, versions, owners and empty bits.
func TestAnyByteOfAZip(t *testing.T) {
	files := made(t, testKey(t, "anna"))
	var b bytes.Buffer
	require.NoError(t, bag.WriteZip(&b, "rec", files))
	want, unseen := asRead(files), 0
	r := rand.New(rand.NewPCG(5, 6))
	n := 1500
	if testing.Short() {
		n = 150
	}
	for range n {
		data := bytes.Clone(b.Bytes())
		at, change := r.IntN(len(data)), byte(1+r.IntN(255))
		data[at] ^= change
		faults, got := zipFaults(data)
		if len(faults) == 0 {
			unseen++
			assert.Equal(t, want, got, "byte %d changed by %#x", at, change)
		}
	}
	t.Logf("%d bytes changed, %d of them of no file and of no account", n, unseen)
	assert.Less(t, unseen, n/10)
}

// The alterations of a folder, zipped by another program, are named as in the folder.
func TestZippedByAnotherProgram(t *testing.T) {
	program := tool(t, "zip")
	var kinds []string
	for k := range alterations {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	files := made(t, testKey(t, "anna"))
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	check := func(change func(dir string), flags ...string) []string {
		parent := t.TempDir()
		dir := filepath.Join(parent, "rec")
		require.NoError(t, inFolder(filepath.Dir(dir), filepath.Base(dir), files))
		change(dir)
		c := exec.Command(program, append(flags, "-q", "-r", "-y", "out.zip", "rec")...)
		c.Dir = parent
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
		data, err := os.ReadFile(filepath.Join(parent, "out.zip"))
		require.NoError(t, err)
		faults, _ := zipFaults(data)
		return faults
	}
	for _, flags := range [][]string{nil, {"-X"}, {"-0"}, {"-9"}, {"-D"}} {
		assert.Empty(t, check(func(string) {}, flags...), "%v", flags)
	}
	for i := range 5 * len(kinds) {
		r, kind := rand.New(rand.NewPCG(uint64(i), 3)), kinds[i%len(kinds)]
		var named string
		faults := check(func(dir string) { named = alterations[kind](t, r, dir, names) })
		assert.Contains(t, strings.Join(faults, "\n"), named, "%d, %s", i, kind)
	}
}
