package baseline

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The reference of all tests here is image/jpeg of the standard library.

// samplings are all that both read, and the single channel with factors that mean nothing.
var samplings = [][]byte{
	{0x11}, {0x22}, {0x11, 0x11, 0x11}, {0x21, 0x11, 0x11}, {0x22, 0x11, 0x11}, {0x12, 0x11, 0x11}, {0x41, 0x11, 0x11},
	{0x42, 0x11, 0x11}, {0x22, 0x21, 0x21}, {0x22, 0x12, 0x12}, {0x41, 0x21, 0x21},
}

// Every sampling, with and without restart markers, sizes that end within a block
// and blocks of all values, also beyond what a sample holds: sample for sample the same.
func TestSamplesAreThoseOfTheStandardLibrary(t *testing.T) {
	seed := uint64(0)
	for _, sampling := range samplings {
		for _, size := range [][2]int{{1, 1}, {8, 8}, {33, 17}, {64, 40}, {7, 90}} {
			for _, restart := range []int{0, 1, 3} {
				seed++
				s := spec{size[0], size[1], sampling, restart, seed%3 == 0, seed}
				data := s.file()
				want, err := jpeg.Decode(bytes.NewReader(data))
				require.NoError(t, err, "%+v", s)
				got, ok := Decode(data, nil)
				require.True(t, ok, "%+v", s)
				require.True(t, equalTo(got, want, nil), "%+v", s)
			}
		}
	}
}

// Photos as an encoder writes them.
func TestPhotosAreThoseOfTheStandardLibrary(t *testing.T) {
	for _, name := range []string{"kitchen.jpg", "cellar.jpg"} {
		data, err := os.ReadFile("../../../testdata/demo/" + name)
		require.NoError(t, err)
		requireEqual(t, data)
		requireEqual(t, append(data, "what follows the end is not looked at"...))
	}
	for _, quality := range []int{1, 50, 100} {
		m := image.NewRGBA(image.Rect(0, 0, 67, 45))
		for i := range m.Pix {
			m.Pix[i] = byte(i * i / 7)
		}
		var full, grey bytes.Buffer
		require.NoError(t, jpeg.Encode(&full, m, &jpeg.Options{Quality: quality}))
		requireEqual(t, full.Bytes())
		require.NoError(t, jpeg.Encode(&grey, greyOf(m), &jpeg.Options{Quality: quality}))
		requireEqual(t, grey.Bytes())
	}
}

func greyOf(m image.Image) image.Image {
	out := image.NewGray(m.Bounds())
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			out.Set(x, y, color.GrayModel.Convert(m.At(x, y)))
		}
	}
	return out
}

func requireEqual(t *testing.T, data []byte) {
	t.Helper()
	want, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	got, ok := Decode(data, nil)
	require.True(t, ok)
	require.True(t, equalTo(got, want, nil))
}

// small is a file of a few blocks with restart markers.
func small() []byte { return spec{33, 20, []byte{0x21, 0x11, 0x11}, 2, false, 5}.file() }

// A file with one byte changed, or cut short, is either left to the standard
// library or read as it reads it; never read where it refuses.
func TestFaultsAreLeftToTheStandardLibrary(t *testing.T) {
	data := small()
	read, left := 0, 0
	for i := range data {
		for _, change := range []byte{0x01, 0x10, 0x80, 0xff} {
			data[i] ^= change
			if agrees(t, data, fmt.Sprintf("byte %d changed by %#x", i, change)) {
				read++
			} else {
				left++
			}
			data[i] ^= change
		}
		if i < len(data)-1 {
			require.False(t, agrees(t, data[:i], fmt.Sprintf("cut to %d bytes", i)))
		}
	}
	assert.Greater(t, read, 1000)
	assert.Greater(t, left, 500)
}

// agrees tells whether a file is read here; then it must be as the standard library reads it.
func agrees(t *testing.T, data []byte, what string) bool {
	got, ok := Decode(data, nil)
	if !ok {
		return false
	}
	want, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err, what)
	require.True(t, equalTo(got, want, nil), what)
	return true
}

// shortened makes three long codes of a Huffman table codes of one bit.
func shortened(data []byte, counts int) []byte {
	out := bytes.Clone(data)
	out[counts] += 3
	for i := counts + 15; ; i-- {
		if out[i] >= 3 {
			out[i] -= 3
			return out
		}
	}
}

// A picture that is over 64 megapixels by its header takes no memory here.
func TestTheHugeIsLeft(t *testing.T) {
	for size, want := range map[[2]int]bool{{8000, 8000}: true, {8001, 8000}: false, {65535, 65535}: false} {
		head := spec{width: size[0], height: size[1], sampling: []byte{0x11, 0x11, 0x11}}.head(rand.New(rand.NewPCG(1, 1)))
		d := decoder{data: head}
		assert.Equal(t, want, d.header(), size)
	}
}

// What is valid and not ordinary is left to the standard library.
func TestTheUnusualIsLeft(t *testing.T) {
	data := small()
	_, ok := Decode(data, nil)
	require.True(t, ok)
	at := func(mark byte) int { return bytes.Index(data, []byte{0xff, mark}) }
	put := func(i int, with ...byte) []byte {
		return bytes.Join([][]byte{data[:i], with, data[i:]}, nil)
	}
	changed := func(i int, to byte) []byte {
		out := bytes.Clone(data)
		out[i] = to
		return out
	}
	for what, file := range map[string][]byte{
		"progressive":             changed(at(markSOF0)+1, 0xc2),
		"extended sequential":     changed(at(markSOF0)+1, 0xc1),
		"12 bits":                 changed(at(markSOF0)+4, 12),
		"no height":               changed(at(markSOF0)+6, 0),
		"Adobe":                   put(2, segment(markAPP14, []byte("Adobe\x00\x64\x00\x00\x00\x00\x00")...)...),
		"part of the spectrum":    changed(at(markSOS)+12, 5),
		"its end alone":           changed(at(markSOS)+11, 1),
		"four blocks down":        spec{9, 9, []byte{0x14, 0x12, 0x12}, 0, false, 1}.file(),
		"twelve blocks an MCU":    spec{9, 9, []byte{0x42, 0x21, 0x21}, 0, false, 1}.file(),
		"no picture":              spec{9, 0, []byte{0x11}, 0, false, 1}.file(),
		"a value of 17 bits":      changed(at(markDHT)+21+bytes.IndexByte(data[at(markDHT)+21:], 0), 17),
		"too many short codes":    shortened(data, at(markDHT)+5),
		"successive bits":         changed(at(markSOS)+13, 1),
		"another table":           changed(at(markSOS)+6, 0x22),
		"another channel":         changed(at(markSOS)+5, 9),
		"a fill byte":             put(at(markSOF0), 0xff),
		"a byte before the end":   put(len(data)-2, 0),
		"a segment after it":      put(len(data)-2, segment(markCOM, 'x')...),
		"a wrong restart marker":  changed(at(markRST0)+1, markRST0+3),
		"stuffed before a marker": put(at(markRST0), 0xff, 0),
		"no tables":               append(bytes.Clone(data[:2]), data[at(markSOF0):]...),
		"no end":                  data[:len(data)-2],
		"nothing":                 nil,
	} {
		_, ok := Decode(file, nil)
		assert.False(t, ok, what)
	}
	// Channels called R, G and B without a JFIF marker are red, green and blue.
	rgb := bytes.Clone(data)
	for k, id := range []byte("RGB") {
		rgb[at(markSOF0)+10+3*k], rgb[at(markSOS)+5+2*k] = id, id
	}
	_, ok = Decode(rgb, nil)
	assert.False(t, ok)
	jfif := segment(markAPP0, []byte("JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")...)
	requireEqual(t, append(append([]byte{0xff, 0xd8}, jfif...), rgb[2:]...))
}
