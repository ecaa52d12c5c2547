package calib

import (
	"fmt"
	"math"

	"padband/charts"
)

// White areas and patches show the light only where they lie. A fault of the light
// that is seen in one place (the edge of a shadow, a reflection, light that falls off
// steeply or changes its colour, a channel cut off) may reach the pad more strongly
// than anything in the photo shows, and no band counts that. Where the colour moves
// far in a step, such a fault costs few steps and the band is narrow too. So the fault
// makes only readings with a wide band unreliable. Limits of the band of 1.0, 1.3 and 1.6
// steps left 19, 19 and 20 of 2,613 rendered pads silently wrong (calib/scene, half of them
// in bad or steep light and under tubes), and called 13.9, 12.3 and 11.2 % unreliable.
const (
	doubtBand   = 1.3   // steps of band
	doubtTrend  = 0.325 // steps by which light that changes as it does on a swatch would move the reading
	doubtLight  = 0.15  // steps of the budget's light: with less, the light is known well enough for this reading
	doubtPatchy = 0.5   // CIELAB by which a pad is patchy beyond the usual
	// doubtClipped is the limit for the CIELAB error of a clipped colour where the
	// white is recorded above brightWhite too, so that the whole photo is too bright.
	// Elsewhere a saturated colour may well have one channel cut off, and doubtBurnt
	// is the limit.
	doubtClipped, brightWhite = 1.25, 0.9
	doubtBurnt                = 2.75
)

// checkDoubt makes a reading unreliable when its light is in doubt and its band is
// wider than [doubtBand].
func (r *Reading) checkDoubt(s Scale, p Pad, light Light, report LightReport) {
	span := r.span(r.Posterior)
	if r.Analyte.Kind == charts.KindPresence || !(span > doubtBand) {
		return
	}
	for _, w := range append(r.doubts(s, p, light), report.Warnings...) {
		if w.doubtful && !r.lightHolds(w) {
			w.Weight = Unreliable
			r.warn(w)
		}
	}
	for i, w := range r.Warnings {
		if w.doubtful && w.Weight == Unreliable { // the sentence is said of one warning only
			r.Warnings[i].Then += fmt.Sprintf(" In such light a reading cannot be trusted when the colour fits a range of %.1f steps.", span)
			return
		}
	}
}

// doubts are the reading's own warnings, and further signs of faulty light that alone
// would be too weak for a warning.
func (r *Reading) doubts(s Scale, p Pad, light Light) []Warning {
	out := append([]Warning(nil), r.Warnings...)
	out = append(out, doubtOfClipping(p, light)...)
	for _, w := range r.Warnings {
		if w.Code == CodeBlurred { // a blurred patch is uneven without any fault of the light
			return out
		}
	}
	out = append(out, r.doubtOfTrend(s, p)...)
	if v := ofMean(s.pad.patchy); v > doubtPatchy {
		out = append(out, Warning{Code: CodeGlare, Figure: v, Threshold: doubtPatchy, doubtful: true, Places: []Place{p.padPlace()},
			Seen: fmt.Sprintf("The pad is lighter in one place than in another (a colour difference of %.1f beyond what an uneven dye "+
				"gives): something shines on it, or a shadow lies on part of it.", v),
			Then: "Tilt the phone or move the lamp, and take the photo again."})
	}
	return out
}

// doubtOfTrend looks at all swatches of the scale: the edge of a shadow on any of them
// shows that there is one. It matters as far as such a change of the light would move
// this reading if it lay on the pad.
func (r *Reading) doubtOfTrend(s Scale, p Pad) []Warning {
	most, change, value := 0.0, 0.0, 0.0
	for i, n := range s.nodes {
		seen := ofMean(n.trend)
		if v := r.pull.ofShade(s.pad, n.shade()*trendError); v > most && seen > trendSeen {
			most, change, value = v, seen, p.Analyte.Swatches[i].Value
		}
	}
	if !(most > doubtTrend) {
		return nil
	}
	return []Warning{{Code: CodeShadow, Figure: most, Threshold: doubtTrend, doubtful: true, Places: swatchPlaces(p.Analyte.Name, value),
		Seen: fmt.Sprintf("The swatch for %g grows darker from side to side (by %.0f on a lightness scale of 100): the edge of a "+
			"shadow or a reflection lies near.", value, change),
		Then: outOfTheLight}}
}

// shade is the change of the light, in natural log units, that would give the patch's
// trend; of several parts it is the root of their mean square.
func (c colourAt) shade() float64 {
	sum := 0.0
	for k, v := range c.trend {
		sum += sq(v / nonzero(c.toLab[k][0][0])) // of L* by ln Y
	}
	return math.Sqrt(sum / math.Max(1, float64(len(c.trend))))
}

func doubtOfClipping(p Pad, light Light) []Warning {
	past := 0.0 // the error of a clipped colour over its limit
	for _, s := range p.Parts {
		limit := doubtBurnt
		if light.At(s.Place).Y > brightWhite {
			limit = doubtClipped
		}
		past = math.Max(past, clippedError(s)/limit)
	}
	if !(past > 1) {
		return nil
	}
	return []Warning{{Code: CodeClipped, Figure: past, Threshold: 1, doubtful: true, Places: []Place{p.padPlace()},
		Seen: "Most of the pad is as bright as the photo can record, so its colour is only half known.",
		Then: "Take the photo darker, with the white just under full brightness."}}
}

// lightHolds reports whether a warning of the light over the whole photo does little
// to this reading: its light is known well enough.
func (r *Reading) lightHolds(w Warning) bool {
	if w.Code != CodeUnevenLight && w.Code != CodeMixedLight {
		return false
	}
	for _, b := range r.Budget {
		if b.Source == SourceLight {
			return b.Steps < doubtLight
		}
	}
	return false
}
