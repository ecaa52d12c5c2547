package calib

import "math"

// Source is a source of error, as its code stands in reading files.
type Source string

// The sources of a budget.
const (
	SourceMismatch Source = "mismatch"
	SourcePrint    Source = "print"
	SourceLight    Source = "light"
	SourceGloss    Source = "gloss"
	SourceNoise    Source = "noise"
	SourceCurve    Source = "curve"
	SourceValues   Source = "values"
	SourceWater    Source = "water"
)

// sourceFacts has, for each source, the name that people call it by, and whether its
// error depends on where the marks lie: such an error is not shared by two readings of
// one photo.
var sourceFacts = map[Source]struct {
	name string
	own  bool
}{
	SourceMismatch: {"colour mismatch", false},
	SourcePrint:    {"printing", false},
	SourceLight:    {"light", true},
	SourceGloss:    {"gloss", false},
	SourceNoise:    {"noise and marking", true},
	SourceCurve:    {"curve between swatches", false},
	SourceValues:   {"values between swatches", false},
	SourceWater:    {"the water's colour", false},
}

// Sources are all sources of error, in the order of a budget.
func Sources() []Source {
	return []Source{SourceMismatch, SourcePrint, SourceLight, SourceGloss, SourceNoise, SourceCurve, SourceValues, SourceWater}
}

// Name is what people call the source.
func (s Source) Name() string { return sourceFacts[s].name }

// OfMarks reports whether the source's error depends on where pads, swatches and white
// areas were marked, so that two readings of one photo do not share it.
func (s Source) OfMarks() bool { return sourceFacts[s].own }

// budget gives for each source of error the standard deviation, in steps, that this
// source alone causes in the place on the scale. Each source is carried through the
// generalised least-squares estimate along the curve's tangent (JCGM 101 names the
// model; to first order this is JCGM 100, 5.2).
func (g *grid) budget(size []float64) []Contribution {
	s := g.scale
	t, e, unit := g.errors(size)
	total := e.total()
	total.plus(unit)
	w := s.gain(t, total)
	if w == nil {
		return nil
	}
	out := []Contribution{
		{SourceMismatch, unit.spread(w)},
		{SourcePrint, e.print.spread(w)},
		{SourceLight, e.light.spread(w)},
		{SourceGloss, e.gloss.spread(w)},
		{SourceNoise, e.noise.spread(w)},
		{SourceCurve, e.bend.spread(w)},
	}
	if t >= 0 && t <= s.top() {
		out = append(out, Contribution{SourceValues, s.spacing(t)})
	}
	if s.printed != nil {
		out = append(out, Contribution{SourceWater, e.water.spread(w)})
	}
	return out
}

// errors are the most probable place, and the covariances of all errors and of the
// mismatch there.
func (g *grid) errors(size []float64) (t float64, e sources, unit matrix) {
	i := g.place(size)
	t = g.step(i)
	return t, g.fixed[i], g.meanMismatch(size, i)
}

// pull is that at the most probable place.
func (g *grid) pull(size []float64) pull {
	t, e, unit := g.errors(size)
	total := e.total()
	total.plus(unit)
	return g.scale.pullAt(t, total)
}

// place is the index of the cell with the highest posterior, before the error of the
// spacing is added.
func (g *grid) place(size []float64) int {
	best, peak := 0, math.Inf(-1)
	for i := range g.prior {
		prior := math.Log(g.prior[i])
		for k := range hypotheses {
			if v := g.like[k][i] + size[k] + prior; v > peak {
				best, peak = i, v
			}
		}
	}
	return best
}

// meanMismatch is the covariance of the mismatch at a place, averaged over the
// hypotheses.
func (g *grid) meanMismatch(size []float64, i int) matrix {
	lab := g.scale.at(g.step(i))
	peak := math.Inf(-1)
	for k := range hypotheses {
		peak = math.Max(peak, g.like[k][i]+size[k])
	}
	var by [lampFamilies]float64 // mean squared size
	sum := 0.0
	for k, h := range hypotheses {
		w := math.Exp(g.like[k][i] + size[k] - peak)
		by[h.under] += w * sq(h.size)
		sum += w
	}
	out := newMatrix(3 * g.scale.parts)
	for f := range lampFamilies {
		unit := newMatrix(3 * g.scale.parts)
		g.scale.addMismatchOf(unit, lab, lamps[f].mismatch)
		for k, v := range unit.v {
			out.v[k] += by[f] / sum * v
		}
	}
	return out
}

// gain is the row w that turns a small colour error at t into steps, nil where
// the curve does not move: with the curve's tangent d and the covariance S of
// all errors, the generalised least-squares estimator w = S⁻¹d / (d'S⁻¹d).
func (s Scale) gain(t float64, total matrix) []float64 {
	i, _, _ := s.weights(t)
	speed := s.speed(t)
	tangent := make([]float64, total.n)
	for k := range tangent {
		tangent[k] = speed * (s.nodes[i+1].lab[k] - s.nodes[i].lab[k])
	}
	m := total.clone()
	if _, ok := m.cholesky(); !ok {
		return nil
	}
	w := append([]float64(nil), tangent...)
	m.forward(w)
	m.backward(w)
	info := 0.0
	for k := range w {
		info += w[k] * tangent[k]
	}
	if !(info > 1e-12) {
		return nil
	}
	for k := range w {
		w[k] /= info
	}
	return w
}

// pull turns small errors of colour at a reading's place into steps of its scale: a
// fault of the photo matters by what it does to the place, not by its size on the
// picture.
type pull struct {
	by     []float64 // the gain, see [Scale.gain]; nil where the curve does not move
	at     int       // the swatch below the place
	lo, hi float64   // weights of the swatches below and above
}

// pullAt is the pull at a place where all errors have the covariance total.
func (s Scale) pullAt(t float64, total matrix) pull {
	i, lo, hi := s.weights(t)
	return pull{s.gain(t, total), i, lo, hi}
}

// ofPart is the error in steps that a covariance of one part's colour causes.
func (p pull) ofPart(k int, c *block) float64 {
	if p.by == nil {
		return math.Inf(1)
	}
	sum := 0.0
	for a := range 3 {
		for b := range 3 {
			sum += p.by[3*k+a] * c[a][b] * p.by[3*k+b]
		}
	}
	return math.Sqrt(math.Max(0, sum))
}

// ofShade is the error in steps when the light on the pad alone is off by d of its
// natural logarithm, on each part by its own.
func (p pull) ofShade(pad colourAt, d float64) float64 {
	if p.by == nil {
		return math.Inf(1)
	}
	sum := 0.0
	for k := range pad.toLab {
		one := 0.0
		for a := range 3 {
			one += p.by[3*k+a] * pad.toLab[k][a][0]
		}
		sum += sq(one * d)
	}
	return math.Sqrt(sum)
}
