package calib

import (
	"fmt"
	"math"

	"padband/colorimetry"
)

// Thresholds of the checks of the picture itself, judged from our own rendered
// scenes: in good and fair light no patch came near them (of 1,002 pads, edges
// over at most 6 % of the mark's side, noise at most 7 % of the brightness).
const (
	// blurredSome is the width of the patches' edges as a share of the marks' side.
	blurredSome = 0.25
	// bleeding is the CIELAB distance by which a blurred pad's colour moves
	// towards its middle: colour from outside reaches it.
	bleeding = 3.0
	// noisySome is a limit for the pixels' standard deviation as a share of the
	// patch's brightness. The lower limit noisyFelt is enough where noise also takes
	// more than noisySteps of the budget.
	noisySome, noisyFelt, noisySteps = 0.15, 0.10, 0.15
)

// checkBlurred looks at how wide the edges of this pad and its swatches are.
func (r *Reading) checkBlurred(p Pad) {
	var widths, shares []float64
	look := func(samples []colorimetry.Sample) {
		for _, s := range samples {
			if s.Edge > 0 && s.Side > 0 {
				widths, shares = append(widths, s.Edge), append(shares, s.Edge/s.Side)
			}
		}
	}
	look(p.Parts)
	for _, sw := range p.Swatches {
		look(sw)
	}
	share := median(shares)
	if !(share > blurredSome) {
		return
	}
	w := Warning{Code: CodeBlurred, Figure: share, Threshold: blurredSome, Weight: Caution, Places: []Place{p.padPlace()},
		Seen: fmt.Sprintf("The photo is blurred here: the patches' edges are %.0f pixels wide, %.0f %% of a mark.", median(widths),
			100*share),
		Then: "Hold the phone still, tap on the strip to focus, and take the photo again."}
	for _, s := range p.Parts {
		if s.InsetShift > bleeding {
			w.Weight = Unreliable
			w.Seen = fmt.Sprintf("The photo is so blurred here (edges %.0f pixels wide, %.0f %% of a mark) that colour from outside "+
				"reaches into the pad.", median(widths), 100*share)
		}
	}
	r.warn(w)
}

// checkNoisy looks at the grain of the pad and of the bracket's swatches. It
// makes a reading unreliable only where noise alone gives too wide a band.
func (r *Reading) checkNoisy(p Pad) {
	most, where := 0.0, Place{}
	look := func(samples []colorimetry.Sample, place func(k int) Place) {
		for k, s := range samples {
			if g := grain(s); g > most {
				most, where = g, place(k)
			}
		}
	}
	look(p.Parts, p.partPlace)
	for i, sw := range p.Swatches {
		if inBracket(p.Analyte, i, r.Bracket) {
			look(sw, p.swatchPart(i))
		}
	}
	steps := r.share(SourceNoise)
	if !(most > noisySome || most > noisyFelt && steps > noisySteps) {
		return
	}
	w := Warning{Code: CodeNoisy, Figure: most, Threshold: noisyFelt, Weight: Caution, Places: []Place{where},
		Seen: fmt.Sprintf("On %s the pixels differ by %.0f %% of its brightness: a grainy photo, or a patch that is not of one "+
			"colour.", where.words(), 100*most),
		Then: "Use more light, hold the phone still, and check the mark."}
	if 2*1.96*steps > wideBand {
		w.Weight = Unreliable
	}
	r.warn(w)
}

// share is one source's standard deviation in the budget, in steps; 0 when it
// is not there.
func (r *Reading) share(source Source) float64 {
	for _, b := range r.Budget {
		if b.Source == source {
			return b.Steps
		}
	}
	return 0
}

// looked is about the share of a mark's side from which its pixels are taken; the rest
// is the margin kept from the edge.
const looked = 0.9

// grain is the standard deviation of a sample's pixels about their trend, as a
// share of its brightness. A trend g over a square of side a has the variance g^2 a^2 / 12.
func grain(s colorimetry.Sample) float64 {
	trend := (sq(s.Slope[0].Y) + sq(s.Slope[1].Y)) * sq(looked*s.Side) / 12
	return math.Sqrt(math.Max(0, s.Cov[1][1]-trend)) / nonzero(math.Abs(s.XYZ.Y))
}

// faintSome is the share of see-through pixels above which a mark is named. Cameras
// store none; an editor's soft rim may leave a few.
const faintSome = 0.02

// checkTransparent looks for marks that an editor made partly see-through: their
// colours depend on what is laid under them.
func (r *Reading) checkTransparent(p Pad) {
	most, where := 0.0, Place{}
	look := func(samples []colorimetry.Sample, place func(k int) Place) {
		for k, s := range samples {
			if s.Transparent > most {
				most, where = s.Transparent, place(k)
			}
		}
	}
	look(p.Parts, p.partPlace)
	for i, sw := range p.Swatches {
		look(sw, p.swatchPart(i))
	}
	if !(most > faintSome) {
		return
	}
	r.warn(Warning{Code: CodeAlteredPhoto, Figure: most, Threshold: faintSome, Weight: Caution, Places: []Place{where},
		Seen: fmt.Sprintf("The picture is see-through in %.0f %% of %s, as no camera makes it.", 100*most, where.words()),
		Then: "Use the photo as the camera stored it."})
}
