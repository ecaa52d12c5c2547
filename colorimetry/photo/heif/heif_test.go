package heif

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var samples = []string{"patches.heic", "patches422.heic", "patches444.heic", "grey.heic", "ramp10.heic", "corners.heic", "odd.heic"}

func sample(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("../../../testdata/photos/" + name)
	require.NoError(t, err)
	return data
}

// What heif-info and the way the files were made say of them
// (testdata/photos/README.md).
func TestRead(t *testing.T) {
	for name, want := range map[string]Picture{
		"patches.heic":    {Item: 1, Width: 128, Height: 128, Depth: 8, Chroma: 1},
		"patches422.heic": {Item: 1, Width: 128, Height: 128, Depth: 8, Chroma: 2},
		"patches444.heic": {Item: 1, Width: 128, Height: 128, Depth: 8, Chroma: 3},
		"grey.heic":       {Item: 1, Width: 128, Height: 128, Depth: 8, Chroma: 0},
		"ramp10.heic":     {Item: 1, Width: 256, Height: 64, Depth: 10, Chroma: 1},
		"odd.heic":        {Item: 2, Width: 97, Height: 61, Depth: 8, Chroma: 1},
	} {
		p, err := Read(sample(t, name))
		require.NoError(t, err, name)
		got := *p
		got.Code, got.CodeGiven, got.coded, got.grid = CodePoints{}, false, nil, nil
		assert.Equal(t, want, got, name)
		assert.True(t, p.CodeGiven && p.Code.Full, "%s: the encoder writes full codes and says so in the coded picture", name)
		if p.Chroma > 0 {
			assert.Equal(t, 6, p.Code.Matrix, "%s: and BT.601", name)
		}
	}
}

// A repacked file reads as the same picture, and repacking it again changes nothing.
func TestRepack(t *testing.T) {
	for _, name := range samples {
		p, err := Read(sample(t, name))
		require.NoError(t, err)
		plain := p.Repack()
		q, err := Read(plain)
		require.NoError(t, err, name)
		assert.Equal(t, []int{p.Width, p.Height, p.Depth, p.Chroma}, []int{q.Width, q.Height, q.Depth, q.Chroma}, name)
		assert.Equal(t, p.coded[0].config, q.coded[0].config)
		assert.Equal(t, joined(p.coded[0].data), joined(q.coded[0].data), name)
		assert.Empty(t, q.Turns)
		assert.Equal(t, plain, q.Repack(), name)
		assert.GreaterOrEqual(t, p.CodedPixels(), int64(p.Width)*int64(p.Height))
	}
}

func joined(pieces [][]byte) []byte { return join(pieces...) }

// Whole pixels within the picture, or an error: a cut's extent, its centre's
// offset as a fraction, and where it begins. Worked out by hand.
func TestCutSide(t *testing.T) {
	for _, row := range []struct{ n, d, on, od, side, extent, start int64 }{
		{128, 1, 0, 1, 128, 128, 0}, {100, 1, 0, 1, 128, 100, 14}, {100, 1, 14, 1, 128, 100, 28}, {100, 1, -14, 1, 128, 100, 0},
		{97, 1, -1, 2, 98, 97, 0}, {97, 1, 1, 2, 98, 97, 1}, {200, 2, -28, 2, 128, 100, 0},
	} {
		extent, start, err := cutSide(row.n, row.d, row.on, row.od, row.side)
		require.NoError(t, err, "%+v", row)
		assert.Equal(t, []int64{row.extent, row.start}, []int64{int64(extent), int64(start)}, "%+v", row)
	}
	for _, row := range [][5]int64{
		{129, 1, 0, 1, 128}, {100, 1, 15, 1, 128}, {100, 1, -15, 1, 128}, {0, 1, 0, 1, 128}, {100, 0, 0, 1, 128}, {100, 1, 0, -1, 128},
		{97, 1, 0, 1, 98}, {195, 2, 0, 1, 98}, {1<<31 - 1, 1, 1<<31 - 1, 1<<31 - 1, 98}, {1, 1, -1 << 31, 1, 1 << 30},
	} {
		_, _, err := cutSide(row[0], row[1], row[2], row[3], row[4])
		assert.Error(t, err, "%v", row)
	}
}

// Exp-Golomb numbers as H.265 prints them, table 9-2.
func TestExpGolomb(t *testing.T) {
	b := &bits{data: []byte{0b1_010_011_0, 0b0100_0010, 0b1_0001111}}
	for want := range 5 {
		assert.Equal(t, want, b.ue())
	}
	assert.Equal(t, 14, (&bits{data: []byte{0b0001_1110}}).ue())
	long := &bits{data: make([]byte, 8)}
	assert.Zero(t, long.ue())
	assert.True(t, long.short)
	b = &bits{data: []byte{0xff}}
	b.skip(9)
	assert.True(t, b.short)
	assert.Zero(t, b.bits(4))
}

// The bytes that keep start codes from arising are taken out.
func TestUnescape(t *testing.T) {
	assert.Equal(t, []byte{0, 0, 1, 0, 0, 0, 0, 3}, unescape([]byte{0, 0, 3, 1, 0, 0, 3, 0, 0, 3, 3}))
	assert.Equal(t, []byte{0, 3, 0}, unescape([]byte{0, 3, 0}))
}

// A parameter set with everything that may stand before its colour: layers,
// scaling lists, PCM, reference pictures, long-term ones.
func TestSPSWithAllParts(t *testing.T) {
	var w bitWriter
	w.put(nalSPS<<9, 16)
	w.put(0, 4)
	w.put(2, 3) // three layers
	w.put(1, 1)
	w.put(0, 32)
	w.put(0, 32)
	w.put(0, 32)
	w.put(0b1101, 4) // the first layer has profile and level, the second a level
	w.put(0, 12)
	w.put(0, 24)
	w.put(0, 32)
	w.put(0, 32)
	w.put(0, 8+8)
	w.ue(0, 1, 4000, 3008) // 4:2:0
	w.put(1, 1)
	w.ue(0, 4, 0, 8) // 8 columns and 16 rows are cut off
	w.ue(2, 2, 4)    // 10 bits
	w.put(0, 1)
	w.ue(1, 2, 3)
	w.ue(0, 1, 0, 2, 3, 4)
	w.put(3, 2) // scaling lists are there
	for size := range 4 {
		for matrix := range 6 {
			switch {
			case size == 3 && matrix%3 > 0:
			case matrix == 0:
				w.put(0, 1)
				w.ue(1)
			default:
				w.put(1, 1)
				if size > 1 {
					w.ue(7)
				}
				for range min(64, 1<<(4+2*size)) {
					w.ue(3)
				}
			}
		}
	}
	w.put(3, 2)
	w.put(1, 1) // PCM
	w.put(0x77, 8)
	w.ue(0, 1)
	w.put(0, 1)
	w.ue(2)    // two reference sets
	w.ue(1, 1) // one before, one after
	w.ue(0)
	w.put(1, 1)
	w.ue(0)
	w.put(1, 1)
	w.put(1, 1) // the second told by the first
	w.put(0, 1)
	w.ue(0)
	w.put(0b1_01_00, 5)
	w.put(1, 1) // one long-term picture
	w.ue(1)
	w.put(5, 8)
	w.put(1, 1)
	w.put(0, 2)
	w.put(1, 1) // colour
	w.put(1, 1)
	w.put(255, 8)
	w.put(1, 32)
	w.put(0b11, 2) // overscan
	w.put(1, 1)    // a video signal
	w.put(5, 3)    // of no format
	w.put(1, 1)    // full range
	w.put(1, 1)    // and its colour
	w.put(12, 8)   // P3
	w.put(13, 8)   // sRGB
	w.put(9, 8)    // BT.2020
	w.put(0x1f, 5) // more
	p, err := readSPS(w.out)
	require.NoError(t, err)
	assert.Equal(t, params{width: 3992, height: 2992, chroma: 1, depth: 10, code: CodePoints{12, 13, 9, true}, codeGiven: true}, p)
}

// bitWriter packs bits, the highest of a byte first.
type bitWriter struct {
	out  []byte
	used int
}

func (w *bitWriter) put(v uint64, n int) {
	for k := n - 1; k >= 0; k-- {
		if w.used%8 == 0 {
			w.out = append(w.out, 0)
		}
		w.out[w.used/8] |= byte(v>>k&1) << (7 - w.used%8)
		w.used++
	}
}

func (w *bitWriter) ue(all ...uint64) {
	for _, v := range all {
		n := 0
		for (v+1)>>(n+1) > 0 {
			n++
		}
		w.put(0, n)
		w.put(v+1, n+1)
	}
}

// FuzzRead: whatever the bytes, a picture that can be repacked and read again,
// or one plain error.
func FuzzRead(f *testing.F) {
	for _, name := range samples {
		data := sample(f, name)
		f.Add(data)
		if p, err := Read(data); err == nil {
			f.Add(p.Repack())
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read(data)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		plain := p.Repack()
		if len(plain) > 3*len(data)+4096 {
			t.Fatalf("%d bytes became %d", len(data), len(plain))
		}
		q, err := Read(plain)
		require.NoError(t, err)
		require.Equal(t, []int{p.Width, p.Height, p.Depth, p.Chroma}, []int{q.Width, q.Height, q.Depth, q.Chroma})
		w, h := p.Width, p.Height
		for _, turn := range p.Turns {
			if turn.Kind == Cut && (turn.X < 0 || turn.Y < 0 || turn.X+turn.Width > w || turn.Y+turn.Height > h) {
				t.Fatalf("cut outside: %+v of %d x %d", turn, w, h)
			}
			w, h = turn.Width, turn.Height
		}
	})
}
