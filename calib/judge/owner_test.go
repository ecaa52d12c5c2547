package judge

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
)

// combination is one reading against one limit, as the owner of a house reads it.
type combination struct {
	what string
	r    calib.Reading
	l    limits.Limit
}

// combinations are readings of each grade under, at, over and past each kind of limit.
func combinations(t *testing.T) (out []combination) {
	t.Helper()
	nitrate := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{0, 5, 10, 15, 20, 25} {
		nitrate.Swatches = append(nitrate.Swatches, charts.Swatch{Value: v})
	}
	ph := charts.Analyte{Name: "pH", Unit: "pH", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{5, 6, 7, 8, 9, 10} {
		ph.Swatches = append(ph.Swatches, charts.Swatch{Value: v})
	}
	base := limits.Limit{Authority: "Some authority", Value: 10, Unit: nitrate.Measure(), Basis: limits.BasisSample}
	of := func(kind limits.LimitKind, basis limits.Basis) limits.Limit {
		l := base
		l.Kind, l.Basis = kind, basis
		return l
	}
	sides := limits.Limit{Authority: "Some authority", Low: 6.5, High: 8.5, Unit: ph.Measure(), Basis: limits.BasisSample}
	healthy := sides
	sides.Kind, healthy.Kind = limits.LimitAppearance, limits.LimitHealth
	classes := limits.Limit{Authority: "Some authority", Unit: nitrate.Measure(), Kind: limits.LimitClass,
		Classes: []limits.Class{{Name: "low", UpTo: 5}, {Name: "middle", UpTo: 15}, {Name: "high"}}}
	for _, k := range []struct {
		kind string
		a    charts.Analyte
		l    limits.Limit
	}{
		{"health", nitrate, of(limits.LimitHealth, limits.BasisSample)},
		{"taste", nitrate, of(limits.LimitAppearance, limits.BasisSample)},
		{"treatment", nitrate, of(limits.LimitTreatment, limits.BasisSample)},
		{"given", nitrate, of(limits.LimitGiven, limits.BasisSample)},
		{"average", nitrate, of(limits.LimitHealth, limits.BasisAverage)},
		{"classes", nitrate, classes}, {"two sides", ph, sides}, {"two sides, health", ph, healthy},
	} {
		for _, at := range []float64{0.3, 2, 4.7} {
			for _, grade := range []calib.Reliability{calib.Good, calib.Caution, calib.Unreliable} {
				for _, assumed := range []bool{false, true} {
					r := readingAt(k.a, at, 0.02)
					r.Reliability, r.KitAssumed = grade, assumed
					out = append(out, combination{fmt.Sprintf("%s, at %g, %s, kit assumed %v", k.kind, at, grade, assumed), r, k.l})
				}
			}
		}
	}
	return out
}

// Nothing that an owner reads first may sound as if water over a limit were good. `go
// test -v -run OwnerReads` prints the table.
func TestOwnerReadsNoGoodOfBadWater(t *testing.T) {
	for _, c := range combinations(t) {
		j := Against(c.r, c.l, 0)
		require.NotEmpty(t, j.Words, c.what)
		first := j.Words[0]
		t.Logf("%s: %s\n    %s", c.what, j.Verdict, strings.Join(j.Words, " "))
		assert.NotRegexp(t, `(?i)\b(good|safe|fine|ok|clear|clean|passes)\b`, first, c.what)
		assert.NotContains(t, first, "at most over 99 %", c.what)
		switch {
		case c.r.Reliability == calib.Unreliable:
			assert.Regexp(t, `^Cannot tell `, first, c.what)
			assert.NotRegexp(t, `(?i)below|within|under`, first, c.what)
		case c.l.TwoSided() && (j.Verdict == VerdictBelow || j.Verdict == VerdictAbove):
			assert.Regexp(t, `^Outside .*, too (low|high): `, first, c.what)
		case j.Verdict == VerdictAbove:
			assert.Regexp(t, `^Above `, first, c.what)
		case len(c.l.Classes) == 0 && !c.l.TwoSided() && j.Value > c.l.Value:
			assert.Regexp(t, `^Cannot tell|which is more than`, first, c.what)
		}
	}
}
