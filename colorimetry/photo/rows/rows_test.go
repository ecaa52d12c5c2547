package rows

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The reference of all tests here is image/png of the standard library.

func chunkOf(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// file is a PNG of random bytes whose rows use all filters, in parts of so many bytes.
func file(t testing.TB, w, h int, kind, depth byte, part int) []byte {
	t.Helper()
	rng := rand.New(rand.NewPCG(uint64(kind), uint64(depth)))
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	out := append([]byte(signature), chunkOf("IHDR", append(head, depth, kind, 0, 0, 0))...)
	out = append(out, chunkOf("tEXt", []byte("a\x00b"))...)
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	for y := range h {
		row := make([]byte, 1+w*channels[kind]*int(depth)/8)
		for i := range row {
			row[i] = byte(rng.IntN(256))
		}
		row[0] = byte(y % 5)
		_, err := z.Write(row)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	for body := range slices.Chunk(packed.Bytes(), part) {
		out = append(out, chunkOf("IDAT", body)...)
	}
	return append(out, chunkOf("IEND", nil)...)
}

// wide is a colour in 16 bits, not rounded on a way through its alpha.
func wide(c color.Color) color.Color {
	if n, ok := c.(color.NRGBA); ok {
		return color.NRGBA64{R: uint16(n.R) * 0x101, G: uint16(n.G) * 0x101, B: uint16(n.B) * 0x101, A: uint16(n.A) * 0x101}
	}
	return color.NRGBA64Model.Convert(c)
}

// requireRows holds the rows that areas touch to the reference's, and the rest to
// not being there.
func requireRows(t *testing.T, p *Picture, want image.Image, areas []image.Rectangle) {
	t.Helper()
	require.Equal(t, want.Bounds(), p.Bounds())
	for y := range p.Height {
		row := image.Rect(0, y, p.Width, y+1)
		if areas != nil && !slices.ContainsFunc(areas, row.Overlaps) {
			require.Nil(t, p.Pixel(0, y), "row %d", y)
			require.Equal(t, color.NRGBA64{}, p.At(0, y))
			continue
		}
		for x := range p.Width {
			require.Equal(t, wide(want.At(x, y)), p.At(x, y), "pixel %d, %d", x, y)
		}
	}
}

func TestRowsAreThoseOfTheStandardLibrary(t *testing.T) {
	for kind := range channels {
		for _, depth := range []byte{8, 16} {
			for _, part := range []int{7, 1 << 20} {
				data := file(t, 13, 23, kind, depth, part)
				want, err := png.Decode(bytes.NewReader(data))
				require.NoError(t, err)
				for _, areas := range [][]image.Rectangle{nil, {}, {image.Rect(3, 4, 5, 6)}, {image.Rect(-4, -4, 9, 1), image.Rect(2, 22, 50, 90)}, {image.Rect(20, 0, 30, 9)}} {
					p, ok := Decode(data, areas)
					require.True(t, ok)
					requireRows(t, p, want, areas)
					assert.Equal(t, []any{channels[kind], depth == 16}, []any{p.Channels, p.Deep})
				}
			}
		}
	}
}

// A file with one byte changed, or cut short, is left to the standard library or read
// as it reads it, whatever is wanted.
func TestFaultsAreLeft(t *testing.T) {
	data := file(t, 5, 6, 2, 8, 40)
	left := 0
	for i := range data {
		for _, change := range []byte{1, 0x20, 0xff} {
			data[i] ^= change
			p, ok := Decode(data, nil)
			_, part := Decode(data, []image.Rectangle{})
			require.Equal(t, ok, part, "byte %d", i)
			if !ok {
				left++
			} else {
				want, err := png.Decode(bytes.NewReader(data))
				require.NoError(t, err, "byte %d changed by %#x", i, change)
				requireRows(t, p, want, nil)
			}
			data[i] ^= change
		}
		_, ok := Decode(data[:i], nil)
		require.False(t, ok, "cut to %d bytes", i)
	}
	assert.Greater(t, left, 100)
}

// What is valid and not ordinary is left to the standard library, and what is neither too.
func TestTheUnusualIsLeft(t *testing.T) {
	data := file(t, 5, 6, 2, 8, 40)
	at := bytes.Index(data, []byte("IDAT")) - 4
	put := func(i int, with []byte) []byte { return bytes.Join([][]byte{data[:i], with, data[i:]}, nil) }
	head := func(change int, to byte) []byte {
		body := bytes.Clone(data[16:29])
		body[change] = to
		return bytes.Join([][]byte{data[:8], chunkOf("IHDR", body), data[33:]}, nil)
	}
	for what, data := range map[string][]byte{
		"interlaced": head(12, 1), "a palette": put(at, chunkOf("PLTE", []byte{1, 2, 3})), "a clear colour": put(at, chunkOf("tRNS", make([]byte, 6))),
		"four bits": head(8, 4), "another kind": head(9, 3), "no height": head(7, 0), "more rows": head(7, 7), "fewer rows": head(7, 5), "huge": head(4, 1),
		"a chunk between": put(at+12+40, chunkOf("tEXt", nil)), "two headers": put(33, data[8:33]), "nothing": nil,
		"more data": put(len(data)-12, chunkOf("IDAT", []byte{0})),
	} {
		_, ok := Decode(data, nil)
		assert.False(t, ok, what)
	}
	_, ok := Decode(append(bytes.Clone(data), "what follows is not looked at"...), nil)
	assert.True(t, ok)
}

// FuzzRows holds whatever is read here to what image/png reads.
func FuzzRows(f *testing.F) {
	for kind := range channels {
		f.Add(file(f, 9, 7, kind, 8, 50))
		f.Add(file(f, 4, 6, kind, 16, 9))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, _, ok := parse(data); ok && p.Width*p.Height > 1<<16 {
			return // its caller's limits refuse it
		}
		p, ok := Decode(data, nil)
		_, part := Decode(data, []image.Rectangle{image.Rect(0, 1, 2, 3)})
		if ok != part {
			t.Fatalf("it is read whole: %t, in part: %t", ok, part)
		}
		if !ok {
			return
		}
		want, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		requireRows(t, p, want, nil)
	})
}
