package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSeeThroughMarksAreNamed(t *testing.T) {
	p := scene(onRamp(2.5))
	p.Pads[0].Swatches[3][0].Transparent = 0.01
	assert.Empty(t, readOne(t, p).Warnings, "a soft rim")
	p.Pads[0].Swatches[3][0].Transparent = 0.4
	r := readOne(t, p)
	w, found := warningOf(r, CodeAlteredPhoto)
	require.True(t, found)
	assert.Equal(t, Caution, r.Reliability)
	assert.Equal(t, "The picture is see-through in 40 % of the swatch for 7, as no camera makes it. "+
		"Use the photo as the camera stored it.", w.Text())
}
