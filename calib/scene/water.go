package scene

import (
	"math"

	"padband/charts"
)

// Water is what colours the sample: it lies in the pads and over them, and in a piece of
// paper that was soaked in it and marked as wet white.
type Water struct {
	Absorbs Spectrum // natural logarithm a metre
	Film    float64  // metres of water over pads and paper
	Pads    Paper
	Soaked  Paper
	Under   Spectrum // reflectance of what lies under the soaked paper
}

// Paper is a wet sheet. Paper scatters about 25,000 a metre when it is dry and a quarter
// of it, more or less, when water fills its pores (from memory).
type Paper struct {
	Thick   float64 // metres
	Scatter float64 // Kubelka and Munk's S, a metre
	Pores   float64 // share of the volume that holds water
}

// Tannin is the absorption of water that looks like weak tea: exp(-0.015 (λ - 440 nm)), the
// usual slope of natural waters (Bricaud, Morel and Prieur, Limnol. Oceanogr. 26 (1981) 43), and
// a metre's 1 at 440 nm for 18 Hazen (mg/L of platinum, ISO 7887; Cuthbert and del Giorgio,
// Limnol. Oceanogr. 37 (1992) 1319). Both are from memory.
func Tannin(hazen float64) (s Spectrum) {
	for i := range s {
		s[i] = hazen / 18 * math.Exp(-0.015*(wavelength(i)-440))
	}
	return s
}

// added is the K/S that the water adds to a paper: K is twice the absorption of what fills
// the pores, because diffuse light goes twice as far (Kubelka and Munk; from memory).
func (w *Water) added(p Paper) Spectrum { return w.Absorbs.scaled(2 * p.Pores / p.Scatter) }

// overFilm is a reflectance with the film of water over it.
func (w *Water) overFilm(s Spectrum) Spectrum {
	for i := range s {
		s[i] *= math.Exp(-2 * w.Film * w.Absorbs[i])
	}
	return s
}

// stain puts the water in the pads, whose surface has the gloss given. Nil is clear water.
func (w *Water) stain(pads []Spectrum, gloss float64) {
	if w == nil {
		return
	}
	added := w.added(w.Pads)
	for k, s := range pads {
		for i := range s {
			s[i] = (s[i] - gloss) / (1 - gloss)
		}
		s = w.overFilm(s.ratio().plus(1, &added).opaque())
		for i := range s {
			s[i] = gloss + (1-gloss)*s[i]
		}
		pads[k] = s
	}
}

// soaked is the reflectance of the soaked paper, of K/S base when dry, over what lies under
// it: Kubelka and Munk's for a layer of thickness X over a background g,
//
//	R = (1 - g (a - b coth bSX)) / (a - g + b coth bSX), a = 1 + K/S, b = sqrt(a² - 1)
//
// (P. Kubelka, J. Opt. Soc. Am. 38 (1948) 448; from memory).
func (w *Water) soaked(base Spectrum) Spectrum {
	q := w.added(w.Soaked)
	q = q.plus(1, &base)
	for i := range q {
		a := 1 + q[i]
		b := math.Sqrt(a*a - 1)
		coth := 1 / math.Tanh(b*w.Soaked.Scatter*w.Soaked.Thick)
		g := w.Under[i]
		q[i] = (1 - g*(a-b*coth)) / (a - g + b*coth)
	}
	return w.overFilm(q)
}

// laySoaked lays the soaked paper on the strip's bare end.
func (c *Config) laySoaked(s *sheet, f frame) {
	if c.Water == nil {
		return
	}
	white := whiteStuff(newDice(c.Seed, streamSurface+200))
	wet := c.Water.soaked(white.ratio())
	from := float64(f.pads)*f.padPitch - 0.15*f.size
	q := f.along(from, from+0.75*f.size, 0.2*f.size, 0.75*f.size)
	s.paint(q, material{spectrum: wet, rough: wet.scaled(0.95), texture: texture{kind: fine, amount: 0.1}})
	s.mark(q, charts.RoleWetWhite, "", 0, 0, "paper")
}
