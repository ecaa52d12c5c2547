package photo

import (
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// scene is a picture without any symmetry: noise over four colours and unequal sides.
func scene(w, h int) *image.NRGBA {
	rng := rand.New(rand.NewPCG(7, 7))
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	colours := [4][3]int{{200, 60, 60}, {60, 180, 80}, {60, 90, 190}, {210, 200, 90}}
	for y := range h {
		for x := range w {
			c := colours[x*2/w+y*2/h*2]
			n := rng.IntN(21)
			m.SetNRGBA(x, y, color.NRGBA{uint8(c[0] + n), uint8(c[1] + n), uint8(c[2] + n + y/8), 255})
		}
	}
	return m
}

// storedFor returns the stored picture that an orientation turns into m. The
// moves are those of CIPA DC-008, as testdata/checks/exif_orientation.csv
// gives them: where the stored pixel (x, y) of a picture of w by h goes.
func storedFor(m *image.NRGBA, orientation int) *image.NRGBA {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	if orientation >= 5 {
		w, h = h, w
	}
	goes := map[int]func(x, y int) (int, int){
		1: func(x, y int) (int, int) { return x, y },
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		3: func(x, y int) (int, int) { return w - 1 - x, h - 1 - y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return h - 1 - y, x },
		7: func(x, y int) (int, int) { return h - 1 - y, w - 1 - x },
		8: func(x, y int) (int, int) { return y, w - 1 - x },
	}[orientation]
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := goes(x, y)
			out.SetNRGBA(x, y, m.NRGBAAt(u, v))
		}
	}
	return out
}

// spanning is the mark of turnMarks that spans several colours.
const spanning = 4

// turnMarks lie in all corners and across the borders of the colours.
func turnMarks(t *testing.T) []colorimetry.Region {
	poly, err := colorimetry.NewPolygon(colorimetry.Point{X: 52.5, Y: 4}, colorimetry.Point{X: 94, Y: 8}, colorimetry.Point{X: 70, Y: 27})
	require.NoError(t, err)
	disc, err := colorimetry.NewCircle(colorimetry.Point{X: 22.3, Y: 46.1}, 11.7)
	require.NoError(t, err)
	return []colorimetry.Region{rect(t, 0, 0, 40, 25), poly, disc, rect(t, 60, 38, 37, 23), rect(t, 3.4, 2.2, 88.8, 55)}
}

// One scene in eight stored orientations (fault A01): the same size, the same
// samples to the last bit as PNG, and to the codec's rounding as JPEG.
func TestEightOrientations(t *testing.T) {
	m := scene(97, 61)
	marks := turnMarks(t)
	var wantPNG, wantJPEG []colorimetry.Sample
	for n := 1; n <= 8; n++ {
		turned := storedFor(m, n)
		p := mustDecode(t, afterIHDR(pngOf(t, turned), chunk("eXIf", orientationBlock(n))))
		j := mustDecode(t, jpegOf(t, turned, exifSegment(orientationBlock(n))))
		for _, q := range []*Photo{p, j} {
			assert.Equal(t, n, q.Facts.Orientation)
			assert.Equal(t, []int{97, 61}, []int{q.Width, q.Height})
			assert.Equal(t, turned.Rect.Dx(), q.Facts.StoredWidth)
		}
		for i, r := range marks {
			sp, sj := mustSample(t, p, r), mustSample(t, j, r)
			if n == 1 {
				wantPNG, wantJPEG = append(wantPNG, sp), append(wantJPEG, sj)
			}
			assert.Equal(t, wantPNG[i], sp, "PNG orientation %d, mark %d", n, i)
			if i < spanning { // of two colours that share a mark the codec's noise picks one
				near(t, lab(wantJPEG[i]), lab(sj), 0.6, "JPEG")
			}
		}
	}
}

// The picture for people is upright too, and the part that was asked for.
func TestImageIsUpright(t *testing.T) {
	m := scene(97, 61)
	for n := 1; n <= 8; n++ {
		p := mustDecode(t, afterIHDR(pngOf(t, storedFor(m, n)), chunk("sRGB", []byte{0}), chunk("eXIf", orientationBlock(n))))
		whole := p.Image(image.Rect(-5, -5, 1000, 1000))
		require.Equal(t, image.Rect(0, 0, 97, 61), whole.Bounds())
		part := p.Image(image.Rect(10, 20, 30, 25))
		require.Equal(t, image.Rect(0, 0, 20, 5), part.Bounds())
		for _, at := range []image.Point{{0, 0}, {96, 0}, {0, 60}, {96, 60}, {40, 33}} {
			assert.Equal(t, m.NRGBAAt(at.X, at.Y), color.NRGBAModel.Convert(whole.At(at.X, at.Y)))
		}
		assert.Equal(t, m.NRGBAAt(13, 22), color.NRGBAModel.Convert(part.At(3, 2)))
	}
	p := mustDecode(t, pngOf(t, m))
	assert.True(t, p.Image(image.Rect(200, 200, 300, 300)).Bounds().Empty())
}

// The picture for people is sRGB whatever the photo is in.
func TestImageIsSRGB(t *testing.T) {
	p := mustDecode(t, withICCP(pngOf(t, twin(colorimetry.DisplayP3, true)), profileP3()))
	m := p.Image(image.Rect(0, 0, p.Width, p.Height))
	for i, c := range twinColours {
		want := colorimetry.SRGB.RGB(c.XYZ(colorimetry.D50))
		r, g, b, _ := m.At(patchSide*i+10, 10).RGBA()
		assert.InDelta(t, want.R*255, float64(r>>8), 0.51)
		assert.InDelta(t, want.G*255, float64(g>>8), 0.51)
		assert.InDelta(t, want.B*255, float64(b>>8), 0.51)
	}
}

// A thumbnail's orientation, in the second table, is its own.
func TestThumbnailOrientationIsNotThePhotos(t *testing.T) {
	first := table(8, 0, short(0x0112, 6))
	block := join(tiffLE, table(8, uint32(8+len(first)), short(0x0112, 6)), table(8+len(first), 0, short(0x0112, 3)))
	assert.Equal(t, 6, mustDecode(t, jpegOf(t, scene(32, 16), exifSegment(block))).Facts.Orientation)
	none := table(8, 0, ascii(0x010f, "Maker"))
	block = join(tiffLE, table(8, uint32(8+len(none)), ascii(0x010f, "Maker")), table(8+len(none), 0, short(0x0112, 3)))
	p := mustDecode(t, jpegOf(t, scene(32, 16), exifSegment(block)))
	assert.Equal(t, 0, p.Facts.Orientation)
	assert.Equal(t, "Maker", p.Facts.Make)
	assert.Equal(t, []int{32, 16}, []int{p.Width, p.Height})
	camera := exifBlock(long(0x8769, 26)) // nor does one in the camera's table count
	p = mustDecode(t, jpegOf(t, scene(32, 16), exifSegment(join(camera, table(26, 0, short(0x0112, 3))))))
	assert.Equal(t, 0, p.Facts.Orientation)
}

// What the camera says.
func TestExifFacts(t *testing.T) {
	le := func(n, d uint32) []byte {
		return []byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24), byte(d), byte(d >> 8), byte(d >> 16), byte(d >> 24)}
	}
	camera := []entry{
		{0x829a, 5, 1, le(1, 120)}, short(0x8827, 64), ascii(0x9003, "2026:09:14 07:05:33"), ascii(0x9011, "-05:00"), short(0x9209, 0x19),
		{0x829d, 5, 1, le(18, 10)}, short(0x9208, 13), // f-number and light source, by CIPA DC-008
	}
	position := []entry{{0x0002, 5, 3, join(le(40, 1), le(0, 1), le(0, 1))}}
	lens := func(p1, p2 uint32) []byte {
		return table(8, 0, short(0x0112, 1), ascii(0x010f, " Orchard  works \x00"), ascii(0x0110, "Pocket 3"), ascii(0x0131, "1.2.3"), long(0x8769, p1), long(0x8825, p2))
	}
	p1 := uint32(8 + len(lens(0, 0)))
	sub := table(int(p1), 0, camera...)
	p2 := p1 + uint32(len(sub))
	block := join(tiffLE, lens(p1, p2), sub, table(int(p2), 0, position...))
	p := mustDecode(t, jpegOf(t, scene(32, 16), exifSegment(block)))
	f := p.Facts
	assert.Equal(t, []string{"Orchard works", "Pocket 3", "1.2.3"}, []string{f.Make, f.Model, f.Software})
	assert.InDelta(t, 1.0/120, f.ExposureSeconds, 1e-12)
	assert.Equal(t, 64, f.ISO)
	assert.InDelta(t, 1.8, f.FNumber, 1e-12)
	assert.EqualValues(t, 13, f.LightSource)
	assert.True(t, f.LightSource.Fluorescent())
	assert.False(t, f.LightSource.Tungsten())
	assert.Equal(t, "2026-09-14T07:05:33-05:00", f.Taken)
	assert.True(t, f.TakenHasOffset)
	assert.Equal(t, 12, f.TakenTime.UTC().Hour())
	assert.True(t, f.Flash)
	assert.True(t, f.HasPosition)
	assert.Equal(t, []string{"no-profile", "flash"}, codes(p))
}

// Damaged Exif (fault C18): the picture is read as stored, and it is said
// that its way up is not known.
func TestDamagedExif(t *testing.T) {
	m := scene(48, 32)
	plain := mustSample(t, mustDecode(t, jpegOf(t, m)), rect(t, 2, 2, 16, 12))
	good := orientationBlock(6)
	for name, block := range map[string][]byte{
		"empty table pointer":  []byte("II*\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"),
		"table beyond the end": []byte("II*\x00\xff\xff\x00\x00\x00\x00\x00\x00\x00\x00"),
		"four billion":         []byte("II*\x00\xff\xff\xff\xff\x00\x00\x00\x00\x00\x00"),
		"too many entries":     edited(good, 8, 0xff, 0xff),
		"cut":                  good[:15],
		"no byte order":        edited(good, 0, 'X', 'X'),
		"two bytes":            []byte("II"),
		"orientation 0":        orientationBlock(0),
		"orientation 9":        orientationBlock(9),
		"orientation in words": exifBlock(ascii(0x0112, "upright")),
		"unknown type":         exifBlock(entry{0x010f, 99, 1, nil}, short(0x0112, 6)),
	} {
		p := mustDecode(t, jpegOf(t, m, exifSegment(block)))
		assert.Contains(t, codes(p), "orientation-unknown", name)
		assert.Equal(t, plain, mustSample(t, p, rect(t, 2, 2, 16, 12)), name)
		assert.LessOrEqual(t, p.Facts.Orientation, 1, name)
	}
}

// Tables that point at themselves end, and what could be read counts.
func TestExifThatPointsAtItself(t *testing.T) {
	m := scene(48, 32)
	p := mustDecode(t, jpegOf(t, m, exifSegment(join(tiffLE, table(8, 8, short(0x0112, 6))))))
	assert.Equal(t, 6, p.Facts.Orientation)
	assert.Equal(t, []int{32, 48}, []int{p.Width, p.Height})
	loop := exifBlock(short(0x0112, 6), long(0x8769, 8), long(0x8825, 8))
	assert.Equal(t, 6, mustDecode(t, jpegOf(t, m, exifSegment(loop))).Facts.Orientation)
	var many []entry
	for range 1000 {
		many = append(many, entry{0x014a, 4, 200, join(make([]byte, 4*200))})
	}
	assert.NotPanics(t, func() { mustDecode(t, jpegOf(t, m, exifSegment(exifBlock(many[:60]...)))) })
}
