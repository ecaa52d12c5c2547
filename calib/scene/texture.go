package scene

import (
	"math"
	"sync"
)

// texture is how a surface varies: a kind and an amount. The pixel's colour
// goes from the material's spectrum (0) towards its rough one (1).
type texture struct {
	kind   int
	amount float64
}

// Kinds of texture.
const (
	smooth = iota
	fine   // paper grain
	fibre  // wet reagent paper: fibres and blotches
	wood   // long grain
	kindsOfTexture
)

// tileSize is the side of a texture tile, pixels; a power of two.
const tileSize = 256

// tile is one texture, repeated over the plane, of mean 0 and standard deviation 1.
type tile [tileSize * tileSize]float32

// tiles are the textures and the noise table, the same for all scenes.
var tiles = sync.OnceValue(func() *[kindsOfTexture]tile {
	d := newDice(7, streamTexture)
	var out [kindsOfTexture]tile
	grain, blotch := noiseTile(d, 1, 1, 1), noiseTile(d, 12, 12, 3)
	out[fine] = *noiseTile(d, 1, 1, 2)
	for i := range out[fibre] {
		out[fibre][i] = 0.5*grain[i] + 0.87*blotch[i]
	}
	lines := noiseTile(d, 60, 2, 2)
	for i := range out[wood] {
		out[wood][i] = 0.85*lines[i] + 0.3*grain[i]
	}
	return &out
})

// noiseTile is normal noise smoothed by boxes of half-widths rx, ry, wrapped around.
func noiseTile(d dice, rx, ry, times int) *tile {
	t := new(tile)
	for i := range t {
		t[i] = float32(d.NormFloat64())
	}
	for range times {
		t.smooth(rx, 1)
		t.smooth(ry, tileSize)
	}
	t.standardise()
	return t
}

// smooth averages 2r+1 neighbours along a direction.
func (t *tile) smooth(r, stride int) {
	old := *t
	for i := range t {
		sum := float32(0)
		line, at := i/tileSize*tileSize, i%tileSize
		if stride != 1 {
			line, at = i%tileSize, i/tileSize
		}
		for k := -r; k <= r; k++ {
			sum += old[line+(at+k)&(tileSize-1)*stride]
		}
		t[i] = sum / float32(2*r+1)
	}
}

func (t *tile) standardise() {
	sum, square := 0.0, 0.0
	for _, v := range t {
		sum += float64(v)
		square += float64(v) * float64(v)
	}
	mean := sum / float64(len(t))
	k := 1 / math.Sqrt(square/float64(len(t))-mean*mean)
	for i := range t {
		t[i] = float32((float64(t[i]) - mean) * k)
	}
}

// noiseSize is the length of the table of normal numbers; a power of two.
const noiseSize = 1 << 17

// noises is a table of normal numbers that photos start to read at drawn places.
var noises = sync.OnceValue(func() *[noiseSize]float32 {
	d, out := newDice(11, streamTexture), new([noiseSize]float32)
	for i := range out {
		out[i] = float32(d.NormFloat64())
	}
	return out
})
