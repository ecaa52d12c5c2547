package calib

import (
	"math"

	"padband/charts"
)

// PerStep is how many cells a [Posterior] has in one swatch step.
const PerStep = 24

// priorReach is how many steps the prior reaches past an end of the chart.
// priorDensity is its density there, that on the chart being 1 (no outside source: see
// errors.go). A chart that starts at 0 has no prior below it.
const priorReach, priorDensity = 1.0, 0.4

// Posterior is the probability of each place on a scale, in equal cells. Steps
// count from 0 at the lowest swatch; cells below 0 and above Top lie past the
// chart's ends.
type Posterior struct {
	First float64   // centre of the first cell, in steps
	Mass  []float64 // sums to 1
	Top   float64   // the highest swatch, in steps
}

// Step returns the centre of cell i.
func (p Posterior) Step(i int) float64 { return p.First + float64(i)/PerStep }

// Quantile returns the place below which the probability q (0-1) lies.
func (p Posterior) Quantile(q float64) float64 {
	sum := 0.0
	for i, m := range p.Mass {
		if sum+m >= q && m > 0 {
			return p.Step(i) + ((q-sum)/m-0.5)/PerStep
		}
		sum += m
	}
	return p.Step(len(p.Mass) - 1)
}

// Beyond returns the probability below the lowest and above the highest swatch.
func (p Posterior) Beyond() (below, above float64) {
	for i, m := range p.Mass {
		switch t := p.Step(i); {
		case t < 0:
			below += m
		case t > p.Top:
			above += m
		}
	}
	return below, above
}

// Spread returns the standard deviation in steps.
func (p Posterior) Spread() float64 {
	var mean, v float64
	for i, m := range p.Mass {
		mean += m * p.Step(i)
	}
	for i, m := range p.Mass {
		v += m * sq(p.Step(i)-mean)
	}
	return math.Sqrt(v)
}

// Cell returns the two ends of cell i, in steps.
func (p Posterior) Cell(i int) (low, high float64) {
	return p.Step(i) - 0.5/PerStep, p.Step(i) + 0.5/PerStep
}

// Over returns the probability (0-1) of a place above step t. Within a cell it
// runs evenly, which errs by less than (cell/spread)^2/30 of probability.
func (p Posterior) Over(t float64) float64 {
	sum := 0.0
	for i, m := range p.Mass {
		low, high := p.Cell(i)
		if i == 0 && p.First >= 0 {
			low = 0 // a chart that starts at 0 has no room below it
		}
		sum += m * math.Max(0, math.Min(1, (high-t)/(high-low)))
	}
	return math.Min(1, sum)
}

// Blur returns the posterior with a normal error of the given standard
// deviation, in steps, added at each place. What would pass below a chart that
// starts at zero stays at its lowest swatch.
func (p Posterior) Blur(sd func(step float64) float64) Posterior {
	out := Posterior{First: p.First, Top: p.Top, Mass: make([]float64, len(p.Mass))}
	var shares []float64
	last := math.NaN()
	for i, m := range p.Mass {
		cells := sd(p.Step(i)) * PerStep
		if m < 1e-12 || cells < 0.05 {
			out.Mass[i] += m
			continue
		}
		if cells != last {
			shares, last = normalCells(cells), cells
		}
		reach := len(shares) / 2
		for d, share := range shares {
			// What falls off an end is kept in the end's cell.
			out.Mass[min(max(i+d-reach, 0), len(out.Mass)-1)] += m * share
		}
	}
	return out
}

// normalCells is the normal distribution with a standard deviation of s cells, given
// as the shares of the cells on both sides of the middle one, to four standard
// deviations.
func normalCells(s float64) []float64 {
	reach := int(math.Ceil(4*s)) + 1
	out := make([]float64, 2*reach+1)
	before := 0.0
	for k := range out {
		after := 1.0
		if k < 2*reach {
			after = 0.5 * math.Erfc(-(float64(k-reach)+0.5)/(s*math.Sqrt2))
		}
		out[k], before = after-before, after
	}
	return out
}

// grid holds the places of one pad, with the likelihood of each place for each size of
// mismatch.
type grid struct {
	scale Scale
	first float64
	prior []float64   // for each place; sums to 1
	like  [][]float64 // log likelihood: size, place
	fixed []sources   // for each place
	near  float64     // least squared Mahalanobis distance at unit size, per dimension
}

func newGrid(s Scale) grid {
	g := grid{scale: s}
	zero := s.analyte.Swatches[0].Value == 0 && s.analyte.Unit != "pH"
	if !zero {
		g.first = -priorReach
	}
	n := int(math.Round((s.top()+priorReach-g.first)*PerStep)) + 1
	sum := 0.0
	for i := range n {
		t := g.step(i)
		w := 1.0
		if t < 0 || t > s.top() {
			w = priorDensity
		}
		g.prior = append(g.prior, w)
		g.fixed = append(g.fixed, s.sourcesAt(t))
		sum += w
	}
	for i := range g.prior {
		g.prior[i] /= sum
	}
	g.like = make([][]float64, len(hypotheses))
	for k := range hypotheses {
		g.like[k] = make([]float64, n)
	}
	g.near = math.Inf(1)
	for i := range n {
		g.fill(i)
	}
	return g
}

func (g *grid) step(i int) float64 { return g.first + float64(i)/PerStep }

// fill computes the log likelihood of place i for each size.
func (g *grid) fill(i int) {
	n := 3 * g.scale.parts
	lab := g.scale.at(g.step(i))
	fixed := g.fixed[i].total()
	unit := newMatrix(n)
	g.scale.addMismatch(unit, lab)
	m := newMatrix(n)
	r := make([]float64, n)
	struck := g.struck(fixed, unit, lab)
	single := n == 3 && g.likelihoods(fixed, lab, struck, i)
	for k, size := range sizes {
		if single && size != 1 {
			continue
		}
		for j := range m.v {
			m.v[j] = fixed.v[j] + sq(size)*unit.v[j]
		}
		d2, like := g.distance(m, r, lab)
		if size == 1 && d2/float64(n) < g.near {
			g.near = d2 / float64(n)
		}
		for f := 0; f < int(lampFamilies) && !single; f++ {
			g.like[f*len(sizes)+k][i] = logAdd(math.Log(1-contaminated)+like, math.Log(contaminated)+struck)
		}
	}
}

// struck is the log likelihood of a colour for a pad that glare or shadow
// covers as a whole.
func (g *grid) struck(fixed, unit matrix, lab []float64) float64 {
	n := len(lab)
	m := fixed.clone()
	m.plus(unit)
	glare, pad := g.scale.pad.gloss, g.scale.pad.toLab
	for r := range n {
		for c := range n {
			shade := sq(shadeSpread) * pad[r/3][r%3][0] * pad[c/3][c%3][0] // by ln Y
			m.v[r*n+c] += sq(glareSpread)*glare[r]*glare[c] + shade
		}
	}
	_, like := g.distance(m, make([]float64, n), lab)
	return like
}

// distance returns the squared Mahalanobis distance of the pad from a colour
// and its log likelihood. m is overwritten.
func (g *grid) distance(m matrix, r, lab []float64) (d2, like float64) {
	n := len(lab)
	logDet, ok := m.cholesky()
	if !ok {
		return math.Inf(1), math.Inf(-1)
	}
	for j := range r {
		r[j] = g.scale.pad.lab[j] - lab[j]
	}
	m.forward(r)
	for _, v := range r {
		d2 += v * v
	}
	like = studentT(d2, logDet, n, tailDOF)
	if g.scale.parts > 1 {
		like *= tempering
	}
	return d2, like
}

// logAdd is ln(eᵃ + eᵇ) without overflow.
func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// studentT is the log density, up to a constant, of an n-dimensional Student t
// with dof degrees of freedom, at the squared Mahalanobis distance d2 from its
// middle; its scale matrix S has the log determinant logDet:
//
//	-½ ln |S| - ½ (dof + n) ln(1 + d2/dof)
//
// (the multivariate t distribution; from memory).
func studentT(d2, logDet float64, n int, dof float64) float64 {
	return -0.5*logDet - 0.5*(dof+float64(n))*math.Log1p(d2/dof)
}

// evidence is the log probability of the pad's colour for each size of mismatch:
// over all places, the prior times the likelihood.
func (g *grid) evidence() []float64 {
	out := make([]float64, len(hypotheses))
	for k := range hypotheses {
		out[k] = logSumExp(g.like[k], g.prior)
	}
	return out
}

// logSumExp is ln Σ weight e^log without overflow.
func logSumExp(log, weight []float64) float64 {
	peak := math.Inf(-1)
	for _, v := range log {
		peak = math.Max(peak, v)
	}
	sum := 0.0
	for i, v := range log {
		sum += weight[i] * math.Exp(v-peak)
	}
	return peak + math.Log(sum)
}

// posterior averages the places over the sizes k, whose log probabilities are given,
// p(t) ∝ prior(t) Σ p(k) likelihood(t, k). It then adds the error of how values run
// between swatches.
func (g *grid) posterior(size []float64) Posterior {
	p := Posterior{First: g.first, Top: g.scale.top(), Mass: make([]float64, len(g.prior))}
	peak := math.Inf(-1)
	for k := range hypotheses {
		for i := range g.prior {
			peak = math.Max(peak, g.like[k][i]+size[k])
		}
	}
	sum := 0.0
	for i, w := range g.prior {
		for k := range hypotheses {
			p.Mass[i] += w * math.Exp(g.like[k][i]+size[k]-peak)
		}
		sum += p.Mass[i]
	}
	for i := range p.Mass {
		p.Mass[i] /= sum
	}
	return p.Blur(func(t float64) float64 {
		if t < 0 || t > g.scale.top() {
			return 0
		}
		return g.scale.spacing(t)
	})
}

// presence gives the probability that a pad shows each of its two swatches, by the
// same likelihood.
func (g *grid) presence(size []float64) (no, yes float64) {
	at := func(t float64) float64 {
		i := int(math.Round((t - g.first) * PerStep))
		v := make([]float64, len(hypotheses))
		one := make([]float64, len(hypotheses))
		for k := range hypotheses {
			v[k], one[k] = g.like[k][i]+size[k], 1
		}
		return logSumExp(v, one)
	}
	a, b := at(0), at(1)
	yes = 1 / (1 + math.Exp(a-b))
	return 1 - yes, yes
}

// kitSpread is the standard deviation, in steps, that a kit's 95 % error stands for.
func kitSpread(a charts.Analyte) (sd float64, assumed bool) {
	if a.KitError == nil {
		return assumedKitSteps / 1.96, true
	}
	return a.KitError.Steps / 1.96, false
}
