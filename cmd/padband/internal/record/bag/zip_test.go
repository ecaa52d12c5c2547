package bag

import (
	"archive/zip"
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// entry is one entry of a hostile zip file.
type entry struct {
	name string
	data []byte
	mode fs.FileMode
	flag uint16
	raw  uint64 // a size it only says to have

	store bool
	extra []byte
}

func zipOf(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate, Flags: e.flag, Extra: e.extra}
		if e.store {
			h.Method = zip.Store
		}
		h.SetMode(e.mode | 0o644)
		var w io.Writer
		var err error
		if e.raw > 0 {
			h.UncompressedSize64, h.CompressedSize64 = e.raw, uint64(len(e.data))
			w, err = z.CreateRaw(h)
		} else {
			w, err = z.CreateHeader(h)
		}
		require.NoError(t, err)
		if !strings.HasSuffix(e.name, "/") {
			_, err = w.Write(e.data)
			require.NoError(t, err)
		}
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestHostileZipIsRefusedInALine(t *testing.T) {
	x := []byte("x")
	for want, es := range map[string][]entry{
		"has an empty part, . or .. in it":        {{name: "r/../../x", data: x}},
		`has a \ in it`:                           {{name: `r\..\x`, data: x}},
		"starts at the root":                      {{name: "/r/x", data: x}},
		"starts with a drive letter":              {{name: "C:/x", data: x}},
		"starts with ~":                           {{name: "~/x", data: x}},
		"the same as that of r/a on some systems": {{name: "r/a", data: x}, {name: "r/A", data: x}},
		"the same as that of r/é":                 {{name: "r/é", data: x}, {name: "r/e\u0301", data: x}},
		"the same as that of r/same":              {{name: "r/same", data: x}, {name: "r/same", data: x}},
		"it is a link":                            {{name: "r/x", data: []byte("/etc/passwd"), mode: fs.ModeSymlink}},
		"it is not an ordinary file":              {{name: "r/x", data: x, mode: fs.ModeNamedPipe}},
		"it is encrypted":                         {{name: "r/x", data: x, flag: 1, raw: 1}},
		"longer than 200 bytes":                   {{name: "r/" + strings.Repeat("a", 250), data: x}},
		"does not print":                          {{name: "r/a\x1b[2J", data: x}},
		"is not UTF-8":                            {{name: "r/\xff", data: x}},
		"holds one folder":                        {{name: "r/x", data: x}, {name: "s/x", data: x}},
		"over 200 times its size":                 {{name: "r/zeros", data: make([]byte, 8<<20)}},
		"it says to be over 512 MB":               {{name: "r/x", data: x, raw: 600 << 20}},
		"unpack to over 2048 MB":                  {{name: "r/1", data: make([]byte, 3<<20), raw: 500 << 20}, {name: "r/2", data: make([]byte, 3<<20), raw: 500 << 20}, {name: "r/3", data: make([]byte, 3<<20), raw: 500 << 20}, {name: "r/4", data: make([]byte, 3<<20), raw: 500 << 20}, {name: "r/5", data: make([]byte, 3<<20), raw: 500 << 20}},
	} {
		root, err := readZip(bytes.NewReader(zipOf(t, es...)))
		require.NoError(t, err, want)
		require.NotEmpty(t, root.Findings, want)
		last := root.Findings[len(root.Findings)-1]
		assert.Contains(t, last.String(), want)
		assert.True(t, last.Fault)
		assert.NotContains(t, last.String(), "\x1b")
	}
}

func TestZipOfTooManyEntriesAndNoZip(t *testing.T) {
	many := make([]entry, MostFiles+1)
	for i := range many {
		many[i].name = "r/x"
	}
	_, err := readZip(bytes.NewReader(zipOf(t, many...)))
	assert.ErrorContains(t, err, "a record has at most 10000")
	_, err = readZip(strings.NewReader("no zip"))
	assert.ErrorContains(t, err, "neither a record's folder nor a whole zip file")
}

// An entry that unpacks to more than it says is not read to the end.
func TestZipThatLiesAboutASize(t *testing.T) {
	data := zipOf(t, entry{name: "r/bagit.txt", data: make([]byte, 100_000)})
	size := []byte{0xa0, 0x86, 0x01, 0} // 100,000
	for at := bytes.Index(data, size); at >= 0; at = bytes.Index(data, size) {
		copy(data[at:], []byte{10, 0, 0, 0})
	}
	root, err := readZip(bytes.NewReader(data))
	require.NoError(t, err)
	_, err = root.Read("bagit.txt", TagBytes)
	assert.Error(t, err)
}

// Every byte of a zip file's contents counts; a file cut anywhere is no record.
func TestZipCutAnywhere(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteZip(&b, "rec", Files([]File{{"data/hello.txt", []byte(hello)}}, Info{{"Place", "Mill Lane 7"}})))
	name := filepath.Join(t.TempDir(), "cut.zip")
	for n := 0; n < b.Len(); n += 7 {
		require.NoError(t, os.WriteFile(name, b.Bytes()[:n], 0o600))
		_, err := Open(name)
		assert.Error(t, err, "cut to %d bytes", n)
	}
}
