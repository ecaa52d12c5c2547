package calib

import (
	"fmt"
	"math"

	"padband/colorimetry"
)

// Thresholds of the checks of the light, judged from our own rendered scenes
// unless a source stands beside them.
const (
	// unevenSome: the light at one patch is this much stronger than at another.
	// Up to there a plane or quadratic surface follows it within 1 %.
	unevenSome = 0.6
	// mixedSome: change of the white's colour over the patches, as the range of
	// ln X/Y and ln Z/Y together; 0.10 is about 3 CIELAB units on a pale grey.
	mixedSome, mixedMost = 0.10, 0.20
	// shadowSome: a white mark this much darker (natural log) than the light
	// around it says.
	shadowSome = 0.10
	// castDuv and castWarm, castCold: the recorded white of a phone lies within
	// these after its own white balance.
	castDuv            = 0.02
	castWarm, castCold = 3200.0, 9500.0
)

// LightReport describes the light over a photo and warns of its faults.
type LightReport struct {
	Reliability Reliability
	CCT, Duv    float64 // of the white as recorded, kelvin; NaN when undefined
	Unevenness  float64 // brightest over darkest light at the patches, less 1
	FoundWhite  int     // places of bare white that joined the marked white areas
	Warnings    []Warning
}

// Report describes the light at the places of a photo's patches.
func (l Light) Report(p Photo) LightReport {
	r := LightReport{Reliability: Good, CCT: math.NaN(), Duv: math.NaN(), FoundWhite: len(p.Found)}
	lo, hi := math.Inf(1), 0.0
	var sum colorimetry.XYZ
	for _, s := range p.samples() {
		w := l.At(s.Place)
		lo, hi = math.Min(lo, w.Y), math.Max(hi, w.Y)
		sum = colorimetry.XYZ{X: sum.X + w.X, Y: sum.Y + w.Y, Z: sum.Z + w.Z}
	}
	if hi > 0 {
		r.Unevenness = hi/lo - 1
	}
	if l.Assumed {
		r.warn(Warning{Code: CodeNoWhite, Weight: Caution, Places: wholePhoto(),
			Seen: "No white area is marked, so the light is only guessed and taken as even.",
			Then: "Mark white card, paper or bare strip near the pad and near the chart."})
		return r
	}
	r.CCT, r.Duv = whiteColour(sum)
	r.checkEdges(l, p.Whites)
	r.checkWhites(l, p)
	r.checkFewCodes(p)
	r.clippedWhite(p.Whites)
	r.checkCast()
	r.checkUneven()
	r.checkMixed(l, p)
	r.checkShadow(l)
	return r
}

func (r *LightReport) warn(w Warning) {
	r.Reliability = r.Reliability.Worse(w.Weight)
	if i := edgeExplains(r.Warnings, w); i >= 0 {
		r.Warnings[i].Weight = r.Warnings[i].Weight.Worse(w.Weight)
		return
	}
	r.Warnings = append(r.Warnings, w)
}

// clippedWhite warns when white areas are burnt out: the light there is not known.
func (r *LightReport) clippedWhite(whites []White) {
	var burnt []Place
	most := 0.0
	for i, w := range whites {
		if w.Sample.Clipped > clippedSome {
			burnt = append(burnt, Place{Kind: PlaceWhite, Number: i + 1})
		}
		most = math.Max(most, w.Sample.Clipped)
	}
	if len(burnt) == 0 {
		return
	}
	r.warn(Warning{Code: CodeClipped, Figure: most, Threshold: clippedSome, Weight: Caution, Places: burnt,
		Seen: fmt.Sprintf("%d of %d white areas are burnt out (up to %.0f %% of their pixels are as bright as the photo can record), "+
			"so the light there is not known.", len(burnt), len(whites), 100*most),
		Then: "Take the photo a little darker."})
}

func wholePhoto() []Place { return []Place{{Kind: PlacePhoto}} }

func (p Photo) samples() []colorimetry.Sample {
	var out []colorimetry.Sample
	for _, pad := range p.Pads {
		out = append(out, pad.Parts...)
		for _, sw := range pad.Swatches {
			out = append(out, sw...)
		}
	}
	return out
}

// whiteColour is the colour temperature and Duv of a white as recorded, NaN
// where it has none.
func whiteColour(w colorimetry.XYZ) (cct, duv float64) {
	cct, duv, ok := w.Chromaticity().Temperature()
	if !ok {
		return math.NaN(), math.NaN()
	}
	return cct, duv
}

// checkCast looks for a recorded white that is far from neutral: then one of the
// camera's channels carries little, and clips or drowns in noise first.
func (r *LightReport) checkCast() {
	w := Warning{Code: CodeStrongCast, Figure: r.Duv, Threshold: castDuv, Weight: Caution, Places: wholePhoto(),
		Then: "Take the photo by daylight or under a white lamp."}
	var hue string
	switch {
	case math.IsNaN(r.CCT):
		w.Figure = r.CCT
		w.Seen = "White is recorded so strongly coloured that it has no colour temperature."
		r.warn(w)
		return
	case r.Duv > castDuv:
		hue = "greenish"
	case r.Duv < -castDuv:
		hue = "pinkish"
	case r.CCT < castWarm:
		hue, w.Figure, w.Threshold = "orange", r.CCT, castWarm
	case r.CCT > castCold:
		hue, w.Figure, w.Threshold = "bluish", r.CCT, castCold
	default:
		return
	}
	w.Seen = fmt.Sprintf("White is recorded %s (%.0f K, Duv %+.3f): the phone did not balance the lamp's colour.", hue, r.CCT, r.Duv)
	r.warn(w)
}

func (r *LightReport) checkUneven() {
	if r.Unevenness > unevenSome {
		r.warn(Warning{Code: CodeUnevenLight, Figure: r.Unevenness, Threshold: unevenSome, Weight: Caution, doubtful: true,
			Places: wholePhoto(),
			Seen:   fmt.Sprintf("The light on one patch is %.0f %% stronger than on another.", 100*r.Unevenness),
			Then:   "Move the lamp further away, or turn strip and chart so that both are lit alike, and mark white near both."})
	}
}

// checkMixed looks at how the colour of the white changes over the patches.
func (r *LightReport) checkMixed(l Light, p Photo) {
	lo, hi := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, s := range p.samples() {
		for c, v := range logRatios(l.At(s.Place)) {
			lo[c], hi[c] = math.Min(lo[c], v), math.Max(hi[c], v)
		}
	}
	change := math.Hypot(hi[1]-lo[1], hi[2]-lo[2])
	if !(change > mixedSome) {
		return
	}
	w := Warning{Code: CodeMixedLight, Figure: change, Threshold: mixedSome, Weight: Caution, doubtful: true, Places: wholePhoto(),
		Seen: fmt.Sprintf("White changes its colour by %.0f %% from one patch to another: two kinds of lamp, or a lamp and a window.",
			100*change),
		Then: "Use one of them alone, and take the photo again."}
	if change > mixedMost {
		w.Weight = Unreliable
	}
	r.warn(w)
}

// checkShadow looks for white marks that stray from the light around them.
func (r *LightReport) checkShadow(l Light) {
	most, which := 0.0, 0
	for i, v := range l.Residuals {
		if math.Abs(v) > math.Abs(most) {
			most, which = v, i
		}
	}
	if !(math.Abs(most) > shadowSome) {
		return
	}
	w := Warning{Code: CodeShadow, Figure: math.Abs(math.Expm1(most)),
		Threshold: math.Abs(math.Expm1(math.Copysign(shadowSome, most))), Weight: Caution,
		Places: []Place{{Kind: PlaceWhite, Number: which + 1}}}
	what := "darker than the light around it: it lies in a shadow"
	if most > 0 {
		what = "brighter than the light around it: something shines on it"
	}
	w.Seen = fmt.Sprintf("A white area is %.0f %% %s, or is not the same white as the others.", 100*w.Figure, what)
	w.Then = "Keep hand and phone out of the light, and check the white marks."
	r.warn(w)
}
