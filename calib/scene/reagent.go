package scene

import "math"

// reagent is the chemistry of one pad: the K/S of the dry paper, the dyes at
// unit amount, and how much of each dye there is at a value.
type reagent struct {
	base    Spectrum
	dyes    []Spectrum
	amounts func(value float64) []float64
}

// spectrumAt is the dry pad's reflectance at a value; strength scales all dyes
// (1 for the chart's colour; about 1 for the fibres of the pad).
func (r *reagent) spectrumAt(value, strength float64) Spectrum {
	q := r.base
	for i, amount := range r.amounts(value) {
		q = q.plus(strength*amount, &r.dyes[i])
	}
	return q.opaque()
}

// hill is the saturating response (v/half)^n / (1 + (v/half)^n), 0 at v <= 0.
func hill(v, half, n float64) float64 {
	if v <= 0 {
		return 0
	}
	p := math.Pow(v/half, n)
	return p / (1 + p)
}

// dissociated is the share of an acid-base dye in its basic form.
func dissociated(ph, pka, slope float64) float64 {
	return 1 / (1 + math.Pow(10, slope*(pka-ph)))
}

// usualWidth is the middle of the widths that [dice.around] draws.
const usualWidth = 0.883

// variety is how widely dyes and inks vary: 1 as a rule.
func (d dice) variety() float64 {
	if d.vary == 0 {
		return 1
	}
	return d.vary
}

// around makes a dye band with a drawn centre, widths and height.
func (d dice) around(peak, short, long, height float64) lobe {
	wide := func() float64 { return usualWidth * math.Pow(d.inLog(0.65, 1.2)/usualWidth, d.variety()) }
	return lobe{d.near(peak, 5*d.variety()), short * wide(), long * wide(), height * d.inLog(0.75, 1.33)}
}

// paper is the K/S of a dry reagent paper: white to cream.
func (d dice) paper() Spectrum {
	r := flat(d.in(0.80, 0.90))
	cream := edge(d.in(400, 440), -d.in(15, 35), d.in(0.02, 0.12))
	return r.plus(-1, &cream).ratio()
}

// family draws reagents of one kind. The values are the chart's swatches.
type family func(d dice, values []float64) reagent

// families are the kinds of reagent, by name.
var families = map[string]family{
	"pink":     pink,
	"violet":   violet,
	"hardness": hardness,
	"acid":     acid,
	"alkaline": alkaline,
	"fading":   fading,
	"turning":  turning,
	"reversed": reversed,
}

// span draws the value of half response, between the middle of the chart and past its top.
func (d dice) span(values []float64, low, high float64) float64 {
	return values[len(values)-1] * d.inLog(low, high)
}

// pink goes from white over pink to magenta, as azo dyes for nitrate and nitrite do.
func pink(d dice, values []float64) reagent {
	dye := lobes(d.around(535, 38, 30, 1), d.around(500, 30, 35, 0.45), d.around(405, 35, 40, 0.12))
	half, n, top := d.span(values, 0.25, 1.6), d.in(0.65, 1.15), d.inLog(1.2, 4)
	return reagent{d.paper(), []Spectrum{dye}, func(v float64) []float64 {
		return []float64{top * hill(v, half, n)}
	}}
}

// violet is a double-peaked radical dye over a growing yellow, as for chlorine.
func violet(d dice, values []float64) reagent {
	dye := lobes(d.around(512, 20, 18, 0.9), d.around(553, 18, 20, 1), d.around(470, 40, 20, 0.2))
	brown := lobes(d.around(430, 45, 50, 1))
	half, n, top := d.span(values, 0.25, 1.5), d.in(0.65, 1.1), d.inLog(0.8, 3)
	aged := d.in(0, 0.5)
	return reagent{d.paper(), []Spectrum{dye, brown}, func(v float64) []float64 {
		h := hill(v, half, n)
		return []float64{top * h, top * aged * h * h}
	}}
}

// hardness is a dye that turns from its free (blue or green) to its bound
// (violet to red) form, over a constant yellow on some papers.
func hardness(d dice, values []float64) reagent {
	free := lobes(d.around(625, 45, 32, 1), d.around(580, 35, 30, 0.35), d.around(410, 30, 40, 0.15))
	bound := lobes(d.around(535, 40, 28, 1), d.around(495, 35, 40, 0.4))
	yellow := lobes(d.around(425, 40, 40, 1))
	half, n, top := d.span(values, 0.15, 0.8), d.in(0.7, 1.3), d.inLog(0.5, 1.6)
	rest, tint := d.in(0.6, 1.4), d.in(0, 0.7)
	return reagent{d.paper(), []Spectrum{free, bound, yellow}, func(v float64) []float64 {
		h := hill(v, half, n)
		return []float64{top * (1 - h), top * rest * h, top * tint}
	}}
}

// acid is a mixture of two acid-base dyes: yellow to blue, and red to yellow.
func acid(d dice, values []float64) reagent {
	lo, hi := values[0], values[len(values)-1]
	yellow := lobes(d.around(432, 42, 38, 1))
	blue := lobes(d.around(605, 50, 30, 1), d.around(565, 35, 30, 0.3), d.around(395, 30, 30, 0.25))
	red := lobes(d.around(520, 45, 32, 1), d.around(470, 35, 35, 0.3))
	gold := lobes(d.around(440, 45, 40, 1))
	first, second := lo+(hi-lo)*d.in(0.45, 0.8), lo+(hi-lo)*d.in(0.05, 0.4)
	s1, s2 := d.in(0.5, 1)*2.2/(hi-lo)*1.2, d.in(0.5, 1)*2.2/(hi-lo)*1.2
	a, b := d.inLog(0.5, 2), d.inLog(0.3, 1.6)
	return reagent{d.paper(), []Spectrum{yellow, blue, red, gold}, func(v float64) []float64 {
		f, g := dissociated(v, first, s1), dissociated(v, second, s2)
		return []float64{a * (1 - f), a * f, b * (1 - g), b * g}
	}}
}

// alkaline is one dye from yellow over green to blue.
func alkaline(d dice, values []float64) reagent {
	yellow := lobes(d.around(438, 42, 40, 1))
	blue := lobes(d.around(616, 48, 28, 1), d.around(575, 30, 25, 0.3), d.around(400, 25, 25, 0.35))
	half, n, top := d.span(values, 0.2, 0.9), d.in(0.7, 1.4), d.inLog(0.5, 2)
	weak := d.in(0.6, 1.3)
	return reagent{d.paper(), []Spectrum{yellow, blue}, func(v float64) []float64 {
		h := hill(v, half, n)
		return []float64{top * (1 - h), top * weak * h}
	}}
}

// fading starts coloured and loses its dye.
func fading(d dice, values []float64) reagent {
	dye := lobes(d.around(d.in(480, 620), 45, 35, 1), d.around(d.in(400, 450), 35, 40, d.in(0.1, 0.6)))
	rest := lobes(d.around(d.in(410, 440), 40, 45, 1))
	half, n, top := d.span(values, 0.1, 0.5), d.in(0.8, 1.3), d.inLog(0.8, 3)
	left := d.in(0, 0.3)
	return reagent{d.paper(), []Spectrum{dye, rest}, func(v float64) []float64 {
		h := hill(v, half, n)
		return []float64{top * (1 - h), left * h}
	}}
}

// turning grows in one hue and then in another (yellow over orange to brown or purple).
func turning(d dice, values []float64) reagent {
	first := lobes(d.around(d.in(420, 455), 40, 40, 1))
	second := lobes(d.around(d.in(500, 590), 45, 40, 1))
	half, n := d.span(values, 0.05, 0.4), d.in(0.8, 1.4)
	late, m := d.span(values, 0.4, 1.5), d.in(1, 1.8)
	a, b := d.inLog(0.5, 2), d.inLog(1, 4)
	return reagent{d.paper(), []Spectrum{first, second}, func(v float64) []float64 {
		return []float64{a * hill(v, half, n), b * hill(v, late, m)}
	}}
}

// reversed darkens and then grows lighter again as the dye is bleached or
// turns into a weaker one: lightness does not run one way.
func reversed(d dice, values []float64) reagent {
	dark := lobes(d.around(d.in(540, 610), 45, 40, 1), d.around(450, 40, 40, d.in(0.1, 0.4)))
	light := lobes(d.around(d.in(430, 500), 45, 40, 1))
	half, n := d.span(values, 0.04, 0.2), d.in(0.8, 1.2)
	turn, m := d.span(values, 0.3, 0.9), d.in(1, 2)
	a, b := d.inLog(0.8, 2.5), d.in(0.4, 1.2)
	return reagent{d.paper(), []Spectrum{dark, light}, func(v float64) []float64 {
		h, t := hill(v, half, n), hill(v, turn, m)
		return []float64{a * h * (1 - 0.8*t), b * t}
	}}
}
