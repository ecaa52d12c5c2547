package strip

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/colorimetry/photo"
)

// kitchen is the demonstration photo's picture.
func kitchen(t *testing.T) *image.RGBA {
	t.Helper()
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	m, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	out := image.NewRGBA(m.Bounds())
	draw.Draw(out, out.Bounds(), m, m.Bounds().Min, draw.Src)
	return out
}

func greyed(m image.Image) *image.Gray {
	out := image.NewGray(m.Bounds())
	draw.Draw(out, out.Bounds(), m, m.Bounds().Min, draw.Src)
	return out
}

func asJPEG(t *testing.T, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: 75}))
	return b.Bytes()
}

func asPNG(t *testing.T, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	return b.Bytes()
}

// readCopy reads a changed copy of the demonstration photo by its marks.
func readCopy(t *testing.T, file []byte, whole bool) (*Result, error) {
	t.Helper()
	marks := demoMarks(t, "kitchen.jpg")
	marks.Photo.SHA256 = ""
	return Read(Input{Photo: file, Chart: demoChart(t), Marks: marks, Whole: whole})
}

func TestPhotoWithoutColourIsRefused(t *testing.T) {
	grey := greyed(kitchen(t))
	three := image.NewRGBA(grey.Bounds())
	draw.Draw(three, three.Bounds(), grey, image.Point{}, draw.Src)
	for name, file := range map[string][]byte{
		"one channel, JPEG": asJPEG(t, grey), "three channels, JPEG": asJPEG(t, three),
		"one channel, PNG": asPNG(t, grey), "three channels, PNG": asPNG(t, three),
	} {
		for _, whole := range []bool{false, true} {
			_, err := readCopy(t, file, whole)
			var none *photo.NoColourError
			require.ErrorAs(t, err, &none, name)
			assert.Equal(t, string(calib.CodeNoColour), none.Code())
			assert.Equal(t, "the photo is without colour: use the photo as the camera stored it, not a grey copy", err.Error())
		}
	}
}

// Grey pads and swatches are no grey photo while anything in it has colour.
func TestGreyPatchesInAPhotoWithColourAreRead(t *testing.T) {
	m := kitchen(t)
	draw.Draw(m, m.Bounds(), greyed(m), image.Point{}, draw.Src)
	corner := image.Rect(0, 0, 60, 60)
	draw.Draw(m, corner, image.NewUniform(color.RGBA{190, 90, 60, 255}), image.Point{}, draw.Src)
	for _, file := range [][]byte{asJPEG(t, m), asPNG(t, m)} {
		r, err := readCopy(t, file, false)
		require.NoError(t, err)
		for _, w := range r.Light.Warnings {
			assert.NotEqual(t, calib.CodeAlteredPhoto, w.Code)
		}
	}
}

func TestSepiaIsNamed(t *testing.T) {
	m := kitchen(t)
	grey := greyed(m)
	for i, y := range grey.Pix {
		v := float64(y)
		m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2] = uint8(min(255, 1.2*v)), uint8(min(255, 1.07*v)), uint8(0.83*v)
	}
	for _, whole := range []bool{false, true} {
		r, err := readCopy(t, asJPEG(t, m), whole)
		require.NoError(t, err)
		require.NotEmpty(t, r.Light.Warnings)
		assert.Equal(t, calib.CodeAlteredPhoto, r.Light.Warnings[0].Code, "the worst comes first")
		for _, x := range r.Readings {
			assert.Equal(t, calib.Unreliable, x.Reliability)
		}
	}
}
