package calib

import "math"

// The error model says how far a pad's colour may lie from its scale in one photo.
// Figures are standard deviations in CIELAB unless said otherwise. They have no
// outside source. They come from a search for those under which the true places of
// pads in rendered scenes were most probable (calib/scene, seeds under 2,000,000);
// they were rounded, and narrowed a little where bands covered more than 98 in 100 in
// good light. Those for strips of several parts are what suited a few real photos of
// pH strips in buffers best.
const (
	// glossMean and glossSpread: white light that a wet pad throws back, as a share of the white.
	glossMean, glossSpread = 0.012, 0.006
	// markingError is the error from where in the patch the mark was put.
	markingError = 0.25
	// printingError is each swatch's own, independent of its neighbours.
	printingError = 0.6
	// oneChannel and allChannels are the errors of a colour with one channel or all
	// channels clipped.
	oneChannel, allChannels = 2.5, 8.0
	// glareError is the error of a patch whose pixels are all left out as glare; with
	// fewer left out it is smaller in proportion.
	glareError = 5.0
	// bendError is the unknown shape of the curve between two swatches, as a share of their distance.
	bendError = 0.06
	// turnError is the same for a curve that turns: a share of its second difference, of
	// which an even curve bows out by an eighth.
	turnError = 0.04
	// paceError is how far, in steps, one part of several may be ahead of the others
	// or behind them, in the middle between two swatches.
	paceError = 0.25
	// spacingError is the error, in steps, from not knowing how values run between two
	// swatches: in the middle of two that are usualChord apart. It grows with their
	// distance to the power spacingGrowth: the more the colour changes in a step, the
	// more of the reagent's own curve lies unseen inside that step.
	spacingError, usualChord, spacingGrowth = 0.05, 16.0, 0.4
	// firstSpacing is how much larger it is in the first step of a chart that starts at
	// zero, colourSaturation what is added to the saturation seen there, and
	// leastSaturation and mostSaturation are the bounds of what is seen. Without the
	// saturation such pads read 0.13 step high in the first third of that step, 0.87
	// covered: 250 pads of seeds just above 30, 130, 230 and 530 to 830 million, on which
	// the four figures were chosen.
	firstSpacing, colourSaturation  = 1.5, 0.5
	leastSaturation, mostSaturation = -0.3, 3.0
	// pastEnd is how far the colour moves in a step past an end swatch, in lengths
	// of the last interval.
	pastEnd = 1.5
	// partsCommon is the share of the mismatch variance that the parts of one strip have in common.
	partsCommon = 0.5
	// trendError is the error from a patch's unexplained trend, as a share of its change
	// from side to side: 2.1 times the standard deviation of an even run, 1/sqrt 12. It
	// and turnError suit real photos of one chart printed twice in uneven light; rendered
	// scenes would do with 1.6 times.
	trendError = 0.6
	// patchUsual is the CIELAB distance between the brightest and the darkest fifth of
	// a patch that an uneven dye gives (19 in 20 patches in good light have less), and
	// patchGrain is the same in standard deviations of the pixels. What is beyond
	// these counts as error, patchWeight times; the share patchShift of it is taken
	// off a wet pad, towards its dark end.
	patchUsual, patchGrain  = 2.5, 2.6
	patchWeight, patchShift = 1.2, 0.5
	// contaminated is the share of pads that glare or shadow covers as a whole. Glare
	// adds white light, with the spread glareSpread; a shadow takes light away, with
	// the spread shadeSpread (natural log).
	contaminated             = 0.06
	glareSpread, shadeSpread = 0.045, 0.25
	// castMismatch is the growth of the logarithm of the mismatch with the colour
	// left in the recorded white, up to a CIELAB chroma of castFull.
	castMismatch, castFull = 0.25, 20.0
	// tempering is the power that the likelihood of a strip of several parts is raised
	// to.
	tempering = 0.55
	// tailDOF is the Student-t degrees of freedom of one pad's mismatch about the photo's size.
	tailDOF = 4
)

// mismatch is how far pad dye and printed ink disagree at unit size: the spread in
// lightness, in chroma and in hue, and apart from these between green and pink. Each
// grows from a floor with the depth of the colour (100 - L*) or with its chroma,
// because near white dye and ink have little to disagree about. lc is the correlation
// of chroma with lightness.
type mismatch struct {
	l, c, h, pink                          float64
	lByDepth, cByDepth, hByDepth, pByDepth float64
	cByChroma, hByChroma, lc               float64
	towards                                float64 // the CIELAB hue of pink, degrees
}

// dyeInk is fitted to the residuals of 5,600 pads at their true places (good and
// fair light): they grow with depth, hardly with chroma, and their a* and b* are
// correlated by -0.3 (daylight) to -0.75 (warm lamps). Two spectra that match
// under one light cross three times or more, so that under another the middle of the
// spectrum gains what both its ends lose, or the other way round.
var dyeInk = mismatch{l: 0.45, lByDepth: 0.015, c: 1.4, cByDepth: 0.035, h: 1.1, hByDepth: 0.035, pink: 1.2, pByDepth: 0.06,
	lc: 0.2, towards: towardsPink}

// towardsPink is the CIELAB hue, in degrees, from green to pink along which dye
// and ink disagree most.
const towardsPink = -40

// wetParts is the mismatch of a strip of several parts, whose wet pads differ from the
// chart mostly in lightness.
var wetParts = mismatch{l: 4, lByDepth: 0.12, c: 2, h: 1.5, hByChroma: 0.05, cByChroma: 0.05}

// sizes are the multiples of the mismatch that are weighed by what the photo's pads show.
var sizes = []float64{0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4}

// addMismatch adds the covariance of unit mismatch about a colour: R R' within a
// part, with R its root, and between two parts the share [partsCommon] of that.
func (s Scale) addMismatch(m matrix, lab []float64) { s.addMismatchOf(m, lab, dyeInk) }

// addMismatchOf is [Scale.addMismatch] by a model of one part's mismatch.
func (s Scale) addMismatchOf(m matrix, lab []float64, model mismatch) {
	if s.parts > 1 {
		model = wetParts
	}
	roots := make([][3][4]float64, s.parts)
	for p := range roots {
		roots[p] = model.root(lab[3*p], lab[3*p+1], lab[3*p+2])
	}
	for p := range s.parts {
		for q := range s.parts {
			share := partsCommon
			if p == q {
				share = 1
			}
			both := mixed(share, &roots[p], &roots[q])
			m.add(p, q, &both)
		}
	}
}

// mixed is k a b'.
func mixed(k float64, a, b *[3][4]float64) (out block) {
	for r := range 3 {
		for c := range 3 {
			v := 0.0
			for i := range 4 {
				v += a[r][i] * b[c][i]
			}
			out[r][c] = k * v
		}
	}
	return out
}

// root returns a root of the covariance: its columns are the lightness, chroma,
// hue and green-pink directions times their spreads, its rows L*, a* and b*.
func (m mismatch) root(l, a, b float64) [3][4]float64 {
	chroma := math.Hypot(a, b)
	ca, sa := 1.0, 0.0
	if chroma > 1e-9 {
		ca, sa = a/chroma, b/chroma
	}
	depth := 100 - l
	sl := math.Hypot(m.l, m.lByDepth*depth)
	sc := math.Hypot(m.c, math.Hypot(m.cByDepth*depth, m.cByChroma*chroma))
	sh := math.Hypot(m.h, math.Hypot(m.hByDepth*depth, m.hByChroma*chroma))
	sp := math.Hypot(m.pink, m.pByDepth*depth)
	sin, cos := math.Sincos(m.towards * math.Pi / 180)
	// Chroma follows lightness with correlation lc.
	cl, cc := sc*m.lc, sc*math.Sqrt(1-sq(m.lc))
	return [3][4]float64{
		{sl, 0, 0, 0},
		{ca * cl, ca * cc, -sa * sh, cos * sp},
		{sa * cl, sa * cc, ca * sh, sin * sp},
	}
}

// assumedKitSteps is the strip's own error when the chart states none: half a
// swatch step, 95 % (common practice, no source).
const assumedKitSteps = 0.5
