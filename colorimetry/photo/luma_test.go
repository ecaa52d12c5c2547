package photo

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The ends of luma and chroma in 8-bit codes: full from 0 to 255, narrow luma
// from 16 to 235 and chroma from 16 to 240 about 128 (ITU-T H.273, 8.3). What is
// cut off of more bits stands for the middle of the codes that it may have been.
func TestEndsOfLumaAndChroma(t *testing.T) {
	const tiny = 1e-12
	for _, c := range []struct {
		full       bool
		depth      int
		luma       uint8
		y          float64
		chromaHigh uint8 // of Cr, whose offset is then half of its range
	}{
		{true, 8, 0, 0, 255}, {true, 8, 255, 1, 255}, {false, 8, 16, 0, 240}, {false, 8, 235, 1, 240},
		{true, 10, 0, 1.5 / 1023, 0}, {true, 10, 255, 1021.5 / 1023, 0}, {false, 10, 16, 1.5 / 876, 0}, {false, 10, 235, (4*235 + 1.5 - 64) / 876, 0},
	} {
		m := newLumaMatrix(red601, blue601, c.full, c.depth)
		assert.InDelta(t, c.y, (float64(c.luma)-m.zero)*m.gain, tiny, "%+v", c)
		if c.depth > 8 {
			continue
		}
		q := m.pixel(c.luma, 128, 128)
		assert.InDeltaSlice(t, []float64{c.y, c.y, c.y}, []float64{q.r, q.g, q.b}, tiny, "no chroma is grey")
		half := map[bool]float64{true: 127.0 / 255, false: 0.5}[c.full] // full codes end one short above the middle
		q = m.pixel(c.luma, 128, c.chromaHigh)
		assert.InDelta(t, c.y+2*(1-red601)*half, q.r, tiny, "%+v", c)
		assert.InDelta(t, c.y, q.b, tiny)
	}
}
