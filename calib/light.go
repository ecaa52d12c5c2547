package calib

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// The light over the photo is a Gaussian process in the logarithm of the recorded
// white. It adds up a constant, a plane, a quadratic surface and a smooth local part,
// each with a prior spread, and one offset for each further white material. With few
// white marks the surface stays near the prior (light that hardly changes, known to a
// few per cent); many marks can bend it.
//
// Three independent surfaces are fitted: ln Y, ln X/Y and ln Z/Y. The spreads
// are natural-log units over half the photo's diagonal, and are judged from
// rendered scenes of our own; no outside source.
type lightPrior struct {
	plane, quad, local float64 // spread of each spatial part
	material           float64 // spread of a material's offset
	noise              float64 // how far one white mark strays from the surface
}

var lightPriors = [3]lightPrior{
	{plane: 0.10, quad: 0.06, local: 0.012, material: 0.12, noise: 0.006},
	{plane: 0.010, quad: 0.006, local: 0.002, material: 0.015, noise: 0.0015},
	{plane: 0.030, quad: 0.018, local: 0.005, material: 0.05, noise: 0.004},
}

// localReach is the distance over which the local part changes, in half diagonals.
const localReach = 0.3

// unevenness holds pairs of factors: one for all spatial spreads, one more for the
// local part. The evidence of the white marks chooses a pair: even, ordinary or steep
// light, each smooth or with shadows.
var unevenness = [][2]float64{{0.35, 1}, {1, 1}, {2.5, 1}, {6, 1}, {1, 4}, {1, 16}, {2.5, 8}}

// Light is the light over one photo.
type Light struct {
	centre   colorimetry.Point
	half     float64 // half the photo's diagonal, pixels
	surfaces [3]surface
	// Assumed is true when the photo has no white mark and the light is only guessed.
	Assumed bool
	// Residuals are each white's distance from the smooth part of the fitted
	// surface, in natural log units of Y, in the order the marked whites were given.
	Residuals []float64
	slant     slant
}

// surface is one fitted Gaussian process.
type surface struct {
	prior lightPrior
	scale float64
	lit
	weight []float64 // K^-1 (y - mean)
	mean   float64
	chol   mat.Cholesky
	wide   float64 // variance added everywhere when the light is only assumed
}

// FitLight fits the light to the whites' samples, the marked ones first and then those found. width and height are the
// photo's, in pixels. Without white marks the light is taken as even and equal to the
// given guess, and [Light.Assumed] is set.
func FitLight(whites []White, width, height int, guess colorimetry.XYZ) Light {
	l := Light{
		centre: colorimetry.Point{X: float64(width) / 2, Y: float64(height) / 2},
		half:   math.Hypot(float64(width), float64(height)) / 2,
	}
	if len(whites) == 0 {
		l.Assumed = true
		for c, v := range logRatios(guess) {
			l.surfaces[c] = surface{prior: lightPriors[c], scale: 1, mean: v, wide: sq(8 * lightPriors[c].plane)}
		}
		return l
	}
	all := whites
	whites = unburnt(whites)
	places := make([]colorimetry.Point, len(whites))
	for i, w := range whites {
		places[i] = l.normal(w.Sample.Place)
	}
	at := lit{places, materials(whites), make([]bool, len(whites))}
	for i, w := range whites {
		at.found[i] = w.Found
	}
	for c := range l.surfaces {
		y := make([]float64, len(whites))
		noise := make([]float64, len(whites))
		for i, w := range whites {
			y[i] = logRatios(w.Sample.XYZ)[c]
			noise[i] = logNoise(w.Sample, c)
		}
		l.surfaces[c] = fitSurface(lightPriors[c], at, y, noise)
		if c == 0 {
			l.Residuals = spread(l.surfaces[0].bumps(y)[:at.marks()], markedOf(all))
		}
	}
	return l
}

// materials numbers the materials by how many marks each has, 0 the commonest. Found
// whites do not count.
func materials(whites []White) []int {
	count := map[string]int{}
	var names []string
	for _, w := range markedOf(whites) {
		if count[w.Material] == 0 {
			names = append(names, w.Material)
		}
		count[w.Material]++
	}
	sort.SliceStable(names, func(i, j int) bool { return count[names[i]] > count[names[j]] })
	number := map[string]int{}
	for i, n := range names {
		number[n] = i
	}
	out := make([]int, len(whites))
	for i, w := range whites {
		out[i] = number[w.Material]
	}
	return out
}

// logRatios returns ln Y, ln X/Y and ln Z/Y relative to D50.
func logRatios(c colorimetry.XYZ) [3]float64 {
	x, y, z := floor(c.X/colorimetry.D50.X), floor(c.Y), floor(c.Z/colorimetry.D50.Z)
	return [3]float64{math.Log(y), math.Log(x / y), math.Log(z / y)}
}

// floor keeps a linear value positive for its logarithm; 1e-4 is under one code of an 8-bit photo.
func floor(v float64) float64 { return math.Max(v, 1e-4) }

// sq is the square.
func sq(x float64) float64 { return x * x }

// clippedLight is how far, in natural log units, the light at a burnt-out white may
// lie from what was recorded.
const clippedLight = 0.3

// logNoise is the variance of one white's logarithm for surface c, as far as its
// pixels cause it.
func logNoise(s colorimetry.Sample, c int) float64 {
	n := math.Max(s.Effective, 1)
	y := s.Cov[1][1]/sq(floor(s.XYZ.Y))/n + sq(clippedLight*s.Clipped)
	switch c {
	case 1:
		return math.Max(0, s.Cov[0][0]/sq(floor(s.XYZ.X))/n+y-2*s.Cov[0][1]/(floor(s.XYZ.X)*floor(s.XYZ.Y))/n)
	case 2:
		return math.Max(0, s.Cov[2][2]/sq(floor(s.XYZ.Z))/n+y-2*s.Cov[1][2]/(floor(s.XYZ.Z)*floor(s.XYZ.Y))/n)
	}
	return y
}

// normal converts a place to half diagonals from the photo's centre.
func (l Light) normal(p colorimetry.Point) colorimetry.Point {
	return colorimetry.Point{X: (p.X - l.centre.X) / l.half, Y: (p.Y - l.centre.Y) / l.half}
}

// kernel is the prior covariance of the surface between two normalised places p
// and q, with u the unevenness and s the spreads of [lightPriors]:
//
//	1 + u² (s_plane² p·q + s_quad² (p_x²q_x² + p_y²q_y² + p_x p_y q_x q_y)
//	        + s_local² exp(-|p - q|² / 2 reach²))
//
// The 1 is a constant that is hardly known beforehand.
func (s *surface) kernel(p, q colorimetry.Point) float64 {
	k := s.prior
	plane := p.X*q.X + p.Y*q.Y
	quad := sq(p.X)*sq(q.X) + sq(p.Y)*sq(q.Y) + p.X*p.Y*q.X*q.Y
	d2 := (sq(p.X-q.X) + sq(p.Y-q.Y)) / sq(localReach)
	return 1 + sq(s.scale)*(sq(k.plane)*plane+sq(k.quad)*quad+sq(k.local)*math.Exp(-d2/2)) + s.wide
}

// fitSurface fits one surface robustly: a mark that strays gets a larger noise
// (Student-t weights with 4 degrees of freedom), and of all choices of unevenness the
// one with the highest evidence is taken. Found whites cannot make the light smoother
// than the marked ones show it: they were taken because they continue it smoothly.
func fitSurface(prior lightPrior, whites lit, y, noise []float64) surface {
	n := whites.marks()
	best, choice := likeliest(prior, whites.first(n), y[:n], noise[:n], [2]float64{})
	if len(y) > n {
		best, _ = likeliest(prior, whites, y, noise, choice)
	}
	return best
}

// likeliest is the surface with the highest evidence of all choices of unevenness that
// are at least so wide, and its choice.
func likeliest(prior lightPrior, whites lit, y, noise []float64, least [2]float64) (best surface, chosen [2]float64) {
	bestEvidence := math.Inf(-1)
	mean := median(y)
	for _, choice := range unevenness {
		if choice[0] < least[0] || choice[1] < least[1] {
			continue
		}
		s := surface{prior: prior, scale: choice[0], lit: whites, mean: mean}
		s.prior.local *= choice[1]
		evidence := s.fit(y, noise)
		// An even light is expected first: each wider choice starts half as likely.
		evidence -= math.Abs(math.Log(choice[0]))*0.7 + math.Log(choice[1])
		if evidence > bestEvidence {
			best, chosen, bestEvidence = s, choice, evidence
		}
	}
	return best, chosen
}

// fit solves for the surface with weights that the residuals choose, and returns the
// log evidence.
func (s *surface) fit(y, noise []float64) (evidence float64) {
	extra := make([]float64, len(y))
	for i := range extra {
		extra[i] = 1
	}
	for range 8 {
		evidence = s.solve(y, noise, extra)
		s.reweigh(y, noise, extra)
	}
	return evidence
}

// solve factorises the marks' covariance K and returns the log evidence, up to a
// constant: -½ r'K⁻¹r - ½ ln |K| with r the marks less their mean, and the prior of
// their weights (Gaussian process regression; from memory).
func (s *surface) solve(y, noise, extra []float64) float64 {
	n := len(y)
	k := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := s.kernel(s.places[i], s.places[j])
			if s.other[i] == s.other[j] && s.other[i] > 0 {
				v += sq(s.prior.material)
			}
			if s.found[i] && s.found[j] {
				v += sq(foundOffset * s.prior.noise)
			}
			if i == j {
				v += sq(s.own(i))*extra[i] + noise[i]
			}
			k.SetSym(i, j, v)
		}
	}
	if !s.chol.Factorize(k) {
		return math.Inf(-1)
	}
	d := mat.NewVecDense(n, nil)
	for i := range n {
		d.SetVec(i, y[i]-s.mean)
	}
	var w mat.VecDense
	_ = s.chol.SolveVecTo(&w, d) // a factorised matrix always solves
	s.weight = append(s.weight[:0], w.RawVector().Data...)
	evidence := -0.5*mat.Dot(d, &w) - 0.5*s.chol.LogDet()
	for i := range n { // the Student-t prior of the weights
		evidence -= 2 * (math.Log(extra[i]) + 1/extra[i])
	}
	return evidence
}

// reweigh sets each mark's noise multiple from its residual.
func (s *surface) reweigh(y, noise, extra []float64) {
	const dof = 4
	for i, r := range s.residuals(y) {
		v := sq(s.own(i)) + noise[i]
		extra[i] = (dof + sq(r)/v) / (dof + 1)
	}
}

// residuals are the marks' distances from the fitted surface.
func (s *surface) residuals(y []float64) []float64 {
	out := make([]float64, len(y))
	for i, p := range s.places {
		out[i] = y[i] - s.at(p) - s.offset(i)
	}
	return out
}

// bumps are the marks' distances from the plane and quadratic part alone.
func (s *surface) bumps(y []float64) []float64 {
	smooth := *s
	smooth.prior.local = 0
	return smooth.residuals(y)
}

// offset is the fitted offset of mark i's material, and of all found whites where it is one.
func (s *surface) offset(i int) float64 {
	kind, all := 0.0, 0.0
	for j, w := range s.weight {
		if s.other[j] == s.other[i] && s.other[i] > 0 {
			kind += w
		}
		if s.found[i] && s.found[j] {
			all += w
		}
	}
	return kind*sq(s.prior.material) + all*sq(foundOffset*s.prior.noise)
}

// at is the fitted surface at a normalised place.
func (s *surface) at(p colorimetry.Point) float64 {
	v := s.mean
	for i, w := range s.weight {
		v += w * s.kernel(s.places[i], p)
	}
	return v
}

// cov is the posterior covariance of the surface between places.
func (s *surface) cov(places []colorimetry.Point) *mat.SymDense {
	n, m := len(places), len(s.places)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, s.kernel(places[i], places[j]))
		}
	}
	if m == 0 {
		return out
	}
	cross := mat.NewDense(m, n, nil)
	for i := range m {
		for j := range n {
			cross.Set(i, j, s.kernel(s.places[i], places[j]))
		}
	}
	var solved mat.Dense
	_ = s.chol.SolveTo(&solved, cross)
	var down mat.Dense
	down.Mul(cross.T(), &solved)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, out.At(i, j)-down.At(i, j))
		}
	}
	return out
}

// At returns the white as the photo recorded it at a place, relative to D50.
func (l Light) At(p colorimetry.Point) colorimetry.XYZ {
	q := l.normal(p)
	y := math.Exp(l.surfaces[0].at(q) + l.slant.at(q))
	return colorimetry.XYZ{
		X: colorimetry.D50.X * y * math.Exp(l.surfaces[1].at(q)),
		Y: y,
		Z: colorimetry.D50.Z * y * math.Exp(l.surfaces[2].at(q)),
	}
}

// unexplained returns a sample's change of XYZ per pixel along x and y, without the
// part that the light's own change explains.
func (l Light) unexplained(s colorimetry.Sample) [2]colorimetry.XYZ {
	const reach = 4 // pixels to either side
	out := s.Slope
	for k, d := range []colorimetry.Point{{X: reach}, {Y: reach}} {
		a := l.At(colorimetry.Point{X: s.Place.X - d.X, Y: s.Place.Y - d.Y})
		b := l.At(colorimetry.Point{X: s.Place.X + d.X, Y: s.Place.Y + d.Y})
		out[k].X -= s.XYZ.X * math.Log(b.X/a.X) / (2 * reach)
		out[k].Y -= s.XYZ.Y * math.Log(b.Y/a.Y) / (2 * reach)
		out[k].Z -= s.XYZ.Z * math.Log(b.Z/a.Z) / (2 * reach)
	}
	return out
}

// Relative returns a sample's colour as it would be if the white at its place
// were D50 with Y = 1.
func (l Light) Relative(s colorimetry.Sample) colorimetry.XYZ {
	w := l.At(s.Place)
	return colorimetry.XYZ{
		X: s.XYZ.X / w.X * colorimetry.D50.X,
		Y: s.XYZ.Y / w.Y,
		Z: s.XYZ.Z / w.Z * colorimetry.D50.Z,
	}
}

// Cov returns the joint posterior covariance of the light at the places, as
// three matrices for ln Y, ln X/Y and ln Z/Y.
func (l Light) Cov(places []colorimetry.Point) [3]*mat.SymDense {
	q := make([]colorimetry.Point, len(places))
	for i, p := range places {
		q[i] = l.normal(p)
	}
	var out [3]*mat.SymDense
	for c := range l.surfaces {
		out[c] = l.surfaces[c].cov(q)
	}
	l.slant.addTo(out[0], q)
	return out
}
