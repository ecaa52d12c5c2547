package photo

import (
	"bytes"
	"errors"
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// exifItem is an Exif block as a HEIC carries it: behind the number of bytes to skip.
func exifItem(block []byte) heicItem { return heicItem{"Exif", join(be32(0), block), nil} }

// The container's steps decide; Exif's orientation is information (fault A05).
func TestHEICExif(t *testing.T) {
	file := func(orientation int, props ...[]byte) []byte {
		return heicOf(1, []heicItem{codedItem(t, "corners.heic", props...), exifItem(orientationBlock(orientation))}, references("cdsc", 2, 1))
	}
	for _, row := range []struct {
		what        string
		file        []byte
		orientation int
		warned      bool
	}{
		{"the container alone", file(1, rotateProp(3)), 6, false},
		{"Exif alone", file(6), 1, true},
		{"both agree", file(6, rotateProp(3)), 6, false},
		{"both disagree", file(8, rotateProp(3)), 6, true},
		{"Exif nonsense", file(99, rotateProp(3)), 6, false},
	} {
		p := mustDecodeHEIC(t, row.file)
		assert.Equal(t, row.orientation, p.Facts.Orientation, row.what)
		assert.Equal(t, row.warned, strings.Contains(strings.Join(codes(p), " "), "orientation-unknown"), row.what)
	}
	camera := exifItem(exifBlock(ascii(0x010f, "Orchard"), short(0x0112, 1)))
	p := mustDecodeHEIC(t, heicOf(2, []heicItem{camera, codedItem(t, "corners.heic")}, references("cdsc", 1, 2)))
	assert.Equal(t, "Orchard", p.Facts.Make)
	other := heicOf(1, []heicItem{codedItem(t, "corners.heic"), camera, codedItem(t, "patches.heic")}, references("cdsc", 2, 3))
	assert.Empty(t, mustDecodeHEIC(t, other).Facts.Make, "it is of another picture")
	cut := heicOf(1, []heicItem{codedItem(t, "corners.heic"), {"Exif", []byte{0, 0}, nil}})
	assert.Equal(t, 1, mustDecodeHEIC(t, cut).Facts.Orientation)
}

// The primary item is the photo, wherever it stands (fault A09); thumbnails,
// gain maps and depths are not.
func TestHEICPrimaryItem(t *testing.T) {
	photo, small := codedItem(t, "patches.heic"), codedItem(t, "corners.heic")
	p := mustDecodeHEIC(t, heicOf(2, []heicItem{small, photo}, references("thmb", 1, 2)))
	assert.Equal(t, []int{128, 128}, []int{p.Width, p.Height})
	gain := codedItem(t, "grey.heic", fullBox("auxC", 0, 0, []byte("urn:com:example:photo:2020:aux:gainmap\x00")))
	p = mustDecodeHEIC(t, heicOf(1, []heicItem{photo, gain}, references("auxl", 2, 1)))
	checkPatches(t, p, colorimetry.SRGB, "beside a gain map")
}

// gridItem says that tiles, rows by columns, make up a picture of w by h.
func gridItem(rows, columns, w, h int, props ...[]byte) heicItem {
	return heicItem{"grid", join([]byte{0, 0, byte(rows - 1), byte(columns - 1)}, be16(w, h)), append([][]byte{sizeProp(w, h)}, props...)}
}

// A picture of two by two tiles: each is in its place, and what reaches past the edge is left off.
func TestHEICGrid(t *testing.T) {
	a, b := codedItem(t, "patches.heic"), codedItem(t, "patches.heic")
	file := heicOf(5, []heicItem{a, b, a, b, gridItem(2, 2, 200, 190, codeProp(12, 13, 6, 1), rotateProp(3))}, references("dimg", 5, 1, 2, 3, 4))
	p := mustDecodeHEIC(t, file)
	assert.Equal(t, []int{190, 200}, []int{p.Width, p.Height})
	assert.Equal(t, "Display P3", p.Facts.Profile)
	first := mustDecodeHEIC(t, photoFile(t, "patches.heic"))
	for y := 5; y < 190; y += 31 {
		for x := 4; x < 200; x += 29 {
			assert.Equal(t, first.read(x%128, y%128), p.read(x, y), "%d, %d", x, y)
		}
	}
	odd := mustDecodeHEIC(t, photoFile(t, "odd.heic")) // one tile, an odd size
	assert.Equal(t, []int{97, 61}, []int{odd.Width, odd.Height})
}

// What is valid and not read is named; what is broken is called broken.
func TestHEICRefused(t *testing.T) {
	item := func(props ...[]byte) heicItem { return codedItem(t, "patches.heic", props...) }
	one := func(props ...[]byte) []byte { return heicOf(1, []heicItem{item(props...)}) }
	alpha := item(fullBox("auxC", 0, 0, []byte("urn:mpeg:mpegB:cicp:systems:auxiliary:alpha\x00")))
	named := func(kind string) []byte {
		return heicOf(1, []heicItem{{kind, []byte("picture"), [][]byte{sizeProp(9, 9)}}})
	}
	grid := func(g heicItem, to ...int) []byte {
		return heicOf(2, []heicItem{item(), g}, references("dimg", 2, to...))
	}
	var unusual *UnsupportedError
	for want, file := range map[string][]byte{
		"high dynamic range":         one(codeProp(9, 16, 9, 1)),
		"(PQ or HLG)":                one(codeProp(9, 18, 9, 1)),
		"unusual way (matrix 0)":     one(codeProp(1, 13, 0, 1)),
		"transparent":                heicOf(1, []heicItem{item(), alpha}, references("auxl", 2, 1)),
		"an AVIF picture":            named("av01"),
		"unusual kind (jpeg)":        named("jpeg"),
		"unusual kind (iovl)":        named("iovl"),
		"sequence of pictures":       join(box("ftyp", []byte("hevc\x00\x00\x00\x00msf1hevc")), box("moov")),
		"cut between two pixels":     one(cutProp(100, 1, 100, 1, 1, 4, 0, 1)),
		"cut to 201/2 pixels":        one(cutProp(201, 2, 100, 1, 0, 1, 0, 1)),
		"tiles of an unusual kind":   grid(gridItem(1, 1, 128, 128), 2),
		"needs the unusual property": bytes.Replace(one(box("lsel", be16(0))), []byte{3, 1, 2, 3}, []byte{3, 1, 2, 0x83}, 1),
	} {
		_, err := Decode(file, withHEIC)
		require.ErrorAs(t, err, &unusual, want)
		assert.Contains(t, err.Error(), want)
		oneLine(t, err, want)
	}
	_, err := Decode(one(), Limits{})
	require.ErrorAs(t, err, &unusual, "without a decoder")
	assert.Contains(t, err.Error(), "HEIC")
	plain, meta := one(), bytes.Index(one(), []byte("meta"))
	var broken *BrokenError
	for name, file := range map[string][]byte{
		"no description":          plain[:28],
		"cut":                     plain[:len(plain)-1],
		"cut in the description":  plain[:meta+40],
		"another primary":         heicOf(7, []heicItem{item()}),
		"a box past the end":      edited(plain, meta-4, 0x7f, 0xff, 0xff, 0xff),
		"a box of 3 bytes":        edited(plain, meta+8, 0, 0, 0, 3),
		"size twice":              one(sizeProp(128, 128)),
		"another size":            bytes.Replace(plain, be32(128, 128), be32(128, 129), 1),
		"cut outside":             one(cutProp(100, 1, 100, 1, 20, 1, 0, 1)),
		"cut by nothing":          one(cutProp(100, 0, 100, 1, 0, 1, 0, 1)),
		"cut below nothing":       one(cutProp(100, 1, -100, 1, 0, 1, 0, 1)),
		"a short cut":             one(cutProp(100, 1, 100, 1)),
		"a turn of no length":     one(box("irot")),
		"a short colour":          one(box("colr", []byte("nclx"), be16(1))),
		"no tiles":                heicOf(1, []heicItem{gridItem(1, 1, 128, 128)}),
		"too few tiles":           grid(gridItem(1, 2, 256, 128), 1),
		"tiles that do not reach": grid(gridItem(1, 1, 129, 128), 1),
		"tiles far outside":       heicOf(3, []heicItem{item(), item(), gridItem(1, 2, 100, 128)}, references("dimg", 3, 1, 2)),
		"tiles of two sizes":      heicOf(3, []heicItem{item(), codedItem(t, "corners.heic"), gridItem(1, 2, 256, 128)}, references("dimg", 3, 1, 2)),
		"a grid of two minds":     bytes.Replace(grid(gridItem(1, 1, 128, 100), 1), be16(128, 100), be16(128, 99), 1),
		"bytes outside":           bytes.Replace(plain, be32(bytes.Index(plain, []byte("mdat"))+4), be32(1<<30), 1),
		"one tile used for all":   heicOf(2, []heicItem{item(), gridItem(16, 16, 2000, 2000)}, references("dimg", 2, bytesOf(1, 256)...)),
	} {
		_, err := Decode(file, withHEIC)
		require.ErrorAs(t, err, &broken, name)
		assert.Contains(t, err.Error(), "the HEIC photo is damaged", name)
		oneLine(t, err, name)
	}
	_, err = Decode(plain, Limits{HEIC: libraryDecoder, Pixels: 128*128 - 1})
	var large *TooLargeError
	require.ErrorAs(t, err, &large)
}

func bytesOf(v, n int) (out []int) {
	for range n {
		out = append(out, v)
	}
	return out
}

// What a decoder hands over is held to what was asked for.
func TestHEICDecoderOutput(t *testing.T) {
	file := heicWith(t, "patches.heic")
	var broken *BrokenError
	for name, m := range map[string]image.Image{
		"another size": image.NewYCbCr(image.Rect(0, 0, 128, 127), image.YCbCrSubsampleRatio420),
		"other planes": image.NewYCbCr(image.Rect(0, 0, 128, 128), image.YCbCrSubsampleRatio444),
		"grey":         image.NewGray(image.Rect(0, 0, 128, 128)),
		"colour":       image.NewNRGBA(image.Rect(0, 0, 128, 128)),
		"nothing":      nil,
	} {
		_, err := Decode(file, Limits{HEIC: func([]byte, int, int) (image.Image, error) { return m, nil }})
		require.ErrorAs(t, err, &broken, name)
		oneLine(t, err, name)
	}
	_, err := Decode(file, Limits{HEIC: func([]byte, int, int) (image.Image, error) { return nil, errors.New("it stopped\nthere") }})
	require.ErrorAs(t, err, &broken)
	oneLine(t, err, "its own error")
	_, err = Decode(file, Limits{HEIC: func([]byte, int, int) (image.Image, error) { panic("it fell") }})
	require.ErrorAs(t, err, &broken)
	too := &UnsupportedError{"decoding took too long", "export it"}
	_, err = Decode(file, Limits{HEIC: func([]byte, int, int) (image.Image, error) { return nil, too }})
	assert.Equal(t, too, err)
}
