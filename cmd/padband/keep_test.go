package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const demoKitchen = "../../testdata/demo/kitchen.jpg"

// withPosition puts a position, 40 degrees north and 9 west, into a JPEG, in the
// place of the Exif part it has (Exif 2.3, tags 0x8825 and 0x0001 to 0x0004; from memory).
func withPosition(t *testing.T, photo []byte) []byte {
	t.Helper()
	require.Equal(t, []byte{0xff, 0xd8, 0xff, 0xe1}, photo[:4], "Exif comes first")
	old := 4 + int(binary.BigEndian.Uint16(photo[4:]))
	le := binary.LittleEndian
	entry := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		return le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(b, tag), kind), count), value)
	}
	tiff := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0}
	tiff = entry(tiff, 0x8825, 4, 1, 26)
	tiff = append(tiff, 0, 0, 0, 0, 4, 0)
	tiff = entry(tiff, 1, 2, 2, 'N')
	tiff = entry(tiff, 2, 5, 3, 80)
	tiff = entry(tiff, 3, 2, 2, 'W')
	tiff = entry(tiff, 4, 5, 3, 104)
	tiff = append(tiff, 0, 0, 0, 0)
	for _, n := range []uint32{40, 1, 0, 1, 0, 1, 9, 1, 0, 1, 0, 1} {
		tiff = le.AppendUint32(tiff, n)
	}
	part := append([]byte("Exif\x00\x00"), tiff...)
	out := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(part)+2))
	return append(append(out, part...), photo[old:]...)
}

// A photo's position is pointed out when it is kept and when it is verified, and
// stands in the facts and on the page; that of an attached photo is pointed out too.
func TestPositionIsPointedOut(t *testing.T) {
	dir := t.TempDir()
	photo, err := os.ReadFile(demoKitchen)
	require.NoError(t, err)
	marks, err := os.ReadFile(strings.TrimSuffix(demoKitchen, ".jpg") + ".marks.json")
	require.NoError(t, err)
	placed := withPosition(t, photo)
	was, is := fmt.Sprintf("%x", sha256.Sum256(photo)), fmt.Sprintf("%x", sha256.Sum256(placed))
	require.Contains(t, string(marks), was)
	name := filepath.Join(dir, "p.jpg")
	require.NoError(t, os.WriteFile(name, placed, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "p.marks.json"), bytes.ReplaceAll(marks, []byte(was), []byte(is)), 0o600))
	const said = " holds the position it was taken at, and so does the record; mind that before handing it on\n"

	records := t.TempDir()
	code, out, errOut := call("keep", name, "--into", records)
	require.Equal(t, exitOK, code, errOut)
	assert.Equal(t, "padband: p.jpg"+said, errOut)
	rec := strings.TrimPrefix(strings.SplitN(out, "\n", 2)[0], "kept ")
	info, err := os.ReadFile(filepath.Join(rec, "bag-info.txt"))
	require.NoError(t, err)
	assert.Contains(t, string(info), "\nPhoto-Position: yes\n")
	page, err := os.ReadFile(filepath.Join(rec, "data", "report.html"))
	require.NoError(t, err)
	assert.Regexp(t, `(?s)Position in the photo.{1,40}yes`, string(page))
	code, out, _ = call("verify", rec)
	assert.Equal(t, exitOK, code)
	assert.Contains(t, out, "remark: data/photo/p.jpg: holds the position it was taken at; mind that before handing the record on\n")

	code, _, errOut = call("keep", demoKitchen, "--into", records, "--attach", name, "--attach", demoKitchen)
	require.Equal(t, exitOK, code, errOut)
	assert.Equal(t, "padband: p.jpg"+said, errOut)
}

// What is too much to attach is said before any of it is read, and nothing is kept.
func TestTooMuchToAttach(t *testing.T) {
	dir, records := t.TempDir(), t.TempDir()
	film := filepath.Join(dir, "film.mov")
	f, err := os.Create(film)
	require.NoError(t, err)
	require.NoError(t, f.Truncate(500<<20), "a file with a hole takes no room")
	require.NoError(t, f.Close())
	keep := []string{"keep", demoKitchen, "--into", records}
	five := keep
	for range 5 {
		five = append(five, "--attach", film)
	}
	assert.Equal(t, "padband: the files to attach take 2500 MB together; a record holds 2048 MB at most, so keep some of them in another", refused(t, five...))
	require.NoError(t, os.Truncate(film, 513<<20))
	assert.Equal(t, "padband: "+film+": is 513 MB, over the limit of 512 MB; make it smaller", refused(t, append(keep, "--attach", film)...))
	left, err := os.ReadDir(records)
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A folder that was made for what could not be written is taken away again, and
// nothing else is.
func TestFoldersMadeInVain(t *testing.T) {
	t.Chdir(t.TempDir())
	undo, err := makeFolder("a/b/c/")
	require.NoError(t, err)
	require.DirExists(t, "a/b/c")
	undo()
	assert.NoDirExists(t, "a")

	require.NoError(t, os.Mkdir("there", 0o777))
	undo, err = makeFolder("there/new/er")
	require.NoError(t, err)
	write(t, "there/new/file", []byte("x"))
	undo()
	assert.NoDirExists(t, "there/new/er")
	assert.FileExists(t, "there/new/file")

	_, err = makeFolder("there/new/file/x")
	assert.ErrorContains(t, err, "the folder cannot be made: ")
	require.NoError(t, checkFolder("there/not/yet"))
	undo, err = makeFolder("there")
	require.NoError(t, err)
	undo()
	assert.DirExists(t, "there")
}

// A record is made only of outlines that somebody looked at; who did is that person's
// word, stands in the record's marks and facts, and is checked against each other. The
// file beside the photo stays.
func TestKeepTakesLookedAtOutlines(t *testing.T) {
	dir := folder(t, "orchard-well")
	p, file, into := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "p.marks.json"), filepath.Join(dir, "records")
	drawn := readText(t, file)
	found := strings.Replace(drawn, `"regions"`, `"checked": false, "regions"`, 1)
	write(t, file, []byte(found))
	assert.Equal(t, "padband: "+p+": nobody has looked at the outlines that the program found; look at them with padband mark "+p+
		", or say with --checked-by who has", refused(t, "keep", p, "--into", into))
	assert.NoDirExists(t, into)
	assert.Equal(t, "padband: "+p+": --checked-by: marks: looked.by: has 81 characters, over the limit of 80; shorten it",
		refused(t, "keep", p, "--into", into, "--checked-by", strings.Repeat("x", 81)))
	code, _, errOut := call("keep", p, "--into", into, "--checked-by", " ")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "--checked-by takes the name of who looked at the outlines")

	code, out, errOut := call("keep", p, "--into", into, "--checked-by", " A. Reader ")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "\nthe record says that A. Reader looked at the outlines\n")
	assert.Equal(t, found, readText(t, file))
	record, err := filepath.Glob(filepath.Join(into, "*"))
	require.NoError(t, err)
	require.Len(t, record, 1)
	marks := readText(t, filepath.Join(record[0], "data", "marks.json"))
	assert.NotContains(t, marks, `"checked"`)
	assert.Contains(t, marks, `"looked": {"by": "A. Reader", "at": "`)
	assert.NotContains(t, readText(t, filepath.Join(record[0], "data", "reading.json")), "marks-unchecked")
	assert.Regexp(t, `(?m)^Outlines-Looked-At: by A\. Reader, \d{4}-\d\d-\d\dT.*; moved: none$`, readText(t, filepath.Join(record[0], "bag-info.txt")))
	assert.Contains(t, readText(t, filepath.Join(record[0], "data", "report.html")), "Outlines looked at")
	code, out, errOut = call("verify", record[0])
	require.Zero(t, code, out+errOut)

	// Marks that a person drew need nobody else's word, and get none.
	write(t, file, []byte(drawn))
	assert.Contains(t, refused(t, "keep", p, "--into", into, "--checked-by", "B"), "does not say that its outlines are to be looked at; leave --checked-by out")

	// What the page wrote of who looked is kept as it is.
	looked := `"looked": {"by": "C", "at": "2026-11-14T09:02:00-05:00", "moved": ["pad pH", "corners"]}, "regions"`
	write(t, file, []byte(strings.Replace(drawn, `"regions"`, looked, 1)))
	code, out, errOut = call("keep", p, "--into", into, "--place", "page")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "\nthe record says that C looked at the outlines\n")
	kept, err := filepath.Glob(filepath.Join(into, "*page*"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	assert.Contains(t, readText(t, filepath.Join(kept[0], "bag-info.txt")), "\nOutlines-Looked-At: by C, 2026-11-14T09:02:00-05:00; moved: pad pH, corners\n")
}
