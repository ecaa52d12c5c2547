package scene

import (
	"fmt"
	"math"

	"padband/colorimetry"
)

// faded is a print whose density over its paper has lost a share.
func (s Spectrum) faded(paper, share *Spectrum) Spectrum {
	for i, lost := range share {
		if lost > 0 && s[i] > 0 {
			s[i] = paper[i] * math.Pow(s[i]/paper[i], 1-lost)
		}
	}
	return s
}

// press is how a chart is printed: inks over paper, as a halftone
// (Yule-Nielsen with Demichel's areas, inks overprinting as filters) or as
// mixed opaque inks (Kubelka-Munk).
type press struct {
	paper   Spectrum   // reflectance
	inks    []Spectrum // halftone: transmittance of a full layer, to the power 1/n; mixed: K/S at full strength
	liking  []float64  // how readily each ink is used
	n       float64    // Yule-Nielsen factor
	mixed   bool
	surface float64 // reflected by the print's surface, unfiltered
}

// inkSet is the optical density of the inks of a press: cyan, magenta,
// yellow, black, orange, green, violet; each press draws its own about these.
func inkSet(d dice) []Spectrum {
	k := d.inLog(0.9, 1.25)
	cyan := lobes(d.around(635, 50, 90, 1.45*k), d.around(430, 30, 30, 0.12))
	magenta := lobes(d.around(555, 38, 24, 1.3*k), d.around(520, 30, 25, 0.5), d.around(420, 50, 40, 0.3))
	yellow := lobes(d.around(435, 60, 32, 1.3*k), d.around(470, 30, 18, 0.3))
	black := flat(1.6 * k)
	orange := lobes(d.around(480, 60, 50, 1.3*k), d.around(410, 60, 40, 0.8))
	green := lobes(d.around(645, 45, 60, 1.3*k), d.around(425, 50, 35, 0.9))
	violet := lobes(d.around(585, 45, 40, 1.3*k), d.around(535, 35, 30, 0.6))
	return []Spectrum{cyan, magenta, yellow, black, orange, green, violet}
}

// drawPress draws a press for a paper.
func drawPress(d dice, paper Spectrum) press {
	p := press{paper: paper, n: d.in(1.4, 2.6), mixed: d.chance(0.35), surface: d.in(0, 0.012)}
	for i, density := range inkSet(d) {
		p.inks = append(p.inks, density.scaled(2.2))
		if !p.mixed {
			p.inks[i] = filter(&density, p.n)
		}
		p.liking = append(p.liking, d.inLog(0.2, 1))
	}
	p.liking[3] = d.inLog(0.01, 0.6)
	if d.chance(0.4) { // a plain four-colour press: the others only as far as they are needed
		p.liking[4], p.liking[5], p.liking[6] = 0.01, 0.01, 0.01
	}
	return p
}

// filter is 10^(-density/n).
func filter(density *Spectrum, n float64) (s Spectrum) {
	for i := range s {
		s[i] = math.Pow(10, -density[i]/n)
	}
	return s
}

// print returns the reflectance of the inks at their amounts (0-1) and its slope for each ink.
func (p *press) print(amounts []float64) (Spectrum, []Spectrum) {
	slopes := make([]Spectrum, len(amounts))
	var out Spectrum
	for i := range out {
		if p.mixed {
			out[i] = p.mixedAt(i, amounts, slopes)
		} else {
			out[i] = p.halftoneAt(i, amounts, slopes)
		}
		out[i] = p.surface + (1-p.surface)*out[i]
	}
	return out, slopes
}

func (p *press) halftoneAt(i int, amounts []float64, slopes []Spectrum) float64 {
	root := 1.0
	for j, a := range amounts {
		root *= 1 - a + a*p.inks[j][i]
	}
	r := p.paper[i] * math.Pow(root, p.n)
	for j, a := range amounts {
		t := p.inks[j][i]
		slopes[j][i] = (1 - p.surface) * p.n * r * (t - 1) / (1 - a + a*t)
	}
	return r
}

func (p *press) mixedAt(i int, amounts []float64, slopes []Spectrum) float64 {
	q := absorption(p.paper[i])
	for j, a := range amounts {
		q += a * p.inks[j][i]
	}
	root := math.Sqrt(q*q + 2*q)
	for j := range amounts {
		slopes[j][i] = (1 - p.surface) * (1 - (q+1)/root) * p.inks[j][i]
	}
	return 1 + q - root
}

// matchTolerance is how far (CIE76) a print may be from the colour asked for.
const matchTolerance = 0.1

// match finds inks whose print has the colour wanted under the viewer's light,
// using the inks that are liked most. It fails when the press cannot print the colour.
func (p *press) match(v *viewer, want colorimetry.Lab) (Spectrum, error) {
	amounts := make([]float64, len(p.inks))
	for i := range amounts {
		amounts[i] = 0.05 * p.liking[i]
	}
	var got Spectrum
	for range 60 {
		var slopes []Spectrum
		got, slopes = p.print(amounts)
		miss := difference(want, v.lab(&got))
		if norm(miss) < matchTolerance/4 {
			return got, nil
		}
		p.step(amounts, labSlopes(v, &got, slopes), miss)
	}
	if off := colorimetry.DeltaE76(want, v.lab(&got)); off > matchTolerance {
		return got, fmt.Errorf("scene: this press cannot print L*a*b* %.1f %.1f %.1f (off by %.1f)", want.L, want.A, want.B, off)
	}
	return got, nil
}

// step moves the amounts by the smallest weighted step that removes the miss;
// inks at a limit that would leave it are held.
func (p *press) step(amounts []float64, slope [][3]float64, miss [3]float64) {
	weight := make([]float64, len(amounts))
	for i := range weight {
		weight[i] = p.liking[i]
	}
	for range 3 {
		move := leastStep(slope, weight, miss)
		held := false
		for i, m := range move {
			if weight[i] > 0 && (amounts[i] <= 0 && m < 0 || amounts[i] >= 1 && m > 0) {
				weight[i], held = 0, true
			}
		}
		if !held {
			for i, m := range move {
				amounts[i] = min(1, max(0, amounts[i]+min(0.25, max(-0.25, m))))
			}
			return
		}
	}
}

// leastStep solves slope' x = miss for the x of least weighted length.
func leastStep(slope [][3]float64, weight []float64, miss [3]float64) []float64 {
	var m colorimetry.Matrix3
	for i, s := range slope {
		for r := range 3 {
			for c := range 3 {
				m[r][c] += weight[i] * s[r] * s[c]
			}
		}
	}
	for r := range 3 {
		m[r][r] += 1e-2
	}
	back, _ := m.Inverse() // positive definite
	y := back.Vec(miss)
	out := make([]float64, len(slope))
	for i, s := range slope {
		out[i] = weight[i] * (s[0]*y[0] + s[1]*y[1] + s[2]*y[2])
	}
	return out
}

// labSlopes turns slopes of reflectance into slopes of CIELAB.
func labSlopes(v *viewer, got *Spectrum, slopes []Spectrum) [][3]float64 {
	jacobian := colorimetry.LabJacobian(v.xyz(got), v.white)
	out := make([][3]float64, len(slopes))
	for i := range slopes {
		s := v.xyz(&slopes[i])
		out[i] = jacobian.Vec([3]float64{s.X, s.Y, s.Z})
	}
	return out
}

func difference(a, b colorimetry.Lab) [3]float64 { return [3]float64{a.L - b.L, a.A - b.A, a.B - b.B} }

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }
