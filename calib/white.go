package calib

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// Thresholds for a thing marked as white that is not. No surface sends back more light
// of any colour than white does, but cameras strengthen colours: of our own rendered
// photos in good and fair light, and of real photos, no swatch came over 1.27 times
// the white in red, green or blue.
const (
	overWhite = 1.35
	// surely is by how many standard deviations of the light at the swatch it must be
	// more: where light falls off steeply and one or two whites are marked, the white
	// at a swatch is known to a tenth.
	surely = 2.0
	// filterMost is as far as a filter drives a colour before the file's highest code
	// cuts it off; paleSwatch is the least channel of a swatch that is as pale as white.
	filterMost, paleSwatch = 2.0, 0.9
	// strayWhite is the distance of a white's colour (as the natural logarithms of X/Y
	// and Z/Y) from the others' middle, and strayTimes that distance in spreads of the
	// others, above which it is another colour than the light's change gives.
	strayWhite, strayTimes = 0.22, 4.0
	// darkWhites is the recorded brightness of white below which a picture whose
	// patches are nearly all brighter (by brightPatch, mostPatches of them) is inverted.
	darkWhites, brightPatch, mostPatches = 0.15, 1.05, 0.7
)

// unburnt are the whites that show the light. A burnt-out white shows only that its
// light is stronger than the photo can record; where all are burnt out they are kept,
// for want of any other, with the error [clippedLight].
func unburnt(whites []White) (out []White) {
	for _, w := range whites {
		if w.Sample.Clipped <= clippedSome {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return whites
	}
	return out
}

// spread puts the residuals of the whites that were used at their places among all,
// with 0 for a white that was not.
func spread(residuals []float64, all []White) []float64 {
	if len(residuals) == len(all) {
		return residuals
	}
	out := make([]float64, len(all))
	k := 0
	for i, w := range all {
		if w.Sample.Clipped <= clippedSome {
			out[i], k = residuals[k], k+1
		}
	}
	return out
}

// lit are the whites of a surface: those marked first, those found after them.
type lit struct {
	places []colorimetry.Point // normalised
	other  []int               // material of each white; 0 is the reference
	found  []bool              // by the program
}

// marks is how many were marked.
func (m lit) marks() int {
	if i := slices.Index(m.found, true); i >= 0 {
		return i
	}
	return len(m.found)
}

// first are the first n of them.
func (m lit) first(n int) lit { return lit{m.places[:n], m.other[:n], m.found[:n]} }

// A found white strays foundNoise times as far from the surface as a marked one, and
// all found whites stray together by foundOffset times as much: they are not told from
// marked white, but nobody said that they are the same.
const foundNoise, foundOffset = 2.0, 1.5

// own is how far mark i strays from the surface by itself.
func (s *surface) own(i int) float64 {
	if s.found[i] {
		return foundNoise * s.prior.noise
	}
	return s.prior.noise
}

// markedOf are the whites that a person marked: those before the first that was found.
func markedOf(whites []White) []White {
	if i := slices.IndexFunc(whites, func(w White) bool { return w.Found }); i >= 0 {
		return whites[:i]
	}
	return whites
}

// median is the median of some values, NaN when there are none.
func median(v []float64) float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	n := len(s)
	if n == 0 {
		return math.NaN()
	}
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}

// slant is light that falls off across the photo as the swatches show it, each by how its
// own brightness changes from side to side, where few whites show the light. A slant of
// 1 is a change by the factor e over half the photo's diagonal.
type slant struct {
	from     colorimetry.Point // normalised: where the whites are
	by       colorimetry.Point // change of ln Y over a half diagonal along x and y
	accuracy float64           // standard deviation of each
}

// Bounds of the slant, judged from rendered scenes: with one or two whites its median was
// 0.06 in even daylight, at most 0.13, and 0.98 in steep light. leastSwatches is how many
// patches must show it.
const (
	slantWhites, leastSwatches = 3, 4
	slantLeast                 = 0.15
	slantAgree                 = 2.0
	slantError, slantShare     = 0.05, 0.25 // standard deviation: fixed, and as a share of the slant
)

// slanted is the light with the slant that its few whites did not show.
func (l Light) slanted(p Photo) Light {
	whites := unburnt(p.allWhites())
	if len(whites) == 0 || len(whites) > slantWhites {
		return l
	}
	var x, y []float64
	for _, pad := range p.Pads {
		for _, sw := range pad.Swatches {
			for _, s := range sw {
				u := l.unexplained(s)
				x, y = append(x, u[0].Y/floor(s.XYZ.Y)*l.half), append(y, u[1].Y/floor(s.XYZ.Y)*l.half)
			}
		}
	}
	by := colorimetry.Point{X: median(x), Y: median(y)}
	size := math.Hypot(by.X, by.Y)
	if len(x) < leastSwatches || !(size > slantLeast) || size < slantAgree*math.Hypot(scatter(x), scatter(y)) {
		return l
	}
	l.slant = slant{by: by, accuracy: math.Hypot(slantError, slantShare*size)}
	for _, w := range whites {
		q := l.normal(w.Sample.Place)
		l.slant.from.X += q.X / float64(len(whites))
		l.slant.from.Y += q.Y / float64(len(whites))
	}
	return l
}

// scatter is the median distance of values from their median.
func scatter(v []float64) float64 {
	m := median(v)
	d := make([]float64, len(v))
	for i, x := range v {
		d[i] = math.Abs(x - m)
	}
	return median(d)
}

// at is the change of ln Y from the whites to a normalised place.
func (s slant) at(q colorimetry.Point) float64 {
	return s.by.X*(q.X-s.from.X) + s.by.Y*(q.Y-s.from.Y)
}

// addTo adds the slant's error to the covariance of ln Y at normalised places.
func (s slant) addTo(cov *mat.SymDense, q []colorimetry.Point) {
	if s.accuracy == 0 {
		return
	}
	for i := range q {
		for j := i; j < len(q); j++ {
			v := (q[i].X-s.from.X)*(q[j].X-s.from.X) + (q[i].Y-s.from.Y)*(q[j].Y-s.from.Y)
			cov.SetSym(i, j, cov.At(i, j)+sq(s.accuracy)*v)
		}
	}
}

// A pad is far from white where the light between them was followed over more than
// farLight half diagonals, or changes by more than farChange (natural log) as the slant
// has it. The light's error then makes the reading doubtful from farSome steps on, and
// unreliable from farMost on.
const (
	farLight, farChange = 0.5, 0.1
	farSome, farMost    = 0.15, 0.4
)

// checkFar says when the light at the pad is not seen near it but followed from afar.
func (r *Reading) checkFar(p Pad, light Light) {
	if light.Assumed || len(light.surfaces[0].places) == 0 {
		return
	}
	far, change := 0.0, 0.0
	for _, s := range p.Parts {
		q := light.normal(s.Place)
		near := math.Inf(1)
		for _, w := range light.surfaces[0].places {
			near = math.Min(near, math.Hypot(w.X-q.X, w.Y-q.Y))
		}
		far, change = math.Max(far, near), math.Max(change, math.Abs(light.slant.at(q)))
	}
	if far < farLight && change < farChange {
		return
	}
	w := Warning{Code: CodeLightFar, Figure: far, Threshold: farLight, Weight: Good, Places: []Place{p.padPlace()},
		Seen: "No white area lies near the pad, so the light there is followed from afar.",
		Then: "Mark white close to the pad too."}
	if change >= farChange {
		w.Figure, w.Threshold = change, farChange
		w.Seen = fmt.Sprintf("The light changes by %.0f %% between the white areas and the pad, as the swatches show; no white lies near enough "+
			"to tell.", 100*math.Expm1(change))
	}
	switch moved := r.stepsOf(SourceLight); {
	case moved >= farMost:
		w.Weight = Unreliable
	case moved >= farSome:
		w.Weight = Caution
	}
	r.warn(w)
}

// stepsOf is the error in steps that a source gives the reading, 0 where it has no budget.
func (r *Reading) stepsOf(source Source) float64 {
	for _, b := range r.Budget {
		if b.Source == source {
			return b.Steps
		}
	}
	return 0
}

// checkWhites judges what is marked as white by the other whites and by the swatches,
// never by what is neutral: a lamp colours white.
func (r *LightReport) checkWhites(l Light, p Photo) {
	if r.checkInverted(l, p) {
		return
	}
	if i, d := strayingWhite(p.Whites); i >= 0 {
		r.warn(Warning{Code: CodeNotWhite, Figure: d, Threshold: strayWhite, Weight: Unreliable,
			Places: []Place{{Kind: PlaceWhite, Number: i + 1}},
			Seen:   fmt.Sprintf("White area %d has another colour than the other white areas: it is not white.", i+1),
			Then:   "Mark white card, paper or bare strip instead."})
		return
	}
	if i, m, pale := r.outdone(l, p); i >= 0 {
		w := Warning{Code: CodeNotWhite, Figure: m, Threshold: overWhite, Weight: Unreliable,
			Places: []Place{{Kind: PlaceWhite, Number: i + 1}},
			Seen: fmt.Sprintf("A swatch sends back %.1f times as much red, green or blue as white area %d: that area is coloured or "+
				"grey, or lies in a shadow.", m, i+1),
			Then: "Mark white card, paper or bare strip in the same light instead."}
		if !pale && m < filterMost {
			w.Code, w.Places, w.Then = CodeAlteredPhoto, wholePhoto(), "Use the photo as the camera stored it, without a filter."
			w.Seen = fmt.Sprintf("A swatch has %.1f times as much red, green or blue as white: its colour is stronger than print can "+
				"be, as a filter makes it, or white is marked in a shadow.", m)
		}
		r.warn(w)
	}
}

// checkInverted looks for whites that are dark while nearly all patches are brighter.
func (r *LightReport) checkInverted(l Light, p Photo) bool {
	n, brighter, white := 0.0, 0.0, 0.0
	for _, s := range p.samples() {
		n++
		white += l.At(s.Place).Y
		if c := l.Relative(s); math.Min(c.X/colorimetry.D50.X, math.Min(c.Y, c.Z/colorimetry.D50.Z)) > brightPatch {
			brighter++
		}
	}
	if !(n > 0 && brighter/n > mostPatches && white/n < darkWhites) {
		return false
	}
	r.warn(Warning{Code: CodeAlteredPhoto, Figure: brighter / n, Threshold: mostPatches, Weight: Unreliable, Places: wholePhoto(),
		Seen: fmt.Sprintf("White is darker than %.0f %% of the patches: the picture is inverted, or something dark is marked as white.",
			100*brighter/n),
		Then: "Use the photo as the camera stored it, and mark white card or paper."})
	return true
}

// strayingWhite is the white whose colour strays from the others, and how far; -1 for
// none. Of fewer than three nobody can tell which one strays. A burnt-out white has
// lost its colour and is not judged.
func strayingWhite(whites []White) (which int, far float64) {
	which = -1
	var of []int
	var colour [][3]float64
	for i, w := range whites {
		if w.Sample.Clipped < clippedSome {
			of, colour = append(of, i), append(colour, logRatios(w.Sample.XYZ))
		}
	}
	if len(of) < 3 {
		return which, far
	}
	for k, i := range of {
		middle, spread := middleOf(colour, k)
		d := math.Hypot(colour[k][1]-middle[1], colour[k][2]-middle[2])
		if d > math.Max(strayWhite, strayTimes*spread) && d > far {
			which, far = i, d
		}
	}
	return which, far
}

// middleOf is the median of all colours but one, and the largest distance of one of
// them from it.
func middleOf(colour [][3]float64, but int) (middle [3]float64, spread float64) {
	for c := 1; c < 3; c++ {
		var v []float64
		for k := range colour {
			if k != but {
				v = append(v, colour[k][c])
			}
		}
		middle[c] = median(v)
	}
	for k := range colour {
		if k != but {
			spread = math.Max(spread, math.Hypot(colour[k][1]-middle[1], colour[k][2]-middle[2]))
		}
	}
	return middle, spread
}

// outdone is the white that a swatch outdoes in red, green or blue, and by how much;
// -1 for none. Of two whites it is the one that is outdone by more. pale tells whether
// that swatch is nearly as light as the white in the other colours too.
func (r *LightReport) outdone(l Light, p Photo) (which int, most float64, pale bool) {
	which = -1
	if r.Unevenness > unevenSome || len(p.Whites) == 0 {
		return which, 0, false
	}
	if len(p.Whites) > 2 {
		if m, pale := mostOver(p, l.At, l); m > overWhite {
			return 0, m, pale
		}
		return which, 0, false
	}
	for i, w := range p.Whites {
		if w.Sample.Clipped >= clippedSome {
			continue
		}
		m, is := mostOver(p, func(colorimetry.Point) colorimetry.XYZ { return w.Sample.XYZ }, l)
		if m > overWhite && m > most {
			which, most, pale = i, m, is
		}
	}
	return which, most, pale
}

// spread is the standard deviation of the light at a place, brightness and blue
// together, as a natural logarithm.
func (l Light) spread(at colorimetry.Point) float64 {
	cov := l.Cov([]colorimetry.Point{at})
	return math.Sqrt(math.Max(0, cov[0].At(0, 0)+cov[2].At(0, 0)))
}

// mostOver is the most red, green or blue of a swatch over that of a white, as far as
// the light is known, and whether the swatch is pale: nearly as light as the white in all three.
func mostOver(p Photo, white func(colorimetry.Point) colorimetry.XYZ, l Light) (most float64, pale bool) {
	for _, pad := range p.Pads {
		for _, sw := range pad.Swatches {
			for _, s := range sw {
				w := white(s.Place)
				c := colorimetry.SRGB.FromXYZ.Apply(colorimetry.XYZ{
					X: s.XYZ.X / w.X * colorimetry.D50.X, Y: s.XYZ.Y / w.Y, Z: s.XYZ.Z / w.Z * colorimetry.D50.Z,
				})
				if m := math.Max(c.X, math.Max(c.Y, c.Z)) * math.Exp(-surely*l.spread(s.Place)); m > most {
					most, pale = m, math.Min(c.X, math.Min(c.Y, c.Z)) > paleSwatch
				}
			}
		}
	}
	return most, pale
}
