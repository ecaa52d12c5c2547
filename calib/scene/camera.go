package scene

import (
	"math"

	"padband/colorimetry"
)

// Camera is a phone's camera: sensitivities, colour matrix, white balance,
// exposure, tone, noise.
type Camera struct {
	Name        string
	Sensitivity [3]Spectrum // red, green, blue, with lens and filters
	MatrixLamp  string      // the lamp the matrix is fitted for; empty: the lamp of the photo
	Balance     [3]float64  // error of the white balance: 1 is exact
	Exposure    float64     // the card's white in linear light, 1 the highest code
	Saturation  float64     // 1 none
	Contrast    float64     // strength of the S-curve, 0 none
	Lift        float64     // exponent of the midtones, 1 none
	Shoulder    float64     // where highlights begin to be compressed; 1 none
	Read, Shot  float64     // noise: standard deviation read^2 + shot x signal, of the linear scale
	Blur        float64     // standard deviation, pixels
	Sharpen     float64     // 0 none
	Flare       float64     // stray light, as a share of the mean of the photo
	// Colorimetric replaces the sensitivities by the observer's and the tone
	// by the plain sRGB curve: a camera without error.
	Colorimetric bool
}

// sensor is the basis of a family of sensors.
type sensor struct {
	name             string
	red, green, blue [3]lobe
}

// sensors are the bases; shapes in the range of published phone and camera
// sensitivities (peaks near 600, 530 and 460 nm, with cross talk), each our own.
var sensors = []sensor{
	{
		"broad",
		[3]lobe{{600, 30, 45, 1}, {535, 40, 40, 0.20}, {440, 30, 30, 0.04}},
		[3]lobe{{530, 38, 42, 1}, {600, 35, 35, 0.15}, {460, 25, 25, 0.12}},
		[3]lobe{{457, 26, 34, 1}, {520, 30, 35, 0.18}, {600, 40, 40, 0.02}},
	},
	{
		"narrow",
		[3]lobe{{608, 22, 38, 1}, {545, 30, 30, 0.10}, {450, 25, 25, 0.02}},
		[3]lobe{{535, 32, 34, 1}, {595, 25, 25, 0.08}, {470, 20, 20, 0.08}},
		[3]lobe{{452, 20, 28, 1}, {510, 25, 25, 0.10}, {620, 30, 30, 0.01}},
	},
	{
		"overlapping",
		[3]lobe{{594, 38, 48, 1}, {525, 40, 40, 0.28}, {430, 30, 30, 0.06}},
		[3]lobe{{526, 42, 48, 1}, {610, 40, 40, 0.22}, {450, 30, 30, 0.20}},
		[3]lobe{{463, 30, 38, 1}, {530, 35, 35, 0.28}, {610, 40, 40, 0.04}},
	},
	{
		"far red",
		[3]lobe{{616, 28, 50, 1}, {550, 35, 35, 0.22}, {470, 30, 30, 0.03}},
		[3]lobe{{540, 40, 38, 1}, {620, 35, 40, 0.12}, {465, 25, 25, 0.10}},
		[3]lobe{{466, 25, 30, 1}, {525, 25, 30, 0.14}, {640, 40, 40, 0.03}},
	},
	{
		"short",
		[3]lobe{{590, 26, 42, 1}, {530, 35, 35, 0.16}, {420, 20, 20, 0.07}},
		[3]lobe{{522, 36, 40, 1}, {590, 30, 30, 0.18}, {440, 25, 25, 0.14}},
		[3]lobe{{446, 24, 32, 1}, {505, 30, 30, 0.20}, {590, 30, 30, 0.02}},
	},
	{
		"flat top",
		[3]lobe{{596, 24, 28, 0.9}, {628, 28, 34, 0.6}, {540, 32, 32, 0.15}},
		[3]lobe{{518, 30, 26, 0.7}, {548, 28, 32, 0.8}, {470, 28, 28, 0.12}},
		[3]lobe{{445, 20, 24, 0.8}, {472, 22, 26, 0.7}, {525, 28, 28, 0.12}},
	},
	{
		"yellowish",
		[3]lobe{{602, 42, 40, 1}, {540, 30, 35, 0.30}, {450, 30, 30, 0.08}},
		[3]lobe{{545, 45, 45, 1}, {600, 30, 30, 0.20}, {480, 30, 30, 0.20}},
		[3]lobe{{458, 32, 30, 1}, {515, 30, 30, 0.15}, {570, 40, 40, 0.03}},
	},
}

// drawSensor draws a sensor about one of the bases.
func drawSensor(d dice) (string, [3]Spectrum) {
	base := pick(d, sensors)
	cut := edge(d.in(645, 695), -d.in(6, 16), 1)
	uv := edge(d.in(395, 420), d.in(4, 9), 1)
	lens := edge(d.in(380, 460), d.in(20, 60), d.in(0, 0.25)).plus(1, new(flat(0.75)))
	filter := cut.product(&uv).product(&lens)
	var out [3]Spectrum
	for i, set := range [][3]lobe{base.red, base.green, base.blue} {
		shift, wide := d.near(0, 4), d.inLog(0.87, 1.15)
		for j := range set {
			set[j].peak += shift
			set[j].short *= wide
			set[j].long *= wide
			if j > 0 {
				set[j].height *= d.inLog(0.6, 1.6)
			}
		}
		out[i] = lobes(set[:]...).product(&filter)
	}
	return base.name, out
}

// raw integrates a reflectance (or, with a power above 1, a light) under a lamp.
func (c *Camera) raw(r, lamp *Spectrum) (out [3]float64) {
	for i := range out {
		for k := range r {
			out[i] += r[k] * lamp[k] * c.Sensitivity[i][k]
		}
	}
	return out
}

// colourMatrix fits white-balanced raw to linear sRGB over a set of natural
// reflectances under a lamp; greys stay grey. The aim is each reflectance's
// colour under that lamp, adapted to the white of sRGB.
func (c *Camera) colourMatrix(lamp *Spectrum) colorimetry.Matrix3 {
	v := newViewer(lamp)
	white := c.raw(new(flat(1)), lamp)
	var gram [2][2]float64
	var moment [3][2]float64
	for _, r := range naturals() {
		raw := c.raw(&r, lamp)
		for i := range raw {
			raw[i] /= white[i]
		}
		aim := v.linearSRGB(&r)
		u := [2]float64{raw[0] - raw[2], raw[1] - raw[2]}
		for i := range u {
			for j := range u {
				gram[i][j] += u[i] * u[j]
			}
			for k := range aim {
				moment[k][i] += u[i] * (aim[k] - raw[2])
			}
		}
	}
	return whitePreserving(gram, moment)
}

// whitePreserving solves the fit: rows that sum to 1.
func whitePreserving(g [2][2]float64, m [3][2]float64) (out colorimetry.Matrix3) {
	det := g[0][0]*g[1][1] - g[0][1]*g[1][0]
	for k := range out {
		a := (m[k][0]*g[1][1] - m[k][1]*g[0][1]) / det
		b := (m[k][1]*g[0][0] - m[k][0]*g[1][0]) / det
		out[k] = [3]float64{a, b, 1 - a - b}
	}
	return out
}

// naturals are smooth random reflectances for fitting matrices, always the same.
func naturals() []Spectrum {
	d := newDice(1, streamCamera)
	out := make([]Spectrum, 60)
	for n := range out {
		level := d.near(-0.5, 1)
		var wave [5][2]float64
		for k := range wave {
			wave[k] = [2]float64{d.near(0, 1.2/float64(k+1)), d.in(0, 2*math.Pi)}
		}
		for i := range out[n] {
			x := level
			for k, w := range wave {
				x += w[0] * math.Cos(math.Pi*float64(k+1)*float64(i)/bands+w[1])
			}
			out[n][i] = 0.02 + 0.92*logistic(x)
		}
	}
	return out
}

// toneSize is the resolution of a tone table.
const toneSize = 4096

// toneAt is the camera's curve from linear light (0-1) to code (0-1).
func (c *Camera) toneAt(v float64) float64 {
	v = min(1, max(0, v))
	if s := c.Shoulder; s < 1 && v > s {
		v = s + (1-s)*(1-math.Exp(-2*(v-s)/(1-s)))/(1-math.Exp(-2))
	}
	y := colorimetry.SRGB.Encode(v)
	if c.Lift > 0 && c.Lift != 1 {
		y = math.Pow(y, c.Lift)
	}
	return y - c.Contrast*math.Sin(2*math.Pi*y)/(2*math.Pi)
}

// toneTable tabulates the curve, in codes up to top.
func (c *Camera) toneTable(top float64) []float32 {
	out := make([]float32, toneSize+2)
	for i := range out {
		// Even steps of the square root follow the curve closely near black.
		r := float64(i) / toneSize
		out[i] = float32(top * c.toneAt(r*r))
	}
	return out
}
