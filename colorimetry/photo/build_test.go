package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// Files are built here from named parts, so that each test shows what is wrong with its own.

// pngOf packs a picture as PNG.
func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	return b.Bytes()
}

// chunk is one PNG chunk with its length and checksum.
func chunk(kind string, body []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(append(b, kind...), body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// afterIHDR puts chunks behind a PNG's header chunk, which ends at byte 33.
func afterIHDR(file []byte, chunks ...[]byte) []byte {
	return join(file[:33], join(chunks...), file[33:])
}

func join(parts ...[]byte) []byte { return bytes.Join(parts, nil) }

// bareJPEG packs a picture as JPEG (4:2:0, quality 95); the encoder writes no marker segments.
func bareJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}))
	return b.Bytes()
}

// jfif is the usual APP0 segment.
var jfif = segmentOf(0xe0, []byte("JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"))

// jpegOf packs a picture as a JFIF JPEG with more segments behind the first.
func jpegOf(t testing.TB, m image.Image, segments ...[]byte) []byte {
	t.Helper()
	return afterSOI(bareJPEG(t, m), append([][]byte{jfif}, segments...)...)
}

func afterSOI(file []byte, segments ...[]byte) []byte {
	return join(file[:2], join(segments...), file[2:])
}

// segmentOf is one JPEG marker segment.
func segmentOf(marker byte, body []byte) []byte {
	n := len(body) + 2
	return append([]byte{0xff, marker, byte(n >> 8), byte(n)}, body...)
}

// iccSegment is part number of count of a profile.
func iccSegment(number, count byte, part []byte) []byte {
	return segmentOf(0xe2, join([]byte(iccLabel), []byte{number, count}, part))
}

func exifSegment(block []byte) []byte {
	return segmentOf(0xe1, join([]byte("Exif\x00\x00"), block))
}

// findMarker returns the place of a marker's FF byte.
func findMarker(t testing.TB, file []byte, marker byte) int {
	t.Helper()
	i := bytes.Index(file, []byte{0xff, marker})
	require.GreaterOrEqual(t, i, 0, "no marker %x", marker)
	return i
}

// entry is one tag of an Exif table. Values of up to 4 bytes stand in the
// table; longer ones go behind it.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func short(tag uint16, v uint16) entry {
	return entry{tag, 3, 1, binary.LittleEndian.AppendUint16(nil, v)}
}

func ascii(tag uint16, s string) entry {
	return entry{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

func long(tag uint16, v uint32) entry {
	return entry{tag, 4, 1, binary.LittleEndian.AppendUint32(nil, v)}
}

// table lays one Exif table at an offset, with the offset of the next.
func table(at int, next uint32, entries ...entry) []byte {
	le := binary.LittleEndian
	out := le.AppendUint16(nil, uint16(len(entries)))
	behind := at + 2 + 12*len(entries) + 4
	var tail []byte
	for _, e := range entries {
		out = le.AppendUint32(le.AppendUint16(le.AppendUint16(out, e.tag), e.kind), e.count)
		if len(e.value) <= 4 {
			out = append(out, append(e.value, 0, 0, 0, 0)[:4]...)
			continue
		}
		out = le.AppendUint32(out, uint32(behind+len(tail)))
		tail = append(tail, e.value...)
	}
	return append(le.AppendUint32(out, next), tail...)
}

var tiffLE = []byte("II*\x00\x08\x00\x00\x00")

// exifBlock is a TIFF structure with one table.
func exifBlock(entries ...entry) []byte { return join(tiffLE, table(8, 0, entries...)) }

// orientationBlock says only which way up.
func orientationBlock(n int) []byte { return exifBlock(short(0x0112, uint16(n))) }

func mustDecode(t testing.TB, file []byte) *Photo {
	t.Helper()
	p, err := Decode(file, Limits{})
	require.NoError(t, err)
	return p
}

func rect(t testing.TB, x, y, w, h float64) colorimetry.Region {
	t.Helper()
	r, err := colorimetry.NewRect(x, y, w, h)
	require.NoError(t, err)
	return r
}

func mustSample(t testing.TB, p *Photo, r colorimetry.Region) colorimetry.Sample {
	t.Helper()
	s, err := p.Sample(r)
	require.NoError(t, err)
	return s
}

func lab(s colorimetry.Sample) colorimetry.Lab { return s.XYZ.Lab(colorimetry.D50) }

func codes(p *Photo) []string {
	var out []string
	for _, n := range p.Notes {
		out = append(out, string(n.Code))
	}
	return out
}

// near fails when two colours are further apart than tol in CIELAB, or not numbers.
func near(t testing.TB, want, got colorimetry.Lab, tol float64, what string) {
	t.Helper()
	if d := colorimetry.DeltaE76(want, got); !(d <= tol) {
		t.Errorf("%s: %v and %v are %.4f apart, more than %g", what, want, got, d, tol)
	}
}
