package record

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
)

// What verify would refuse is not written. Memory that is never touched stands
// for the large files.
func TestTooMuchIsNotKept(t *testing.T) {
	big := make([]byte, bag.FileBytes+1)
	with := func(change func(*Content)) error {
		c := content()
		change(&c)
		files, err := Make(c, nil)
		assert.Nil(t, files)
		return err
	}
	assert.EqualError(t, with(func(c *Content) { c.Attached = []bag.File{{Name: "film.mov", Data: big}} }),
		"data/attached/film.mov is over 512 MB, which no file of a record may be; make it smaller")
	assert.EqualError(t, with(func(c *Content) {
		c.Attached = nil
		for i := range 5 {
			c.Attached = append(c.Attached, bag.File{Name: fmt.Sprint(i), Data: big[:bag.FileBytes]})
		}
	}), "the record would take 2560 MB; it holds 2048 MB at most, so attach less")
	assert.EqualError(t, with(func(c *Content) {
		c.Attached = make([]bag.File, bag.MostFiles)
		for i := range c.Attached {
			c.Attached[i].Name = fmt.Sprint(i)
		}
	}), "the record would be of 10005 files; it holds 10000 at most, so attach fewer")

	assert.NoError(t, CheckAttached(bag.MostFiles-around, bag.TotalBytes))
	assert.EqualError(t, CheckAttached(bag.MostFiles, 0), "10000 files are too many to attach; a record holds 9987 at most, so keep some of them in another")
	assert.EqualError(t, CheckAttached(5, bag.TotalBytes+1<<20), "the files to attach take 2049 MB together; a record holds 2048 MB at most, so keep some of them in another")
}

// The most files that can be attached give a record that verify reads, as a folder
// in memory and as a zip file.
func TestAsMuchAsFits(t *testing.T) {
	c := content()
	c.Attached = nil
	for i := range bag.MostFiles - around {
		c.Attached = append(c.Attached, bag.File{Name: fmt.Sprintf("%060d.jpg", i), Data: []byte("x")})
	}
	files, err := Make(c, testKey(t, "anna"))
	require.NoError(t, err)
	res := Verify(bag.Memory(files), Options{Check: sshsig.Check, Stamp: stamp.Check, Again: sameAgain})
	assert.Zero(t, res.Faults(), lines(res.Findings))
	var b bytes.Buffer
	require.NoError(t, bag.WriteZip(&b, "rec", files))
	faults, _ := zipFaults(b.Bytes())
	assert.Empty(t, faults)
}

// A zip file as keep writes it is never refused for packing too well.
func TestBlanksInAZip(t *testing.T) {
	c := content()
	c.Marks = []byte(strings.Repeat(" ", 3<<20) + `{"format":1}`)
	c.Attached = []bag.File{{Name: "zeros.bin", Data: make([]byte, 3<<20)}}
	files, err := Make(c, nil)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, bag.WriteZip(&b, "rec", files))
	faults, got := zipFaults(b.Bytes())
	assert.NotContains(t, strings.Join(faults, "\n"), "refused")
	assert.Equal(t, asRead(files), got)
}
