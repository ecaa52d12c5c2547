package bag

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The SHA-512 of "hello" and LF as the bag basicBag of the BagIt conformance
// suite (Library of Congress, CC0, commit 9ab4870) lists it.
const hello512 = "e7c22b994c59d9cf2b48e549b1e24666636045930d3da7c1acb299d1c3b7f931f94aae41edda2c2b207a36e10f8bcb8d45223e54878f5b316e7ce3b6bc019629"

const hello = "hello\n"

// files is a bag's files by path.
type files = map[string]string

// basic is that suite's bag v1.0/valid/basicBag, its tag files left out.
func basic() files {
	return files{"bagit.txt": declaration, "data/hello.txt": hello, "manifest-sha512.txt": hello512 + "  data/hello.txt\n"}
}

func with(change files) files {
	f := basic()
	maps.Copy(f, change)
	return f
}

func bagOf(t *testing.T, fs files) []Finding {
	t.Helper()
	dir := t.TempDir()
	for name, text := range fs {
		p := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(p), 0o755))
		require.NoError(t, os.WriteFile(p, []byte(text), 0o644))
	}
	root, err := Open(dir)
	require.NoError(t, err)
	defer root.Close()
	return Check(root).Findings
}

// told are findings, one a line.
func told(found []Finding) string {
	var b strings.Builder
	for _, f := range found {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

// What RFC 8493 allows; the numbers are its sections (from memory).
func TestValidBags(t *testing.T) {
	for name, fs := range map[string]files{
		"basic":                        basic(),
		"upper-case checksum, 2.1.3":   with(files{"manifest-sha512.txt": strings.ToUpper(hello512) + " data/hello.txt\n"}),
		"tabs and blanks, 2.1.3":       with(files{"manifest-sha512.txt": hello512 + " \t data/hello.txt"}),
		"CRLF, 2.1.3":                  with(files{"manifest-sha512.txt": hello512 + "  data/hello.txt\r\n", "bagit.txt": strings.ReplaceAll(declaration, "\n", "\r\n")}),
		"CR, 2.1.3":                    with(files{"manifest-sha512.txt": hello512 + "  data/hello.txt\r"}),
		"a tag file nobody lists":      with(files{"notes.txt": "free"}),
		"right Payload-Oxum, 2.2.2":    with(files{"bag-info.txt": "Payload-Oxum: 6.1\n"}),
		"continued bag-info, 2.2.2":    with(files{"bag-info.txt": "External-Description: one\n  two\nNote:\tx\n"}),
		"md5 beside sha512":            with(files{"manifest-md5.txt": "b1946ac92492d2347c6235b4d2611184  data/hello.txt\n"}), // md5sum of coreutils
		"percent-encoded name, 2.1.3":  {"bagit.txt": declaration, "data/a\nb%.txt": hello, "manifest-sha512.txt": hello512 + "  data/a%0Ab%25.txt\n"},
		"sha1 beside sha512":           with(files{"manifest-sha1.txt": "f572d396fae9206628714fb2ce00f72e94f2258f  data/hello.txt\n"}),                                                                   // sha1sum of coreutils
		"sha256 alone":                 {"bagit.txt": declaration, "data/hello.txt": hello, "manifest-sha256.txt": "5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03  data/hello.txt\n"}, // sha256sum of coreutils
		"a label twice, 2.2.2":         with(files{"bag-info.txt": "Contact-Name: A\nContact-Name: B\n"}),
		"capitals make it no manifest": with(files{"manifest-SHA1.txt": "x"}),
		"other codes stay as they are": {"bagit.txt": declaration, "data/a%20b.txt": hello, "manifest-sha512.txt": hello512 + "  data/a%2520b.txt\n"},
	} {
		assert.Empty(t, told(bagOf(t, fs)), name)
	}
}

// What RFC 8493 forbids, or what is not complete here.
func TestInvalidBags(t *testing.T) {
	line := hello512 + "  data/hello.txt\n"
	without := func(name string) files { f := basic(); delete(f, name); return f }
	for name, c := range map[string]struct {
		files
		want string
	}{
		"exchanged lines":         {with(files{"bagit.txt": "Tag-File-Character-Encoding: UTF-8\nBagIt-Version: 1.0\n"}), "bagit.txt: must start"},
		"a folder in a manifest":  {with(files{"data/d/hello.txt": hello, "manifest-sha512.txt": line + hello512 + "  data/d/hello.txt\n" + hello512 + "  data/d\n"}), "data/d: is missing"},
		"only capitals name it":   {files{"bagit.txt": declaration, "data/hello.txt": hello, "manifest-SHA512.txt": line}, "no payload manifest"},
		"tag lists a tag list":    {with(files{"tagmanifest-sha256.txt": "x", "tagmanifest-sha512.txt": Sum("sha512", []byte(line)) + " manifest-sha512.txt\n" + Sum("sha512", []byte("x")) + " tagmanifest-sha256.txt\n"}), "lists tagmanifest-sha256.txt, which a tag manifest must not"},
		"bag-info is not UTF-8":   {with(files{"bag-info.txt": "Place: \xff\n"}), "bag-info.txt: is not UTF-8"},
		"missing file":            {without("data/hello.txt"), "data/hello.txt: is missing"},
		"unlisted file":           {with(files{"data/more.txt": "x"}), "data/more.txt: is an extra file"},
		"not all manifests list":  {with(files{"data/more.txt": "x", "manifest-md5.txt": "b1946ac92492d2347c6235b4d2611184  data/hello.txt\n9dd4e461268c8034f5c8564e155c67a6  data/more.txt\n"}), "manifest-sha512.txt does not list it"},
		"twice, same hash":        {with(files{"manifest-sha512.txt": line + line}), `line 2 lists "data/hello.txt" a second time`},
		"twice, different hashes": {with(files{"manifest-sha512.txt": line + strings.Replace(line, "e7", "00", 1)}), "a second time"},
		"wrong checksum":          {with(files{"data/hello.txt": "hullo\n"}), "data/hello.txt: was changed: its sha512"},
		"wrong version":           {with(files{"bagit.txt": strings.Replace(declaration, "1.0", "2.0", 1)}), `is of version "2.0"`},
		"older version":           {with(files{"bagit.txt": strings.Replace(declaration, "1.0", "0.97", 1)}), `is of version "0.97"`},
		"blank before the colon":  {with(files{"bagit.txt": strings.Replace(declaration, ":", " :", 1)}), "bagit.txt: must start"},
		"byte order mark":         {with(files{"bagit.txt": "\ufeff" + declaration}), "bagit.txt: must start"},
		"another encoding":        {with(files{"bagit.txt": strings.Replace(declaration, "UTF-8", "UTF-16", 1)}), "no other encoding"},
		"a third line":            {with(files{"bagit.txt": declaration + "x\n"}), "must be two lines"},
		"no bagit.txt":            {without("bagit.txt"), "bagit.txt: is not there"},
		"no manifest":             {without("manifest-sha512.txt"), "no payload manifest"},
		"fetch.txt":               {with(files{"fetch.txt": "x - data/y\n"}), "not complete here"},
		"path upwards":            {with(files{"manifest-sha512.txt": line + hello512 + "  data/../../x\n"}), `line 2: the path "data/../../x"`},
		"path from the root":      {with(files{"manifest-sha512.txt": line + hello512 + "  /etc/x\n"}), "it must stay within"},
		"home path":               {with(files{"manifest-sha512.txt": line + hello512 + "  ~/x\n"}), "it must stay within"},
		"drive letter":            {with(files{"manifest-sha512.txt": line + hello512 + "  C:/x\n"}), "it must stay within"},
		"payload outside data":    {with(files{"manifest-sha512.txt": line + Sum("sha512", []byte(declaration)) + "  bagit.txt\n"}), "which is outside data"},
		"short checksum":          {with(files{"manifest-sha512.txt": line + line[2:]}), "line 2 has no sha512 checksum of 128 hexa"},
		"no path":                 {with(files{"manifest-sha512.txt": line + hello512 + "\n"}), "line 2 has no path"},
		"unknown checksum":        {with(files{"manifest-crc32.txt": "00 data/hello.txt\n"}), "not known here"},
		"tag lists payload":       {with(files{"tagmanifest-sha512.txt": Sum("sha512", []byte(line)) + " manifest-sha512.txt\n" + line}), "which a tag manifest must not"},
		"tag lacks manifest":      {with(files{"tagmanifest-sha512.txt": Sum("sha512", []byte(declaration)) + " bagit.txt\n"}), "does not list manifest-sha512.txt"},
		"wrong Payload-Oxum":      {with(files{"bag-info.txt": "Payload-Oxum: 7.1\n"}), `"7.1" but data holds 6.1`},
		"Payload-Oxum twice":      {with(files{"bag-info.txt": "Payload-Oxum: 6.1\nPayload-Oxum: 6.1\n"}), "a second Payload-Oxum"},
		"no label":                {with(files{"bag-info.txt": "hello\n"}), `not of the form "Label: value"`},
	} {
		found := bagOf(t, c.files)
		assert.Contains(t, told(found), c.want, name)
		for _, f := range found {
			assert.True(t, f.Fault, name)
		}
	}
}

func TestNamesAreSafe(t *testing.T) {
	for in, want := range map[string]string{
		"IMG_0001.JPG": "IMG_0001.JPG", "Küche 1.jpg": "Kuche-1.jpg", "../x": "x", "CON.jpg": "file-CON.jpg", "nul": "file-nul",
		"水.png": "photo.png", ".hidden": "photo.hidden", "a\x00b": "a-b", `c:\x.jpg`: "c-x.jpg", "": "photo", "tr. .jpg": "tr.jpg",
	} {
		assert.Equal(t, want, SafeName(in, "photo"), "%q", in)
	}
	long := SafeName(strings.Repeat("a", 300)+"."+strings.Repeat("b", 300), "photo")
	assert.LessOrEqual(t, len(long), 80)
}
