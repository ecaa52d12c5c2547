package paper

import (
	"bytes"
	"encoding/base64"
	pixels "image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	resize "golang.org/x/image/draw"

	"padband/calib/strip"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/colorimetry"
)

// decoded is the picture that an address holds.
func decoded(t *testing.T, src string) pixels.Image {
	t.Helper()
	require.NotEmpty(t, markup.Address(src), "an address that a report takes")
	text, ok := strings.CutPrefix(src, "data:image/jpeg;base64,")
	require.True(t, ok)
	data, err := base64.StdEncoding.DecodeString(text)
	require.NoError(t, err)
	m, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return m
}

// near fails when two 8-bit colours differ by more than a JPEG's own error.
func near(t *testing.T, want, got color.Color, what string) {
	t.Helper()
	r, g, b, _ := want.RGBA()
	x, y, z, _ := got.RGBA()
	for _, d := range []int{int(r) - int(x), int(g) - int(y), int(b) - int(z)} {
		assert.InDelta(t, 0, d>>8, 8, what)
	}
}

func TestPreview(t *testing.T) {
	r := reporttest.ReadDemo(t, "kitchen")
	p := Preview(r)
	m := decoded(t, p.Src)
	assert.Equal(t, pixels.Pt(p.Width, p.Height), m.Bounds().Size())
	assert.LessOrEqual(t, p.Width*p.Height, 1_000_000)
	assert.Greater(t, p.Width*p.Height, 950_000, "no smaller than it need be")
	assert.InDelta(t, float64(r.Photo.Width)/float64(r.Photo.Height), float64(p.Width)/float64(p.Height), 0.003)
	assert.Equal(t, p, Preview(r), "the same photo gives the same bytes")
	k := float64(p.Width) / float64(r.Photo.Width)
	for _, a := range r.Placed.Pads {
		c := a.Pad[0].Region.Centroid()
		area := pixels.Rect(int(c.X), int(c.Y), int(c.X)+1, int(c.Y)+1)
		near(t, r.Photo.Image(area).At(0, 0), m.At(int(c.X*k), int(c.Y*k)), a.Analyte.Name)
	}
	assert.Zero(t, Preview(nil))
	assert.Zero(t, Preview(&strip.Result{}))
}

// A crop has the mark in its middle, two thirds of it wide.
func TestCropsShowTheMark(t *testing.T) {
	r := reporttest.ReadDemo(t, "kitchen")
	crop := Crops(r)
	for _, a := range r.Placed.Pads {
		m := decoded(t, crop(a.Pad[0].Region))
		assert.Equal(t, pixels.Pt(cropWide, cropWide), m.Bounds().Size())
		c := a.Pad[0].Region.Centroid()
		area := pixels.Rect(int(c.X), int(c.Y), int(c.X)+1, int(c.Y)+1)
		near(t, r.Photo.Image(area).At(0, 0), m.At(cropWide/2, cropWide/2), a.Analyte.Name)
		s := a.Swatches[0][0].Region
		assert.NotEqual(t, crop(s), crop(a.Pad[0].Region))
	}
	assert.Empty(t, Crops(nil)(colorimetry.Region{}))
	assert.Empty(t, Crops(r)(colorimetry.Region{}), "a region that is none")
}

// Another library scales a photo to the same, by the same means
// (golang.org/x/image/draw, BiLinear; NearestNeighbor for what is made larger).
// The one in use rounds between the two directions, each time by half a step of
// 256 at the most, so the two may lie one apart.
func TestSizedAsAnotherLibraryDoes(t *testing.T) {
	m := reporttest.ReadDemo(t, "kitchen").Photo.Image(pixels.Rect(300, 300, 700, 600))
	for _, c := range []struct {
		width, height int
		how           resize.Scaler
		apart         int
	}{{240, 180, resize.BiLinear, 1}, {399, 300, resize.BiLinear, 1}, {37, 11, resize.BiLinear, 1},
		{400, 300, resize.BiLinear, 0}, {1000, 750, resize.NearestNeighbor, 0}, {401, 300, resize.NearestNeighbor, 0}} {
		want := pixels.NewRGBA(pixels.Rect(0, 0, c.width, c.height))
		c.how.Scale(want, want.Rect, m, m.Bounds(), resize.Src, nil)
		got := sized(m, c.width, c.height)
		require.Equal(t, want.Rect, got.Rect)
		most := 0
		for i, v := range want.Pix {
			most = max(most, int(v)-int(got.Pix[i]), int(got.Pix[i])-int(v))
		}
		assert.LessOrEqual(t, most, c.apart, "%d x %d", c.width, c.height)
	}
}

// Made smaller, a picture's pixels are means; made larger, they are its own.
func TestPictureInventsNothing(t *testing.T) {
	halves := pixels.NewRGBA(pixels.Rect(0, 0, 64, 64))
	for x := range 64 {
		for y := range 64 {
			v := uint8(0)
			if (x+y)%2 == 0 {
				v = 200
			}
			halves.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	small := decoded(t, picture(halves, 8, 8).Src)
	near(t, color.RGBA{100, 100, 100, 255}, small.At(4, 4), "the mean of both")
	two := pixels.NewRGBA(pixels.Rect(0, 0, 2, 1))
	two.SetRGBA(0, 0, color.RGBA{0, 0, 0, 255})
	two.SetRGBA(1, 0, color.RGBA{200, 200, 200, 255})
	large := decoded(t, picture(two, 64, 32).Src)
	near(t, color.RGBA{0, 0, 0, 255}, large.At(28, 16), "up to the edge")
	near(t, color.RGBA{200, 200, 200, 255}, large.At(36, 16), "and after it")
	assert.Zero(t, picture(pixels.NewRGBA(pixels.Rectangle{}), 10, 10))
}
