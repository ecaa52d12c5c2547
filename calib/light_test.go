package calib

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// A photo of 1000 by 750 pixels for the tests of the light.
const testWidth, testHeight = 1000, 750

func pt(x, y float64) colorimetry.Point { return colorimetry.Point{X: x, Y: y} }

// ring is nine white marks around and in the middle of the photo.
var ring = []colorimetry.Point{pt(60, 60), pt(500, 50), pt(940, 60), pt(50, 380), pt(500, 370), pt(950, 380), pt(60, 690),
	pt(500, 700), pt(940, 690)}

// between are places that no mark of the ring is at.
var between = []colorimetry.Point{pt(280, 210), pt(700, 200), pt(300, 540), pt(720, 560), pt(150, 400), pt(620, 370), pt(480, 600)}

// plane and bowl are lights that change by about a third over the photo.
func plane(p colorimetry.Point) colorimetry.XYZ {
	y := 0.8 * math.Exp(0.0003*(p.X-500)-0.0002*(p.Y-375))
	return colorimetry.XYZ{X: colorimetry.D50.X * y * math.Exp(2e-5*(p.X-500)), Y: y, Z: colorimetry.D50.Z * y * math.Exp(-6e-5*(p.Y-375))}
}

func bowl(p colorimetry.Point) colorimetry.XYZ {
	u, v := (p.X-500)/625, (p.Y-375)/625
	y := 0.8 * math.Exp(-0.25*u*u-0.15*v*v+0.1*u*v+0.05*u)
	return colorimetry.XYZ{X: colorimetry.D50.X * y, Y: y, Z: colorimetry.D50.Z * y}
}

// card marks white card at the places under a light.
func card(light func(colorimetry.Point) colorimetry.XYZ, places ...colorimetry.Point) []White {
	var out []White
	for _, p := range places {
		out = append(out, White{Material: "card", Sample: flat(p, colorimetry.Lab{L: 100}, light(p))})
	}
	return out
}

func fit(whites []White) Light { return FitLight(whites, testWidth, testHeight, colorimetry.D50) }

// ratioWithin compares two lights, channel by channel.
func ratioWithin(t *testing.T, want, got colorimetry.XYZ, tol float64, what string) {
	t.Helper()
	within(t, 1, got.X/want.X, tol, what+", X")
	within(t, 1, got.Y/want.Y, tol, what+", Y")
	within(t, 1, got.Z/want.Z, tol, what+", Z")
}

func TestLightFollowsPlaneAndBowl(t *testing.T) {
	for name, light := range map[string]func(colorimetry.Point) colorimetry.XYZ{"plane": plane, "bowl": bowl} {
		l := fit(card(light, ring...))
		assert.False(t, l.Assumed)
		for _, p := range between {
			ratioWithin(t, light(p), l.At(p), 0.01, name)
		}
	}
}

// sdAt is the stated standard deviation of ln Y at a place.
func sdAt(l Light, p colorimetry.Point) float64 {
	return math.Sqrt(l.Cov([]colorimetry.Point{p})[0].At(0, 0))
}

// Surfaces drawn from what the fit expects (ordinary light), marks with their
// expected noise: the error is within 1.96 stated standard deviations about 95
// times in 100 (standard normal).
func TestLightStatesItsError(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	blank := fit(card(plane, ring[0]))
	all := append(append([]colorimetry.Point(nil), ring...), between...)
	truth := surface{prior: lightPriors[0], scale: 1}
	var normal []colorimetry.Point
	for _, p := range all {
		normal = append(normal, blank.normal(p))
	}
	cov := mat.NewSymDense(len(all), nil)
	for i, p := range normal {
		for j := i; j < len(all); j++ {
			cov.SetSym(i, j, truth.kernel(p, normal[j])-1)
		}
		cov.SetSym(i, i, cov.At(i, i)+1e-10)
	}
	var root mat.Cholesky
	require.True(t, root.Factorize(cov))
	var lower mat.TriDense
	root.LTo(&lower)
	inside, n := 0, 0
	for range 300 {
		z := mat.NewVecDense(len(all), nil)
		for i := range all {
			z.SetVec(i, rng.NormFloat64())
		}
		var field mat.VecDense
		field.MulVec(&lower, z)
		var whites []White
		for i, p := range ring {
			y := 0.8 * math.Exp(field.AtVec(i)+lightPriors[0].noise*rng.NormFloat64())
			whites = append(whites, card(even(y), p)...)
		}
		l := fit(whites)
		for i, p := range between {
			want := math.Log(0.8) + field.AtVec(len(ring)+i)
			if math.Abs(math.Log(l.At(p).Y)-want) <= 1.96*sdAt(l, p) {
				inside++
			}
			n++
		}
	}
	share := float64(inside) / float64(n)
	t.Logf("%.3f of %d places within 1.96 standard deviations", share, n)
	assert.Greater(t, share, 0.90)
	assert.Less(t, share, 0.99)
}

// even is a neutral light of one level.
func even(y float64) func(colorimetry.Point) colorimetry.XYZ {
	return func(colorimetry.Point) colorimetry.XYZ {
		return colorimetry.XYZ{X: colorimetry.D50.X * y, Y: y, Z: colorimetry.D50.Z * y}
	}
}

func TestOneShadedMarkHardlyMovesTheLight(t *testing.T) {
	whites := card(plane, ring...)
	s := &whites[1].Sample.XYZ
	*s = colorimetry.XYZ{X: 0.7 * s.X, Y: 0.7 * s.Y, Z: 0.7 * s.Z}
	l := fit(whites)
	for _, p := range between {
		within(t, 1, l.At(p).Y/plane(p).Y, 0.025, "light beside one mark in shadow")
	}
	within(t, math.Log(0.7), l.Residuals[1], 0.08, "the mark's own distance")
}

// Paper 12 % darker and yellower than the card is found to be so, and the
// light at it is the card's.
func TestMaterialsHaveTheirOwnOffset(t *testing.T) {
	whites := card(plane, ring[:6]...)
	for _, p := range append(ring[6:], between[2:4]...) {
		w := card(plane, p)[0]
		w.Material = "paper"
		w.Sample.XYZ = colorimetry.XYZ{X: 0.88 * w.Sample.XYZ.X, Y: 0.88 * w.Sample.XYZ.Y, Z: 0.88 * 0.95 * w.Sample.XYZ.Z}
		whites = append(whites, w)
	}
	l := fit(whites)
	for _, p := range between {
		ratioWithin(t, plane(p), l.At(p), 0.015, "card and paper")
	}
	within(t, math.Log(0.88), l.surfaces[0].offset(len(whites)-1), 0.01, "offset of the paper")
	within(t, math.Log(0.95), l.surfaces[2].offset(len(whites)-1), 0.01, "its colour")
	assert.Zero(t, l.surfaces[0].offset(0), "the commonest material is the reference")
}

func TestOneMarkGivesConstantLight(t *testing.T) {
	l := fit(card(even(0.7), pt(100, 100)))
	last := 0.0
	for _, d := range []float64{0, 60, 150, 300, 600} {
		p := pt(100+d, 100+d/2)
		ratioWithin(t, even(0.7)(p), l.At(p), 0.001, "one mark")
		assert.Greater(t, sdAt(l, p), last, "%v pixels from the mark", d)
		last = sdAt(l, p)
	}
	assert.Greater(t, last, 0.02, "far from the only mark the light is not known to 2 %")
}

func TestNoMarkIsAssumed(t *testing.T) {
	guess := even(0.6)(pt(0, 0))
	l := FitLight(nil, testWidth, testHeight, guess)
	assert.True(t, l.Assumed)
	ratioWithin(t, guess, l.At(pt(300, 300)), 1e-9, "the guess")
	assert.Greater(t, sdAt(l, pt(300, 300)), 5*sdAt(fit(card(even(0.6), ring...)), pt(300, 300)))
}

// The covariance of places side by side is nearly full, so that what pad and
// swatch share cancels; far places share less.
func TestLightErrorsAreShared(t *testing.T) {
	l := fit(card(plane, ring[0], ring[2], ring[6]))
	share := func(p, q colorimetry.Point) float64 {
		c := l.Cov([]colorimetry.Point{p, q})[0]
		return c.At(0, 1) / math.Sqrt(c.At(0, 0)*c.At(1, 1))
	}
	assert.Greater(t, share(pt(700, 500), pt(720, 500)), 0.98)
	assert.Less(t, share(pt(700, 500), pt(250, 150)), 0.6)
}

// What [sampleNoise] propagates agrees with what a simulation of the samples
// scatters: the covariance of CIELAB from that of XYZ, to first order.
func TestNoiseAgreesWithSimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	s := flat(pt(400, 300), colorimetry.Lab{L: 65, A: 35, B: -4}, even(0.75)(pt(0, 0)))
	s.Cov = [3][3]float64{{9e-4, 7e-4, 4e-4}, {7e-4, 8e-4, 3e-4}, {4e-4, 3e-4, 11e-4}}
	s.Effective = 50
	l := fit(card(even(0.75), ring...))
	rel := l.Relative(s)
	slope := [3]float64{rel.X / s.XYZ.X, rel.Y / s.XYZ.Y, rel.Z / s.XYZ.Z}
	got := sampleNoise(block(colorimetry.LabJacobian(rel, colorimetry.D50)), slope, s)
	cov := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := i; j < 3; j++ {
			cov.SetSym(i, j, s.MeanCov()[i][j])
		}
	}
	var root mat.Cholesky
	require.True(t, root.Factorize(cov))
	var lower mat.TriDense
	root.LTo(&lower)
	const n = 40000
	var draws [n][3]float64
	var mean [3]float64
	for k := range draws {
		var d mat.VecDense
		d.MulVec(&lower, mat.NewVecDense(3, []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}))
		one := s
		one.XYZ = colorimetry.XYZ{X: s.XYZ.X + d.AtVec(0), Y: s.XYZ.Y + d.AtVec(1), Z: s.XYZ.Z + d.AtVec(2)}
		lab := l.Relative(one).Lab(colorimetry.D50)
		draws[k] = [3]float64{lab.L, lab.A, lab.B}
		for i, v := range draws[k] {
			mean[i] += v / n
		}
	}
	for i := range 3 {
		for j := range 3 {
			v := 0.0
			for _, d := range draws {
				v += (d[i] - mean[i]) * (d[j] - mean[j]) / n
			}
			want := v
			if i == j {
				want += sq(markingError)
			}
			assert.InDelta(t, want, got[i][j], 0.04*math.Sqrt(got[i][i]*got[j][j]), "covariance %d, %d", i, j)
		}
	}
}

// The derivative of CIELAB by the light agrees with a small change of it.
func TestLightToLabAgreesWithAChangeOfLight(t *testing.T) {
	c := colorimetry.Lab{L: 60, A: 30, B: 20}.XYZ(colorimetry.D50)
	d := lightToLab(block(colorimetry.LabJacobian(c, colorimetry.D50)), c)
	base := c.Lab(colorimetry.D50)
	const e = 1e-5
	for k, by := range [3]colorimetry.XYZ{{X: e, Y: e, Z: e}, {X: e}, {Z: e}} {
		lab := colorimetry.XYZ{X: c.X * math.Exp(-by.X), Y: c.Y * math.Exp(-by.Y), Z: c.Z * math.Exp(-by.Z)}.Lab(colorimetry.D50)
		for r, v := range [3]float64{lab.L - base.L, lab.A - base.A, lab.B - base.B} {
			within(t, d[r][k], v/e, 0.01, "derivative")
		}
	}
}

// Bare white that was found makes the light better known where nobody marked white, and
// is no white area of its own to warn of.
func TestFoundWhiteShowsTheLight(t *testing.T) {
	for name, light := range map[string]func(colorimetry.Point) colorimetry.XYZ{"plane": plane, "bowl": bowl} {
		whites := card(light, ring[4])
		found := card(light, ring[0], ring[1], ring[2], ring[6], ring[8])
		for i := range found {
			found[i].Found = true
		}
		alone, together := fit(whites), fit(append(whites, found...))
		assert.Len(t, together.Residuals, 1, name)
		before, after := 0.0, 0.0
		for _, p := range between {
			before = math.Max(before, math.Abs(math.Log(alone.At(p).Y/light(p).Y)))
			after = math.Max(after, math.Abs(math.Log(together.At(p).Y/light(p).Y)))
			assert.Less(t, together.Cov([]colorimetry.Point{p})[0].At(0, 0), alone.Cov([]colorimetry.Point{p})[0].At(0, 0), name)
		}
		assert.Less(t, after, before/2, name)
	}
}

// Found whites that are smooth cannot make light look even that the marked whites show
// to be steep, and count for less than marked ones.
func TestFoundWhiteCountsForLess(t *testing.T) {
	whites := card(plane, ring...)
	found := card(plane, between...)
	for i := range found {
		found[i].Found = true
		found[i].Sample.XYZ = found[i].Sample.XYZ.Scale(0.97)
	}
	l := fit(append(whites, found...))
	both := fit(append(card(plane, ring...), unfound(found)...))
	for _, p := range between {
		assert.Less(t, math.Abs(math.Log(l.At(p).Y/plane(p).Y)), math.Abs(math.Log(both.At(p).Y/plane(p).Y)))
	}
	assert.GreaterOrEqual(t, l.surfaces[0].scale, fit(card(plane, ring...)).surfaces[0].scale)
}

// unfound are the same whites as if they had been marked.
func unfound(whites []White) []White {
	out := slices.Clone(whites)
	for i := range out {
		out[i].Found = false
	}
	return out
}
