package blind

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"net/http"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func (r *run) picture(path string) image.Image {
	r.t.Helper()
	status, body := r.get(path)
	require.Equal(r.t, http.StatusOK, status, "%s", body)
	m, err := jpeg.Decode(bytes.NewReader(body))
	require.NoError(r.t, err)
	return m
}

// The pictures are the pad and the swatches of the photo, as large as asked for,
// and there are no others.
func TestPictures(t *testing.T) {
	c := blindConfig(t)
	c.Photos, c.Analyte = c.Photos[1:], "nitrate"
	r := start(t, c)
	want := prepare(r.page.pads[0])
	require.Empty(t, want.problem)
	require.Len(t, want.swatches, 6)
	_, pad := r.get("api/pads/0/pad/1")
	assert.True(t, bytes.Equal(want.pad[0], pad))
	for i := range 6 {
		m := r.picture(fmt.Sprintf("api/pads/0/swatch/%d/1", i))
		assert.Equal(t, cropWidth, m.Bounds().Dx())
		_, data := r.get(fmt.Sprintf("api/pads/0/swatch/%d/1", i))
		assert.True(t, bytes.Equal(want.swatches[i][0], data), "swatch %d", i)
	}
	for _, path := range []string{"pad/0", "pad/2", "pad/x", "swatch/6/1", "swatch/-1/1", "swatch/0/2", "swatch/0"} {
		status, _ := r.get("api/pads/0/" + path)
		assert.Equal(t, http.StatusNotFound, status, path)
	}
	pink := r.picture("api/pads/0/swatch/5/1")
	grey := r.picture("api/pads/0/swatch/0/1")
	_, g1, _, _ := pink.At(120, 120).RGBA()
	_, g0, _, _ := grey.At(120, 120).RGBA()
	assert.Less(t, g1>>8, uint32(160), "the highest swatch is pink")
	assert.Greater(t, g0>>8, uint32(215), "the lowest is nearly white")
}

// A photo that cannot be shown is no end of the run: it is passed over with the
// reason, and cannot be called.
func TestPhotoThatCannotBeShown(t *testing.T) {
	for _, read := range []func() ([]byte, error){
		func() ([]byte, error) { return nil, fmt.Errorf("there is no such file") },
		func() ([]byte, error) { return []byte("hello"), nil },
		func() ([]byte, error) { return os.ReadFile(demo + "cellar.jpg") }, // another photo's
		func() ([]byte, error) { panic("index out of\nrange") },
	} {
		c := blindConfig(t)
		c.Photos, c.Analyte = c.Photos[1:], "nitrate"
		c.Photos[0].Read = read
		r := start(t, c)
		s := r.state()
		require.NotEmpty(t, s.Problem)
		assert.NotContains(t, s.Problem, "\n")
		status, _ := r.get("api/pads/0/pad/1")
		assert.Equal(t, http.StatusNotFound, status)
		status, _ = r.get("api/pads/0/photo")
		assert.Equal(t, http.StatusNotFound, status)
		r.show(0, time.Second)
		status, body := r.send(0, call{Kind: "swatch", Value: &s.Pad.Swatches[0].Value})
		assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "cannot be shown")
		status, body = r.send(0, call{Kind: "none", Text: "it cannot be shown"})
		assert.Nil(t, ok[state](t, status, body).Pad)
		assert.Contains(t, r.text(), "\nkitchen,A. Reader,,nitrate,mg/L,N,,,screen,1.0,it cannot be shown\n")
	}
}
