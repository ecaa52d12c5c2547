package table

import (
	"math"

	"padband/colorimetry"
)

// dyes are how strongly invented dyes take up red, green and blue light.
var dyes = []rgb{
	{0.03, 0.12, 1}, {0.08, 0.6, 1.1}, {0.1, 0.9, 0.35}, {0.1, 1.2, 1}, {0.6, 1, 0.25}, {1.1, 0.5, 0.12},
	{1.2, 0.35, 0.4}, {1, 0.25, 0.9}, {0.5, 0.4, 1.2}, {0.5, 0.9, 1.4},
}

// series is the colour of one analyte from its lowest swatch (0) to its highest (1).
type series struct {
	paper  rgb
	first  rgb // absorbances at 0
	second rgb // and at 1
	bend   float64
	white  float64 // the place, 0 or 1, where the colour is nearly that of white paper; -1: none
}

// at is the colour at a place.
func (s *series) at(t float64) rgb {
	k := math.Pow(math.Max(0, t), s.bend)
	var c rgb
	for i := range c {
		c[i] = s.paper[i] * math.Exp(-s.first[i]-k*(s.second[i]-s.first[i]))
	}
	return c
}

// dye draws a dye of a strength.
func (d dice) dye(strength float64) rgb {
	c := pick(d, dyes)
	for i := range c {
		c[i] *= strength * d.inLog(0.8, 1.25)
	}
	return c
}

// series draws the colours of an analyte of n swatches: neighbours are told apart by the eye.
func (d dice) series(n int, least float64) series {
	var s series
	for range 200 {
		s = d.anySeries()
		if s.closest(n) >= least {
			break
		}
	}
	return s
}

func (d dice) anySeries() series {
	s := series{paper: d.white(), bend: d.inLog(0.6, 1.5), white: -1}
	faint, strong := d.inLog(0.01, 0.06), d.inLog(1, 3)
	switch d.weighed(5, 1, 2, 2) {
	case 0: // from white on
		s.second, s.white = d.dye(strong), 0
		s.first = s.second.times(faint / strong)
	case 1: // bleached
		s.first, s.white = d.dye(strong), 1
		s.second = s.first.times(faint / strong)
	case 2: // from one colour to another
		s.first, s.second = d.dye(d.inLog(0.5, 1.5)), d.dye(strong)
	case 3: // a pale colour grows strong and turns
		s.first = d.dye(d.in(0.15, 0.4))
		second := d.dye(strong)
		s.second = rgb{second[0] + s.first[0], second[1] + s.first[1], second[2] + s.first[2]}
	}
	return s
}

// closest is the least colour difference of neighbours, CIE76.
func (s *series) closest(n int) float64 {
	least := math.Inf(1)
	for i := range n - 1 {
		a, b := s.at(float64(i)/float64(n-1)), s.at(float64(i+1)/float64(n-1))
		least = math.Min(least, colorimetry.DeltaE76(a.lab(), b.lab()))
	}
	return least
}
