package scene

import (
	"bytes"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// The profile is read by a library that is not ours: it says sRGB, and its
// colours are those of IEC 61966-2-1 as the colorimetry package's tables check them.
func TestTheProfileIsSRGB(t *testing.T) {
	data := srgbProfile()
	assert.Less(t, len(data), 600)
	p, err := icc.NewProfileReader(bytes.NewReader(data)).ReadProfile()
	require.NoError(t, err)
	name, err := p.Description()
	require.NoError(t, err)
	assert.Equal(t, "sRGB", name)
	pipe, err := p.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, 3, true)
	require.NoError(t, err)
	for _, c := range []colorimetry.RGB{{R: 1, G: 1, B: 1}, {R: 1}, {G: 1}, {B: 1}, {R: 0.5, G: 0.25, B: 0.75}, {R: 0.02, G: 0.03, B: 0.01}} {
		x, y, z := pipe.Transform(c.R, c.G, c.B)
		got := colorimetry.XYZ{X: x, Y: y, Z: z}.Lab(colorimetry.D50)
		assert.Less(t, colorimetry.DeltaE76(got, colorimetry.SRGB.XYZ(c).Lab(colorimetry.D50)), 0.02, "%v", c)
	}
}

// Only the format that promises a profile carries one, behind the EXIF block.
func TestWhatAJPEGSays(t *testing.T) {
	empty := []byte("\xff\xd8\xff\xd9")
	c := Config{Format: JPEGSRGB, Exif: &Exif{Make: "odd"}}
	says := c.described(empty)
	e, i := bytes.Index(says, []byte("Exif\x00\x00")), bytes.Index(says, []byte("ICC_PROFILE\x00\x01\x01"))
	assert.Equal(t, 6, e, "after the start and the segment's marker and length")
	assert.Greater(t, i, e)
	assert.Equal(t, len(says), i+14+len(srgbProfile())+2)
	assert.Equal(t, len(srgbProfile())+16, int(says[i-2])<<8|int(says[i-1]), "the segment's length counts itself")
	c = Config{Format: JPEG}
	assert.Equal(t, empty, c.described(empty))
}
