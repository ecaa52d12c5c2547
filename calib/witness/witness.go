// Package witness says whether a chart's swatches look in a photo as they looked once in
// daylight: the same print in the same light may look other through another camera, and
// looks other in another way under a lamp, faded, or behind a filter. Start at [Compare].
package witness

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// Swatch is one swatch, or one part of it, as it looked then and as it looks now: CIELAB
// under D50 relative to the white beside it.
type Swatch struct{ Then, Now colorimetry.Lab }

// Seen is what a photo shows of a chart that is remembered.
type Seen struct {
	Swatches []Swatch
	White    colorimetry.XYZ // as recorded at the swatches, any brightness; its colour tells of the lamp too
	// SameCamera is true where the photo is known to be by the camera of the photo that
	// is remembered: two photos by one camera differ less.
	SameCamera bool
}

// Kind is what explains best how the swatches look.
type Kind int

// The kinds.
const (
	AsThen     Kind = iota // daylight, through this camera or another
	OtherLight             // a lamp that shows the print otherwise
	OtherPrint             // another lot's print or a faded one
	Altered                // a filter, or another chart
	kinds
)

// Verdict is what a photo's swatches tell.
type Verdict struct {
	Kind Kind
	// Odds is the logarithm of the odds of all other kinds together against [AsThen],
	// and Most the odds above which one of them is named.
	Odds, Most float64
	// Apart is the mean difference (CIE76) of the swatches then and now. It is large
	// between two cameras too, and no verdict rests on it.
	Apart float64
}

// Figures of the comparison, fitted with the tables.
const (
	tail      = 8   // degrees of freedom of the Student t
	furthest  = 40  // a change of L*, a* or b* counts as no larger
	vivid     = 40  // the chroma at which swatches of one colour differ twice as much as greys, variance
	whiteUnit = 30  // of the logarithms of X/Y and Z/Y of the recorded white
	whiteSure = .05 // variance of the white's colour, of that of a swatch
	mostOdds  = 3.6 // above these 3 in 100 photos by daylight and another camera were named
	mostSame  = 2.6 // the same, by the camera that is remembered
)

// Compare says what explains best how the swatches of a photo look. Each kind is a
// normal distribution (with the tails of a Student t) of the change of the swatches'
// colours: smooth in the colour, by coefficients of depth, a* and b* that the kind
// expects, and a rest that each swatch has for itself.
func Compare(s Seen) Verdict {
	v := Verdict{Most: mostOdds}
	camera := &otherCamera
	if s.SameCamera {
		camera, v.Most = &sameCamera, mostSame
	}
	if len(s.Swatches) == 0 {
		return v
	}
	m := gather(s)
	v.Apart = m.apart / float64(len(s.Swatches))
	then := m.likelihood(camera, &change{})
	var all [kinds]float64
	for k := range all {
		all[k] = math.Inf(-1)
	}
	for i := range changes {
		c := &changes[i]
		all[c.kind] = logAdd(all[c.kind], c.share+m.likelihood(camera, c))
	}
	all[Altered] = logAdd(all[Altered], wildShare+m.likelihood(&anything, &change{}))
	best, sum := OtherLight, math.Inf(-1)
	for k := OtherLight; k < kinds; k++ {
		if all[k] > all[best] {
			best = k
		}
		sum = logAdd(sum, all[k])
	}
	if v.Odds = sum - then; v.Odds > v.Most {
		v.Kind = best
	}
	return v
}

// moments are sums over the swatches, each weighted by how much it tells: of products of
// the four features, of features and changes, and of squared changes.
type moments struct {
	ff    [4][4]float64
	fy    [4][3]float64
	yy    [3]float64
	white [2]float64
	n     int     // figures seen
	logs  float64 // sum of the logarithms of the weights' inverses
	apart float64
}

// gather adds the swatches up.
func gather(s Seen) (m moments) {
	m.n = 3*len(s.Swatches) + 2
	w := colorimetry.D50
	if s.White.Y > 0 && s.White.X > 0 && s.White.Z > 0 {
		m.white = [2]float64{whiteUnit * math.Log(s.White.X/s.White.Y/w.X), whiteUnit * math.Log(s.White.Z/s.White.Y/w.Z)}
	}
	for _, one := range s.Swatches {
		a, b := one.Then, one.Now
		f := [4]float64{0.3, (100 - a.L) / 50, a.A / 40, a.B / 40}
		y := [3]float64{near(b.L - a.L), near(b.A - a.A), near(b.B - a.B)}
		spread := 1 + (a.A*a.A+a.B*a.B)/(vivid*vivid)
		m.logs += 3 * math.Log(spread)
		m.apart += colorimetry.DeltaE76(a, b)
		for i := range f {
			for j := range f {
				m.ff[i][j] += f[i] * f[j] / spread
			}
			for c := range y {
				m.fy[i][c] += f[i] * y[c] / spread
			}
		}
		for c := range y {
			m.yy[c] += y[c] * y[c] / spread
		}
	}
	return m
}

func near(v float64) float64 { return math.Max(-furthest, math.Min(furthest, v)) }

// likelihood is the logarithm of the probability density of the changes under one kind,
// but for a term that all kinds share. With coefficients B z, z standard normal, over the
// features X, and W⁻¹ the variances of the rest, the covariance is X B B' X' + W⁻¹; its
// inverse and determinant follow from I + B' X' W X B (Woodbury).
func (m *moments) likelihood(c *camera, by *change) float64 {
	var noise [3]float64
	for i := range noise {
		noise[i] = c.rest[i] + by.rest[i]
	}
	logDet := m.logs + math.Log(whiteSure*noise[1]) + math.Log(whiteSure*noise[2])
	square := 0.0
	for ch, v := range noise {
		logDet += float64(m.n/3) * math.Log(v)
		square += m.yy[ch] / v
	}
	for k, v := range m.white {
		square += v * v / (whiteSure * noise[1+k])
	}
	seen, meant := m.seen(&noise), m.weigh(&by.mean, &noise)
	for i, x := range by.mean {
		square += x * (meant[i] - 2*seen[i])
		seen[i] -= meant[i]
	}
	explained, more, ok := m.explained(slices.Concat(c.roots, by.roots), &seen, &noise)
	if !ok {
		return math.Inf(-1)
	}
	return -0.5*(logDet+more) - 0.5*float64(tail+m.n)*math.Log1p(math.Max(0, square-explained)/tail)
}

// explained is how much of the squared changes the coefficients explain, and what they
// add to the logarithm of the determinant.
func (m *moments) explained(roots [][coefficients]float64, seen *[coefficients]float64, noise *[3]float64) (sum, logDet float64, ok bool) {
	if len(roots) == 0 {
		return 0, 0, true
	}
	g, h := mat.NewSymDense(len(roots), nil), mat.NewVecDense(len(roots), nil)
	for i := range roots {
		w := m.weigh(&roots[i], noise)
		h.SetVec(i, dot(&roots[i], seen))
		for j := range i + 1 {
			g.SetSym(i, j, dot(&roots[j], &w))
		}
		g.SetSym(i, i, g.At(i, i)+1)
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(g) || chol.SolveVecTo(&x, h) != nil {
		return 0, 0, false
	}
	return mat.Dot(&x, h), chol.LogDet(), true
}

// weigh is X' W X times coefficients.
func (m *moments) weigh(x *[coefficients]float64, noise *[3]float64) (out [coefficients]float64) {
	for i := range 4 {
		for j := range 4 {
			for ch, v := range noise {
				out[3*i+ch] += m.ff[i][j] * x[3*j+ch] / v
			}
		}
	}
	for k := range m.white {
		out[12+k] = x[12+k] / (whiteSure * noise[1+k])
	}
	return out
}

// seen is X' W times the changes.
func (m *moments) seen(noise *[3]float64) (out [coefficients]float64) {
	for i := range 4 {
		for ch, v := range noise {
			out[3*i+ch] = m.fy[i][ch] / v
		}
	}
	for k, v := range m.white {
		out[12+k] = v / (whiteSure * noise[1+k])
	}
	return out
}

func dot(a, b *[coefficients]float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// logAdd is the logarithm of the sum of two numbers given by their logarithms.
func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}
