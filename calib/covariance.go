package calib

import "math"

// sources are the parts of the error between pad and curve at one place, each
// a covariance of order 3 x parts, row-major.
type sources struct {
	noise, print, gloss, light, bend []float64
}

func (s Scale) sourcesAt(t float64) sources {
	n := 3 * s.parts
	all := make([]float64, 5*n*n)
	part := func(k int) []float64 { return all[k*n*n : (k+1)*n*n : (k+1)*n*n] }
	e := sources{noise: part(0), print: part(1), gloss: part(2), light: part(3), bend: part(4)}
	i, lo, hi := s.weights(t)
	for p := range s.parts {
		for r := range 3 {
			for c := range 3 {
				e.noise[(3*p+r)*n+3*p+c] = s.pad.noise[p][3*r+c] + sq(lo)*s.nodes[i].noise[p][3*r+c] + sq(hi)*s.nodes[i+1].noise[p][3*r+c]
			}
			e.print[(3*p+r)*n+3*p+r] = sq(printingError) * (sq(lo) + sq(hi))
		}
		s.bendAt(e.bend, i, p, s.bend(t))
	}
	for r := range n {
		for c := range n {
			e.gloss[r*n+c] = sq(glossSpread) * s.pad.gloss[r] * s.pad.gloss[c]
		}
	}
	s.lightAt(i, lo, hi, e.light)
	return e
}

// bendAt fills in what is not known of part p's curve between swatches i and
// i+1: how far it bows out, and for a strip of several parts also how far this
// part has gone when the others are at their place.
func (s Scale) bendAt(out []float64, i, p int, bend float64) {
	n := 3 * s.parts
	var chord [3]float64
	length := 0.0
	for r := range 3 {
		chord[r] = s.nodes[i+1].lab[3*p+r] - s.nodes[i].lab[3*p+r]
		length += sq(chord[r])
	}
	for r := range 3 {
		for c := range 3 {
			if s.parts > 1 {
				out[(3*p+r)*n+3*p+c] += sq(paceError*bend) * chord[r] * chord[c]
			}
		}
		out[(3*p+r)*n+3*p+r] += sq(bendError*bend) * length
	}
}

// lightAt fills in the covariance that the uncertain light gives to pad minus
// curve. The same error of the light at pad and swatch cancels by itself.
func (s Scale) lightAt(i int, lo, hi float64, out []float64) {
	n, k := 3*s.parts, s.parts
	type term struct {
		at     int // row in the joint covariance
		part   int
		toLab  *[9]float64
		weight float64
	}
	terms := make([]term, 0, 3*k)
	for p := range k {
		terms = append(terms,
			term{p, p, &s.pad.toLab[p], 1},
			term{k + i*k + p, p, &s.nodes[i].toLab[p], -lo},
			term{k + (i+1)*k + p, p, &s.nodes[i+1].toLab[p], -hi})
	}
	for _, a := range terms {
		for _, b := range terms {
			w := a.weight * b.weight
			if w == 0 {
				continue
			}
			var v [3]float64
			for c := range 3 {
				v[c] = w * s.light[c].At(a.at, b.at)
			}
			for r := range 3 {
				for c := range 3 {
					out[(3*a.part+r)*n+3*b.part+c] += a.toLab[3*r]*v[0]*b.toLab[3*c] + a.toLab[3*r+1]*v[1]*b.toLab[3*c+1] + a.toLab[3*r+2]*v[2]*b.toLab[3*c+2]
				}
			}
		}
	}
}

func (e sources) total() []float64 {
	out := append([]float64(nil), e.noise...)
	for _, m := range [][]float64{e.print, e.gloss, e.light, e.bend} {
		for i, v := range m {
			out[i] += v
		}
	}
	return out
}

// cholesky factorises a symmetric matrix of order n in place (lower triangle,
// row-major) and returns the log determinant; false when it is not positive definite.
func cholesky(a []float64, n int) (logDet float64, ok bool) {
	det := 1.0
	for j := range n {
		d := a[j*n+j]
		for k := range j {
			d -= sq(a[j*n+k])
		}
		if !(d > 0) {
			return 0, false
		}
		d = math.Sqrt(d)
		a[j*n+j] = d
		det *= d
		for i := j + 1; i < n; i++ {
			v := a[i*n+j]
			for k := range j {
				v -= a[i*n+k] * a[j*n+k]
			}
			a[i*n+j] = v / d
		}
	}
	return 2 * math.Log(det), true
}

// forward solves L x = r in place for a factor from cholesky.
func forward(a []float64, n int, r []float64) {
	for i := range n {
		v := r[i]
		for k := range i {
			v -= a[i*n+k] * r[k]
		}
		r[i] = v / a[i*n+i]
	}
}

// backward solves L' x = r in place.
func backward(a []float64, n int, r []float64) {
	for i := n - 1; i >= 0; i-- {
		v := r[i]
		for k := i + 1; k < n; k++ {
			v -= a[k*n+i] * r[k]
		}
		r[i] = v / a[i*n+i]
	}
}
