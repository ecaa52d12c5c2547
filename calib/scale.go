package calib

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"padband/charts"
	"padband/colorimetry"
)

// Pad is one analyte's samples: the pad's parts, and each swatch's parts in
// order of value.
type Pad struct {
	Analyte  charts.Analyte
	Parts    []colorimetry.Sample
	Swatches [][]colorimetry.Sample
}

// colourAt holds the colour of one place, which has one or several parts, and what the
// error model needs to know of that colour.
type colourAt struct {
	lab    []float64 // 3 a part
	toLab  []block   // derivative of CIELAB by the light, a part
	noise  []block   // CIELAB covariance of the centre from its pixels, a part
	gloss  []float64 // d lab / d gloss, 3 a part; nil for swatches
	patchy []float64 // how much brighter a part is in one place than in another, beyond the usual, CIELAB
	trend  []float64 // change of L* from side to side of each part that the light does not explain
	uneven []block   // CIELAB covariance of the centre from that change, a part
	places []colorimetry.Point
	stain  [][]float64 // what each error of the water's stain changes, 3 a part; nil without one
}

// Scale is one analyte's swatches as a curve through CIELAB, with the pad's
// colour beside it and the errors between the two.
type Scale struct {
	analyte charts.Analyte
	parts   int
	nodes   []colourAt
	printed []colourAt // the nodes as they are printed, where nodes are under a stain; else nil
	pad     colourAt
	light   [3]*mat.SymDense // joint covariance at the places: pad parts first, then node by node
	chord   []float64        // distance between neighbouring nodes, CIELAB
}

// NewScale builds the curve of one analyte under a light. It fails when the
// samples do not match the analyte or are not finite.
func NewScale(p Pad, light Light) (Scale, error) {
	s := Scale{analyte: p.Analyte, parts: len(p.Parts)}
	if s.parts == 0 || len(p.Swatches) != len(p.Analyte.Swatches) || len(p.Swatches) < 2 {
		return Scale{}, fmt.Errorf("%s: %d parts and %d swatches do not make a scale of %d", p.Analyte.Name, s.parts, len(p.Swatches),
			len(p.Analyte.Swatches))
	}
	s.pad = newColour(p.Parts, light, true)
	places := append([]colorimetry.Point(nil), s.pad.places...)
	for i, sw := range p.Swatches {
		if len(sw) != s.parts {
			return Scale{}, fmt.Errorf("%s: the swatch for %g has %d parts and the pad %d", p.Analyte.Name,
				p.Analyte.Swatches[i].Value, len(sw), s.parts)
		}
		n := newColour(sw, light, false)
		s.nodes = append(s.nodes, n)
		places = append(places, n.places...)
	}
	for _, c := range append([]colourAt{s.pad}, s.nodes...) {
		for _, v := range c.lab {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return Scale{}, fmt.Errorf("%s: a colour is not a finite number", p.Analyte.Name)
			}
		}
	}
	s.light = light.Cov(places)
	s.chord = chords(s.nodes)
	return s, nil
}

// chords are the distances between neighbouring nodes.
func chords(nodes []colourAt) (out []float64) {
	for i := range len(nodes) - 1 {
		out = append(out, math.Max(distance(nodes[i].lab, nodes[i+1].lab), leastChord))
	}
	return out
}

// leastChord keeps two swatches of one colour apart enough to divide by.
const leastChord = 1e-3

func newColour(parts []colorimetry.Sample, light Light, wet bool) colourAt {
	c := colourAt{}
	for _, p := range parts {
		rel := light.Relative(p)
		slope := [3]float64{rel.X / nonzero(p.XYZ.X), rel.Y / nonzero(p.XYZ.Y), rel.Z / nonzero(p.XYZ.Z)}
		if wet {
			g := glossOf(rel)
			full := rel
			rel = takeGloss(full, g)
			d := block(colorimetry.LabJacobian(rel, colorimetry.D50))
			toward := [3]float64{(rel.X - colorimetry.D50.X) / (1 - g), (rel.Y - 1) / (1 - g), (rel.Z - colorimetry.D50.Z) / (1 - g)}
			along := d.times(toward)
			c.gloss = append(c.gloss, along[:]...)
		}
		j := block(colorimetry.LabJacobian(rel, colorimetry.D50))
		beyond, toward := patchy(j, slope, p)
		lab := rel.Lab(colorimetry.D50)
		shift := 0.0
		if wet {
			shift = patchShift * beyond
		}
		c.lab = append(c.lab, lab.L-shift*toward[0], lab.A-shift*toward[1], lab.B-shift*toward[2])
		c.toLab = append(c.toLab, lightToLab(j, rel))
		rest := light.unexplained(p)
		noise, uneven := sampleNoise(j, slope, p), unevenNoise(j, slope, p, rest)
		noise.plus(1, &uneven)
		c.uneven = append(c.uneven, uneven)
		noise.outer(sq(patchWeight*beyond), &toward)
		c.noise = append(c.noise, noise)
		c.patchy = append(c.patchy, beyond)
		c.trend = append(c.trend, j[0][1]*slope[1]*math.Hypot(rest[0].Y, rest[1].Y)*side(p))
		c.places = append(c.places, p.Place)
	}
	return c
}

// nonzero keeps a value apart enough from 0 to divide by.
func nonzero(v float64) float64 {
	if math.Abs(v) < 1e-4 {
		return math.Copysign(1e-4, v)
	}
	return v
}

// glossOf is the share of white light that a wet pad is taken to throw back
// unfiltered: [glossMean], less on a pad so dark that it cannot hold it.
func glossOf(c colorimetry.XYZ) float64 {
	least := math.Min(c.Y, math.Min(c.X/colorimetry.D50.X, c.Z/colorimetry.D50.Z))
	return math.Max(0, math.Min(glossMean, 0.5*least))
}

// takeGloss takes white light of share g off a colour: (c - g w) / (1 - g).
func takeGloss(c colorimetry.XYZ, g float64) colorimetry.XYZ {
	w := colorimetry.D50
	return colorimetry.XYZ{X: (c.X - g*w.X) / (1 - g), Y: (c.Y - g*w.Y) / (1 - g), Z: (c.Z - g*w.Z) / (1 - g)}
}

// lightToLab is the derivative of CIELAB by (ln Y, ln X/Y, ln Z/Y) of the light. If
// the light is brighter by d than taken, the XYZ of a colour comes out multiplied by
// 1 - d; j is the derivative of CIELAB by XYZ.
func lightToLab(j block, c colorimetry.XYZ) (out block) {
	for r := range 3 {
		x, y, z := -j[r][0]*c.X, -j[r][1]*c.Y, -j[r][2]*c.Z
		out[r] = [3]float64{x + y + z, x, z}
	}
	return out
}

// side is the side, in pixels, of the square as large as the mark.
func side(s colorimetry.Sample) float64 {
	if s.Side > 0 {
		return s.Side
	}
	return math.Sqrt(float64(s.Pixels))
}

// clippedShare is the largest share of pixels with a channel at either end of its range.
func clippedShare(parts []colorimetry.Sample) float64 {
	most := 0.0
	for _, p := range parts {
		most = math.Max(most, math.Max(p.Clipped, p.Floor))
	}
	return most
}

// clippedError is the CIELAB standard deviation of a colour whose channels are
// cut off: oneChannel for a saturated colour, up to allChannels for one that is
// recorded as near full white, where nothing of the colour is left.
func clippedError(s colorimetry.Sample) float64 {
	white := math.Max(0, math.Min(1, (s.XYZ.Y-0.75)/0.25))
	return math.Max(s.Clipped, s.Floor) * (oneChannel + white*(allChannels-oneChannel))
}

// sampleNoise carries the covariance of a sample's centre into CIELAB. slope is the
// factor from recorded to relative light.
func sampleNoise(j block, slope [3]float64, s colorimetry.Sample) (out block) {
	n := math.Max(s.Effective, 1)
	lost := math.Hypot(clippedError(s), glareError*s.Glare)
	for r := range 3 {
		for c := range 3 {
			for a := range 3 {
				for b := range 3 {
					out[r][c] += j[r][a] * slope[a] * s.Cov[a][b] / n * slope[b] * j[c][b]
				}
			}
		}
	}
	out.round(sq(markingError) + sq(lost))
	return out
}

// unevenNoise is the CIELAB covariance of a sample's centre from rest, the trend over
// the patch that the light does not explain: a patch that changes from side to side
// (glare, the edge of a shadow, a neighbour's dye) is as uncertain as it is uneven.
func unevenNoise(j block, slope [3]float64, s colorimetry.Sample, rest [2]colorimetry.XYZ) (out block) {
	for _, t := range rest {
		across := j.times([3]float64{t.X * slope[0], t.Y * slope[1], t.Z * slope[2]})
		out.outer(sq(side(s)*trendError), &across)
	}
	return out
}

// distance is the plain CIELAB distance (CIE 15); for several parts it is the root of
// the sum of the parts' squared distances.
func distance(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d += sq(a[i] - b[i])
	}
	return math.Sqrt(d)
}

// top is the place of the highest swatch, in steps.
func (s Scale) top() float64 { return float64(len(s.nodes) - 1) }

// weights returns the interval in which a place t lies, and the weights of its two
// swatches there. Past an end the last interval is carried on by pastEnd lengths a
// step; this only shows that the pad lies beyond, and no value is read there.
func (s Scale) weights(t float64) (i int, lo, hi float64) {
	last := len(s.nodes) - 2
	switch {
	case t < 0:
		return 0, 1 - pastEnd*t, pastEnd * t
	case t > s.top():
		u := 1 + pastEnd*(t-s.top())
		return last, 1 - u, u
	}
	i = min(int(t), last)
	f := s.ahead(i, t-float64(i))
	return i, 1 - f, f
}

// ahead is the share of the way between swatches i and i+1 that the colour has gone
// where the value has gone the share f (0-1): f itself but in the first step of a chart
// that starts at zero, where it is f (1 + k) / (1 + k f) with k the [Scale.saturation].
func (s Scale) ahead(i int, f float64) float64 {
	if i > 0 || f <= 0 || f >= 1 {
		return f
	}
	k := s.saturation()
	return f * (1 + k) / (1 + k*f)
}

// speed is the derivative of [Scale.ahead] at the place t.
func (s Scale) speed(t float64) float64 {
	if t <= 0 || t >= 1 {
		return 1
	}
	k := s.saturation()
	return (1 + k) / sq(1+k*t)
}

// startsAtZero reports whether the first swatch is a true zero and a third is there to
// tell how the colour slows down.
func (s Scale) startsAtZero() bool {
	a := s.analyte
	return s.parts == 1 && len(s.nodes) > 2 && a.Swatches[0].Value == 0 && a.Unit != "pH"
}

// saturation is k = v1/K of the first step, 0 for an even run, on a chart that starts at
// zero. There a dye's amount goes as v/(v + K) with the value v (one binding place, mass
// action). With the colour's way to the second and third swatch in the proportion r, at
// the values v1 and v2, k is (r - v1/v2) / (1 - r), kept within bounds. Half is added,
// because CIELAB itself goes as the root of a small amount of dye: see errors.go.
func (s Scale) saturation() float64 {
	if !s.startsAtZero() {
		return 0
	}
	r := s.chord[0] / (s.chord[0] + s.chord[1])
	seen := (r - s.analyte.Swatches[1].Value/s.analyte.Swatches[2].Value) / (1 - r)
	return colourSaturation + math.Max(leastSaturation, math.Min(mostSaturation, seen))
}

// at returns the curve's colour at a place: a centripetal Catmull-Rom curve
// through the swatches (knots spaced by the root of the distance; from memory). A strip of several parts is joined by straight lines:
// each part turns in a range of its own, and a curve through all overshoots.
func (s Scale) at(t float64) []float64 {
	i, lo, hi := s.weights(t)
	out := make([]float64, 3*s.parts)
	for k := range out {
		out[k] = lo*s.nodes[i].lab[k] + hi*s.nodes[i+1].lab[k]
	}
	if t <= 0 || t >= s.top() || s.parts > 1 {
		return out
	}
	return s.curved(i, hi)
}

// curved is the Hermite curve between swatches i and i+1 at share f, with the
// tangents of a Catmull-Rom curve over knots spaced by the root of the distance.
func (s Scale) curved(i int, f float64) []float64 {
	n := 3 * s.parts
	h := math.Sqrt(s.chord[i])
	a, b := s.nodes[i].lab, s.nodes[i+1].lab
	out := make([]float64, n)
	h00, h10, h01, h11 := (1+2*f)*sq(1-f), f*sq(1-f), f*f*(3-2*f), f*f*(f-1)
	for k := range n {
		here := (b[k] - a[k]) / h
		ta, tb := here, here
		if i > 0 {
			g := math.Sqrt(s.chord[i-1])
			before := (a[k] - s.nodes[i-1].lab[k]) / g
			ta = (before*h + here*g) / (g + h)
		}
		if i+2 < len(s.nodes) {
			g := math.Sqrt(s.chord[i+1])
			after := (s.nodes[i+2].lab[k] - b[k]) / g
			tb = (after*h + here*g) / (g + h)
		}
		out[k] = h00*a[k] + h*h10*ta + h01*b[k] + h*h11*tb
	}
	return out
}

// bend is 4f(1-f), where f is the place between two swatches from 0 to 1. Past an end
// it is the number of steps beyond that end.
func (s Scale) bend(t float64) float64 {
	if t < 0 {
		return -t
	}
	if t > s.top() {
		return t - s.top()
	}
	f := t - math.Floor(t)
	return 4 * f * (1 - f)
}

// spacing is the standard deviation, in steps, from not knowing how values run between
// two swatches at a place; see [spacingError].
func (s Scale) spacing(t float64) float64 {
	i, _, _ := s.weights(t)
	chord := s.chord[i] / math.Sqrt(float64(s.parts))
	error := spacingError
	if i == 0 && s.startsAtZero() {
		error *= firstSpacing
	}
	return error * math.Pow(chord/usualChord, spacingGrowth) * s.bend(t)
}

// fifths is the distance between the means of the outer fifths of values that
// run evenly from end to end, over their range.
const fifths = 0.8

// patchy is the CIELAB distance between the brightest and the darkest fifth of a
// patch, beyond what its trend, its grain and an uneven dye explain, and the unit
// direction from dark to bright. What is beyond comes from a reflection or a shadow on
// part of the patch. j is the derivative of CIELAB by XYZ, slope the factor from
// recorded to relative light. The distance is 0 for a sample without outer fifths.
func patchy(j block, slope [3]float64, s colorimetry.Sample) (beyond float64, toward [3]float64) {
	d := [3]float64{(s.Bright.X - s.Dark.X) * slope[0], (s.Bright.Y - s.Dark.Y) * slope[1], (s.Bright.Z - s.Dark.Z) * slope[2]}
	toward = j.times(d)
	length := 0.0
	for _, v := range toward {
		length += sq(v)
	}
	length = math.Sqrt(length)
	if !(length > 1e-9) {
		return 0, toward
	}
	for r := range toward {
		toward[r] /= length
	}
	apart := nonzero(s.Bright.Y - s.Dark.Y)
	trend := fifths * side(s) * math.Hypot(s.Slope[0].Y, s.Slope[1].Y)
	rest := length * math.Sqrt(math.Max(0, 1-sq(trend/apart)))
	usual := math.Max(patchUsual, patchGrain*length/apart*grain(s)*s.XYZ.Y)
	return math.Max(0, rest-usual), toward
}

// ofMean is the error of the mean of several parts with the errors v, each independent
// of the others: a fault on one part of several moves the place on the scale less. It
// is 0 for no parts.
func ofMean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += sq(x)
	}
	return math.Sqrt(sum) / math.Max(1, float64(len(v)))
}
