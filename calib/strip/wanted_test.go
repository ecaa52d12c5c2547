package strip

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/charts/strict"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// A photo decoded for its marks gives what the whole one gives, but no picture and
// no sample of anything else.
func TestReadDecodesWhatIsMarked(t *testing.T) {
	for _, name := range []string{"kitchen.jpg", "cellar.jpg"} {
		data, err := os.ReadFile(demo + name)
		require.NoError(t, err)
		in := Input{Photo: data, Chart: demoChart(t), Marks: demoMarks(t, name)}
		part, err := Read(in)
		require.NoError(t, err)
		in.Whole = true
		whole, err := Read(in)
		require.NoError(t, err)

		all := image.Rect(0, 0, whole.Photo.Width, whole.Photo.Height)
		assert.Equal(t, all.Size(), whole.Photo.Image(all).Bounds().Size())
		assert.True(t, part.Photo.Image(all).Bounds().Empty())
		wide, err := colorimetry.NewRect(0, 0, float64(all.Dx()), float64(all.Dy()))
		require.NoError(t, err)
		_, err = part.Photo.Sample(wide)
		var unwanted *photo.NotWantedError
		assert.ErrorAs(t, err, &unwanted)
		for _, m := range part.Placed.Whites {
			_, err := part.Photo.Sample(m.Region)
			assert.NoError(t, err)
		}
		part.Photo, whole.Photo, part.measured, whole.measured = nil, nil, nil, nil
		assert.Equal(t, whole, part)
	}
}

// What is wrong with a photo is told before what is wrong with its marks, and that
// before a place of theirs that has no colour.
func TestPhotoIsToldBeforeItsMarks(t *testing.T) {
	var file bytes.Buffer
	require.NoError(t, png.Encode(&file, image.NewNRGBA(image.Rect(0, 0, 2016, 1512)))) // wholly transparent
	broken := bytes.Clone(file.Bytes())
	broken[len(broken)-20] ^= 0xff // in its pixels, behind the header
	fit, far, other := demoMarks(t, "kitchen.jpg"), demoMarks(t, "kitchen.jpg"), demoMarks(t, "kitchen.jpg")
	fit.Photo, far.Photo, other.Photo = charts.PhotoRef{}, charts.PhotoRef{}, charts.PhotoRef{SHA256: other.Photo.SHA256}
	far.Corners[1].X = 3000

	said := func(data []byte, marks charts.Marks) error {
		_, err := Read(Input{Photo: data, Chart: demoChart(t), Marks: marks})
		return err
	}
	for _, marks := range []charts.Marks{fit, far, other} {
		var damaged *photo.BrokenError
		assert.ErrorAs(t, said(broken, marks), &damaged)
	}
	for _, marks := range []charts.Marks{far, other} {
		var wrong *strict.FileError
		assert.ErrorAs(t, said(file.Bytes(), marks), &wrong)
	}
	var empty *photo.TransparentError
	assert.ErrorAs(t, said(file.Bytes(), fit), &empty)
}
