package calib

import (
	"fmt"
	"math"

	"padband/charts"
	"padband/colorimetry"
)

// Coloured water lies in a pad and over it, and the chart's print is dry. So the water's
// colour, its stain, is put over the swatches before pad and swatches are compared:
// taking it off the pad would divide by little light, and strengthen every error.
//
// Something white and absorbent that the same water has soaked shows what share T of the
// light the stain lets through on white, in each of three channels. Two ways are known in
// which a stain lies on a patch of reflectance R:
//
//   - in a film over it. Light crosses the film twice on any patch: R' = T R, with T to
//     the power that the amounts of stain in the pad and in the soaked white tell
//     (Beer and Lambert).
//   - mixed into the scattering paper. Absorption over scattering adds:
//     f(R') = f(R) + f(T) with f(R) = (1-R)²/2R (Kubelka and Munk, Z. tech. Phys. 12 (1931)
//     593), so that a dark patch grows less dark.
//
// On white the two agree. A pad has both, so the mean of the two logarithms is taken, and
// half of the way to one of them is its error. On 33 phone photos of one-pad strips in water
// dyed blue or red, whose pH was known, the dyes changed the pads by 35 (CIELAB, root mean
// square). With the amount of stain found on the other dye's photos, the mean left 6.6 of it,
// the film alone 8.3 and mixing alone 10.8. The best amounts of the two dyes were 0.70 and
// 0.68 by the mean, 0.67 and 0.57 by the film, 0.69 and 0.76 by mixing.
const (
	// stainAmount is how much stain a pad holds for that of the soaked white, and
	// stainAmountError its error: papers are of different thickness. The photos gave 0.7,
	// and 400 pads rendered with papers of all makes 1.
	stainAmount, stainAmountError = 0.8, 0.3
	// stainMixed is the share of the stain that is mixed into the pad.
	stainMixed, stainMixedError = 0.5, 0.25
	// stainChannelError is the error of a channel's logarithm as a share of it: a channel
	// is broader than a dye's absorption, and cameras strengthen colours.
	stainChannelError = 0.15
	// What a stain takes from all colours is not told from the grey of wet paper over
	// something dark. So of what is missing in all channels greyShare is taken for stain, and
	// the error of all channels' logarithms together is greyDoubt of it, which reaches from
	// none to all, and stainGreyError of the largest.
	stainGreyError, greyShare, greyDoubt = 0.05, 0.5, 0.4
	// leastThrough is the least share of light that is taken to pass.
	leastThrough = 0.02
	// stainSeen is the CIELAB chroma of the soaked white above which its colour is taken for
	// a stain. stainNamed is that above which water that nobody said to be dark is called
	// coloured, and stainGreyed what is added to it for the grey of the soaked white: clear
	// water in thin paper lets a warm table show through. Over bright orange tables 218
	// rendered photos had up to 12, and tea of up to 300 Hazen over white 6.
	stainSeen, stainNamed, stainGreyed = 8.0, 15.0, 20.0
	// mostGreyed is the most grey that this allows for: thin wet paper over a black table
	// still sends back half of the light.
	mostGreyed = 0.7
	// alikeWet is the least share of the most coloured wet white's chroma that another has.
	alikeWet = 0.5
)

// stain is the colour of the water over white: the share of light that it lets through
// in each channel of Adobe RGB (1998), linear. (Of the spaces tried, its channels are narrow
// enough to tell dyes apart and wide enough that no recorded colour falls below 0.)
type stain struct {
	through             [3]float64
	amount, amountError float64
	grey                float64 // error of all channels' logarithms together
}

// stain is the stain that a photo shows, or that the person tells of; nil for none.
func (l Light) stain(p Photo) *stain {
	wet := l.soaked(p.WetWhites)
	switch {
	case wet.chroma > wet.named() || wet.chroma > stainSeen && p.Water != charts.WaterClear:
		return &stain{wet.through, stainAmount, stainAmountError, math.Hypot(stainGreyError*wet.most(), greyDoubt*wet.grey)}
	case p.Water == charts.WaterTint:
		return &stain{through: tannin(), amount: 1, amountError: tanninError}
	}
	return nil
}

// soaked is what wet whites show.
type soaked struct {
	through [3]float64 // share of light that the stain lets through in each channel
	chroma  float64    // CIELAB
	grey    float64    // natural logarithm of what is missing in all channels
}

// named is the chroma above which water that nobody said to be dark is called coloured.
func (s soaked) named() float64 { return stainNamed + stainGreyed*math.Min(s.grey, mostGreyed) }

// most is the largest logarithm of a channel.
func (s soaked) most() float64 {
	return -math.Log(math.Min(s.through[0], math.Min(s.through[1], s.through[2])))
}

// soaked is what the soaked whites show together. Wet paper over a dark table is grey by
// itself, so grey alone is no stain: it is what the channel of sRGB lacks that is least
// absorbed. (Its channels are the narrowest of the usual spaces.)
func (l Light) soaked(wet []White) soaked {
	out := soaked{through: [3]float64{1, 1, 1}}
	var sum colorimetry.XYZ
	for _, w := range wet {
		sum = sum.Add(l.Relative(w.Sample).Scale(1 / float64(len(wet))))
	}
	narrow := colorimetry.SRGB.FromXYZ.Apply(sum)
	brightest := math.Max(narrow.X, math.Max(narrow.Y, narrow.Z))
	if !(brightest > 1e-3) {
		return out
	}
	c := sum.Scale(1 / brightest)
	out.chroma, _ = c.Lab(colorimetry.D50).LCh()
	out.grey = math.Max(0, -math.Log(brightest))
	for k, v := range channels(c) {
		out.through[k] = math.Max(leastThrough, math.Min(1, v*math.Exp(-greyShare*out.grey)))
	}
	return out
}

// channels are the linear channels of a colour in which a stain acts.
func channels(c colorimetry.XYZ) [3]float64 {
	v := colorimetry.AdobeRGB.FromXYZ.Apply(c)
	return [3]float64{v.X, v.Y, v.Z}
}

// over is a CIELAB colour under the stain, of the given amount, of which the share mixed
// is mixed in; each channel's absorption is multiplied by its factor.
func (w *stain) over(lab [3]float64, amount, mixed float64, factor [3]float64) [3]float64 {
	c := channels(colorimetry.Lab{L: lab[0], A: lab[1], B: lab[2]}.XYZ(colorimetry.D50))
	for k, r := range c {
		if !(r > 1e-3) { // no light of this channel is left to take away
			continue
		}
		t := math.Pow(w.through[k], math.Max(0, amount*factor[k]))
		c[k] = r * math.Exp((1-mixed)*math.Log(t)+mixed*math.Log(mixedIn(r, t)))
	}
	out := colorimetry.AdobeRGB.ToXYZ.Apply(colorimetry.XYZ{X: c[0], Y: c[1], Z: c[2]}).Lab(colorimetry.D50)
	return [3]float64{out.L, out.A, out.B}
}

// mixedIn is the share of a patch's reflectance r that is left when a stain that leaves
// the share t of white is mixed into it.
func mixedIn(r, t float64) float64 {
	const lightest = 0.97 // no paper sends back more
	r = math.Min(r, lightest)
	f := func(r float64) float64 { return sq(1-r) / (2 * r) }
	q := f(r) + f(t)
	return (1 + q - math.Sqrt(q*q+2*q)) / r
}

// stained is a colour of all parts under the stain, and what one standard deviation of
// each of the stain's errors changes in it.
func (w *stain) stained(lab []float64) (out []float64, errors [][]float64) {
	even := [3]float64{1, 1, 1}
	half := func(amount, mixed float64, channel int) []float64 {
		var d []float64
		for p := 0; p < len(lab); p += 3 {
			c := [3]float64(lab[p : p+3])
			more, less := even, even
			if channel >= 0 {
				more[channel], less[channel] = 1+stainChannelError, 1-stainChannelError
			}
			a := w.over(c, w.amount+amount, stainMixed+mixed, more)
			b := w.over(c, w.amount-amount, stainMixed-mixed, less)
			d = append(d, (a[0]-b[0])/2, (a[1]-b[1])/2, (a[2]-b[2])/2)
		}
		return d
	}
	errors = [][]float64{half(w.amountError, 0, -1), half(0, stainMixedError, -1), half(0, 0, 0), half(0, 0, 1), half(0, 0, 2)}
	var grey []float64
	for p := 0; p < len(lab); p += 3 {
		c := w.over([3]float64(lab[p:p+3]), w.amount, stainMixed, even)
		out = append(out, c[:]...)
		// L* = 116 Y^(1/3) - 16, so that ln Y changes L* by a third of L* + 16, and a* and b* by a third of themselves.
		d := w.grey / 3
		grey = append(grey, d*(c[0]+16), d*c[1], d*c[2])
	}
	return out, append(errors, grey)
}

// behind is the scale with its swatches under the stain, as a pad of their colour would look
// in this water. The swatches as they are printed are kept.
func (s Scale) behind(w *stain) Scale {
	if w == nil {
		return s
	}
	s.printed = s.nodes
	s.nodes = append([]colourAt(nil), s.nodes...)
	for i := range s.nodes {
		s.nodes[i].lab, s.nodes[i].stain = w.stained(s.nodes[i].lab)
	}
	s.chord = chords(s.nodes)
	return s
}

// asPrinted is the scale with its swatches as they are printed.
func (s Scale) asPrinted() Scale {
	if s.printed == nil {
		return s
	}
	s.nodes, s.printed = s.printed, nil
	s.chord = chords(s.nodes)
	return s
}

// waterAt is the covariance that the errors of the stain give to pad minus curve; it is
// empty without a stain.
func (s Scale) waterAt(i int, lo, hi float64) (out matrix) {
	if s.printed == nil {
		return out
	}
	out = newMatrix(3 * s.parts)
	for k, a := range s.nodes[i].stain {
		b := s.nodes[i+1].stain[k]
		d := make([]float64, len(a))
		for r := range d {
			d[r] = lo*a[r] + hi*b[r]
		}
		for r := range d {
			for c := range d {
				out.v[r*out.n+c] += d[r] * d[c]
			}
		}
	}
	return out
}

// Tannin, which makes water look like weak tea, absorbs exp(-0.015 (λ - 440 nm)) times its
// absorption at 440 nm (the slope usual in natural waters, after Bricaud, Morel and Prieur,
// Limnol. Oceanogr. 26 (1981) 43; from memory). Water of 18 Hazen (mg/L of platinum, ISO
// 7887) absorbs 1 a metre there (natural logarithm; Cuthbert and del Giorgio, Limnol.
// Oceanogr. 37 (1992) 1319; from memory). Water that people call weak tea has 25 to 300:
// tanninUsual is the middle, and tanninError its error as a share. Light goes tanninPath
// metres through the water in a pad and over it, by rendered scenes.
const (
	tanninUsual, tanninError = 160.0, 0.8
	tanninPath               = 0.002
	hazenPerMetre            = 18.0
)

// tannin is the share of light that water like weak tea lets through.
func tannin() (through [3]float64) {
	for k, nm := range [3]float64{610, 535, 455} { // middles of the channels
		through[k] = math.Exp(-tanninUsual / hazenPerMetre * math.Exp(-0.015*(nm-440)) * tanninPath)
	}
	return through
}

// checkWater warns of water whose colour or cloudiness spoils the pad's colour. What the
// person says and what was soaked can only add doubt.
func (r *Reading) checkWater(p Photo, light Light) {
	wet := light.soaked(p.WetWhites)
	w := Warning{Code: CodeColouredWater, Weight: Unreliable, Figure: wet.chroma, Threshold: wet.named(),
		Places: []Place{{Kind: PlacePad, Analyte: r.Analyte.Name}}}
	if p.Water != charts.WaterClear { // its stain is put over the swatches
		w.Threshold = stainSeen
	}
	seen, fault := w.Figure > w.Threshold, light.wetFault(p)
	switch {
	case p.Water == charts.WaterCloudy:
		w.Seen = "The water is cloudy, and what clouds it may colour the pad."
		w.Then = "Let the water stand two minutes: if it clears from below it was air, and you can dip a new strip and say that it is " +
			"clear. If it is still cloudy, send it to a laboratory as it is."
	case fault != "":
		w.Seen, w.Then = fault, soakAgain
	case seen:
		w.Weight = Caution
		w.Seen = fmt.Sprintf("The water is coloured: what it wetted lies %.0f from grey (CIELAB chroma), where clear water leaves under %.0f. "+
			"The swatches are compared as this stain makes them, and the range is wider for what is not known of it.", w.Figure, w.Threshold)
		w.Then = "Do not act on this reading alone: have the water tested by a laboratory."
	case p.Water == charts.WaterDark && len(p.WetWhites) > 0:
		w.Seen = "The water is coloured, but what it wetted shows no colour, so nobody can tell what it does to the pad."
		w.Then = soakAgain
	case p.Water == charts.WaterDark:
		w.Seen = "The water is coloured, and its colour lies over the pad's."
		w.Then = soakAgain
	default:
		return
	}
	r.warn(w)
}

const soakAgain = "Soak a corner of coffee filter in the same water, lay it on white beside the strip, take the photo again, and mark it " +
	"as wet white and the dry white as white. Otherwise have the water tested by a laboratory."

// wetFault says what is wrong with the wet whites as they are marked; it is empty where
// nothing is.
func (l Light) wetFault(p Photo) string {
	if len(p.WetWhites) == 0 {
		return ""
	}
	if l.Assumed {
		return "No dry white is marked, so nobody can tell the water's colour on the wet white from the light's."
	}
	least, most := math.Inf(1), 0.0
	for i, w := range p.WetWhites {
		if _, over := l.edgeIn(w.Sample); over {
			return fmt.Sprintf("The mark on wet white %d lies over an edge: it shows two colours.", i+1)
		}
		chroma := l.soaked(p.WetWhites[i : i+1]).chroma
		least, most = math.Min(least, chroma), math.Max(most, chroma)
	}
	if most > stainSeen && least < alikeWet*most {
		return "One wet white is far less coloured than another, so it is not soaked with the same water."
	}
	return ""
}
