package scene

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"padband/calib"
	"padband/colorimetry"
)

// The methods that the study compares with, on the same samples. All results
// are in swatch steps.

// estimate is one method's answer.
type estimate struct{ step, low, high float64 }

// plainLight is log-linear light by ordinary least squares from the white
// marks: quadratic without cross term, constant with one white mark. Fewer
// marks than terms take the least-norm solution.
func plainLight(p calib.Photo) func(colorimetry.Point) colorimetry.XYZ {
	basis := func(q colorimetry.Point) []float64 {
		x, y := q.X/float64(p.Width)-0.5, q.Y/float64(p.Height)-0.5
		if len(p.Whites) == 1 {
			return []float64{1}
		}
		return []float64{1, x, y, x * x, y * y}
	}
	n := len(basis(colorimetry.Point{}))
	a := mat.NewDense(len(p.Whites), n, nil)
	b := mat.NewDense(len(p.Whites), 3, nil)
	for i, w := range p.Whites {
		a.SetRow(i, basis(w.Sample.Place))
		b.SetRow(i, []float64{math.Log(w.Sample.XYZ.X), math.Log(w.Sample.XYZ.Y), math.Log(w.Sample.XYZ.Z)})
	}
	var svd mat.SVD
	var coef mat.Dense
	svd.Factorize(a, mat.SVDThin)
	svd.SolveTo(&coef, b, svd.Rank(1e-9))
	return func(q colorimetry.Point) colorimetry.XYZ {
		var v [3]float64
		for k, f := range basis(q) {
			for c := range v {
				v[c] += f * coef.At(k, c)
			}
		}
		return colorimetry.XYZ{X: math.Exp(v[0]), Y: math.Exp(v[1]), Z: math.Exp(v[2])}
	}
}

func plainLab(light func(colorimetry.Point) colorimetry.XYZ, parts []colorimetry.Sample) []float64 {
	var out []float64
	d := colorimetry.D50
	for _, s := range parts {
		w := light(s.Place)
		c := colorimetry.XYZ{X: s.XYZ.X / w.X * d.X, Y: s.XYZ.Y / w.Y, Z: s.XYZ.Z / w.Z * d.Z}.Lab(d)
		out = append(out, c.L, c.A, c.B)
	}
	return out
}

const plainPerStep = 64

// plain is the published plain method: the nearest place on the polyline, and
// a Student-t likelihood along it.
func plain(p calib.Photo, pad calib.Pad) estimate {
	light := plainLight(p)
	y := plainLab(light, pad.Parts)
	var nodes [][]float64
	for _, sw := range pad.Swatches {
		nodes = append(nodes, plainLab(light, sw))
	}
	top := len(nodes) - 1
	var d2, chord, bend []float64
	best := 0
	for i := range top*plainPerStep + 1 {
		t := float64(i) / plainPerStep
		k := min(int(t), top-1)
		f := t - float64(k)
		sum, length := 0.0, 0.0
		for c := range y {
			step := nodes[k+1][c] - nodes[k][c]
			sum += math.Pow(y[c]-nodes[k][c]-f*step, 2)
			length += step * step
		}
		d2, chord, bend = append(d2, sum), append(chord, math.Sqrt(length)), append(bend, 4*f*(1-f))
		if sum < d2[best] {
			best = i
		}
	}
	n := float64(3 + 3*len(pad.Parts) - 1)
	mass := make([]float64, len(d2))
	for i := range d2 {
		s2 := (3*1.5*1.5+d2[best])/n + math.Pow(0.2*chord[i]*bend[i], 2)
		mass[i] = math.Pow(1+(d2[i]-d2[best])/(s2*n), -(n+1)/2) / math.Sqrt(s2)
	}
	mass = plainBlur(mass, bend)
	return estimate{float64(best) / plainPerStep, plainQuantile(mass, 0.025), plainQuantile(mass, 0.975)}
}

func plainBlur(mass, bend []float64) []float64 {
	out := make([]float64, len(mass))
	for i, m := range mass {
		s := 0.12 * bend[i] * plainPerStep
		if s < 0.3 {
			out[i] += m
			continue
		}
		sum := 0.0
		for j := range mass {
			sum += math.Exp(-0.5 * math.Pow(float64(j-i)/s, 2))
		}
		for j := range mass {
			out[j] += m * math.Exp(-0.5*math.Pow(float64(j-i)/s, 2)) / sum
		}
	}
	return out
}

func plainQuantile(mass []float64, q float64) float64 {
	total := 0.0
	for _, m := range mass {
		total += m
	}
	sum := 0.0
	for i, m := range mass {
		sum += m
		if sum >= q*total {
			return float64(i) / plainPerStep
		}
	}
	return float64(len(mass)-1) / plainPerStep
}

// nearestSwatch is the call of a careful eye: the swatch at the least CIELAB distance.
func nearestSwatch(p calib.Photo, pad calib.Pad) float64 {
	light := plainLight(p)
	y := plainLab(light, pad.Parts)
	best, least := 0, math.Inf(1)
	for i, sw := range pad.Swatches {
		d := 0.0
		for c, v := range plainLab(light, sw) {
			d += (y[c] - v) * (y[c] - v)
		}
		if d < least {
			best, least = i, d
		}
	}
	return float64(best)
}

// inRGB is the nearest place on the polyline in coded sRGB as recorded, with
// no light taken out: what a simple program does.
func inRGB(pad calib.Pad) float64 {
	rgb := func(parts []colorimetry.Sample) []float64 {
		var out []float64
		for _, s := range parts {
			out = append(out, recordedRGB(s.XYZ)...)
		}
		return out
	}
	y := rgb(pad.Parts)
	best, least := 0.0, math.Inf(1)
	for k := range len(pad.Swatches) - 1 {
		a, b := rgb(pad.Swatches[k]), rgb(pad.Swatches[k+1])
		for i := range plainPerStep + 1 {
			f, d := float64(i)/plainPerStep, 0.0
			for c := range y {
				d += math.Pow(y[c]-a[c]-f*(b[c]-a[c]), 2)
			}
			if d < least {
				best, least = float64(k)+f, d
			}
		}
	}
	return best
}

type (
	photoSamples = calib.Photo
	padSamples   = calib.Pad
)
