package calib

import "math"

// sources are the parts of the error between pad and curve at one place of the
// scale, each the covariance of the difference in CIELAB, 3 rows a part.
type sources struct {
	noise, print, gloss, light, bend matrix
	water                            matrix // empty without a stain
}

// sourcesAt gives the covariances at a place t between two swatches, whose weights
// there are lo and hi. C is a covariance of pixels, s a standard deviation of
// errors.go, and g the derivative of the pad's colour by its gloss:
//
//	noise  C_pad + lo² C_below + hi² C_above
//	print  s² (lo² + hi²)      each swatch is printed on its own
//	gloss  s² g g'
//	light  J C J'              J: derivative of pad minus curve by the light
//	bend   see bendAt
//	water  see waterAt
//
// (the law of propagation of uncertainty, JCGM 100:2008, 5.2.2, in matrices).
func (s Scale) sourcesAt(t float64) sources {
	n := 3 * s.parts
	all := make([]float64, 5*n*n)
	part := func(k int) matrix { return matrix{n, all[k*n*n : (k+1)*n*n : (k+1)*n*n]} }
	e := sources{noise: part(0), print: part(1), gloss: part(2), light: part(3), bend: part(4)}
	i, lo, hi := s.weights(t)
	for p := range s.parts {
		noise, printed, bend := s.pad.noise[p], block{}, s.bendOf(i, p, s.bend(t))
		noise.plus(sq(lo), &s.nodes[i].noise[p])
		noise.plus(sq(hi), &s.nodes[i+1].noise[p])
		printed.round(sq(printingError) * (sq(lo) + sq(hi)))
		e.noise.add(p, p, &noise)
		e.print.add(p, p, &printed)
		e.bend.add(p, p, &bend)
	}
	for r := range n {
		for c := range n {
			e.gloss.v[r*n+c] += sq(glossSpread) * s.pad.gloss[r] * s.pad.gloss[c]
		}
	}
	s.lightAt(i, lo, hi, e.light)
	e.water = s.waterAt(i, lo, hi)
	return e
}

// bendOf is the covariance of what is unknown of part p's curve between swatches i and
// i+1. At the share f of the way, with the chord d between the two and b = 4f(1-f),
// the curve may bow out by the variance (bendError b |d|)² in every direction. One
// part of several may also be ahead of the others or behind them: this adds
// (paceError b)² d d'.
func (s Scale) bendOf(i, p int, bend float64) (out block) {
	var chord [3]float64
	length := 0.0
	for r := range 3 {
		chord[r] = s.nodes[i+1].lab[3*p+r] - s.nodes[i].lab[3*p+r]
		length += sq(chord[r])
	}
	if s.parts > 1 {
		out.outer(sq(paceError*bend), &chord)
	}
	out.round(sq(bendError*bend) * length)
	if s.parts == 1 {
		turn := s.turnAt(i)
		out.outer(sq(turnError*bend), &turn)
	}
	return out
}

// turnAt is the turn of the curve over the interval between swatches i and i+1: the mean
// of the second differences at both, of the colours of one part.
func (s Scale) turnAt(i int) (out [3]float64) {
	n := 0.0
	for _, k := range []int{i, i + 1} {
		if k == 0 || k == len(s.nodes)-1 {
			continue
		}
		n++
		for r := range out {
			out[r] += s.nodes[k-1].lab[r] - 2*s.nodes[k].lab[r] + s.nodes[k+1].lab[r]
		}
	}
	for r := range out {
		out[r] /= math.Max(n, 1)
	}
	return out
}

// lightAt fills in the covariance that the uncertain light gives to pad minus curve.
// An error of the light that pad and swatch share cancels by itself.
func (s Scale) lightAt(i int, lo, hi float64, out matrix) {
	k := s.parts
	type term struct {
		at     int // row in the joint covariance
		part   int
		toLab  *block
		weight float64
	}
	terms := make([]term, 0, 3*k)
	for p := range k {
		terms = append(terms,
			term{p, p, &s.pad.toLab[p], 1},
			term{k + i*k + p, p, &s.nodes[i].toLab[p], -lo},
			term{k + (i+1)*k + p, p, &s.nodes[i+1].toLab[p], -hi})
	}
	var both block
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
			joint(&both, a.toLab, &v, b.toLab)
			out.add(a.part, b.part, &both)
		}
	}
}

// joint puts A diag(v) B' into out, the covariance in CIELAB of two colours whose light
// has the covariances v of ln Y, ln X/Y and ln Z/Y.
func joint(out, a *block, v *[3]float64, b *block) {
	for r := range 3 {
		for c := range 3 {
			out[r][c] = a[r][0]*v[0]*b[c][0] + a[r][1]*v[1]*b[c][1] + a[r][2]*v[2]*b[c][2]
		}
	}
}

// total is the covariance of all sources together.
func (e sources) total() matrix {
	out := e.noise.clone()
	for _, m := range []matrix{e.print, e.gloss, e.light, e.bend, e.water} {
		out.plus(m)
	}
	return out
}
