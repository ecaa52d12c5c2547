package report

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

func ends2(low, high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: high}, Coverage: 0.95}
}

func openLow(high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: -20, Open: true}, High: calib.Bound{Value: high}, Coverage: 0.95}
}

func openHigh(low float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: 20, Open: true}, Coverage: 0.95}
}

// differing is a pair of invented readings with the change given.
func differing(direction judge.Direction, value float64, band, water calib.Band) Pair {
	return Pair{nitrate(), nitrate(), judge.Change{Value: value, Band: band, WaterBand: water, Direction: direction, Reliability: calib.Good}}
}

func TestChangeWords(t *testing.T) {
	const errors = ", with the strips' own errors as the charts give them."
	none := math.NaN()
	for _, k := range []struct {
		p           Pair
		first, says string
	}{
		{differing(judge.Rose, 4.2, ends2(2.1, 6.5), ends2(1, 7.4)), "Changed: it rose by 4.2 mg/L as N.", "Band 2.1 to 6.5; water band 1.0 to 7.4" + errors},
		{differing(judge.Fell, -4.2, ends2(-6.5, -2.1), ends2(-7.4, -1)), "Changed: it fell by 4.2 mg/L as N.", "Band 2.1 to 6.5; water band 1.0 to 7.4" + errors},
		{differing(judge.Fell, none, openLow(-8), openLow(-7)), "Changed: it fell by at least 7.0 mg/L as N.", "Band at least 8.0; water band at least 7.0" + errors},
		{differing(judge.Rose, none, openHigh(8), openHigh(7)), "Changed: it rose by at least 7.0 mg/L as N.", "Band at least 8.0; water band at least 7.0" + errors},
		{
			differing(judge.NotShown, 1.2, ends2(-0.5, 3), ends2(-2.1, 4.5)), "Not shown to have changed: zero lies within the water band.",
			"The difference reads +1.2 mg/L as N; band −0.5 to +3.0; water band −2.1 to +4.5" + errors,
		},
		{differing(judge.NotShown, 0, ends2(-2, 2), ends2(-3, 3)), "Not shown to have changed: zero lies within the water band.", "The difference reads 0 mg/L as N; band −2.0 to +2.0; water band −3.0 to +3.0" + errors},
		{
			differing(judge.NotShown, none, calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}, calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}),
			"Not shown to have changed: zero lies within the water band.", "Band open on both sides; water band open on both sides" + errors,
		},
		{differing(judge.NotShown, none, openLow(1.4), openLow(2.4)), "Not shown to have changed: zero lies within the water band.", "Band at most +1.4; water band at most +2.4" + errors},
		{
			differing(judge.CannotTell, 1.2, ends2(0.5, 3), ends2(0.1, 4.5)), "Cannot tell whether it changed: one of the readings is not to be relied on.",
			"The difference reads +1.2 mg/L as N; band +0.5 to +3.0; water band +0.1 to +4.5" + errors,
		},
	} {
		first, says := changeWords(k.p)
		assert.Equal(t, k.first, first)
		assert.Equal(t, []string{k.says}, says)
	}
	p := differing(judge.Rose, 4.2, ends2(2.1, 6.5), ends2(1, 7.4))
	p.Change.KitAssumed = true
	_, says := changeWords(p)
	assert.Contains(t, says[0], "assumed in part: half a step")
}

// What is shown to have changed never prints as nothing.
func TestSmallChangesKeepTheirFigures(t *testing.T) {
	first, says := changeWords(differing(judge.Rose, 0.04, ends2(0.01, 2), ends2(0.0004, 3)))
	assert.NotContains(t, first, "by 0 ")
	assert.Equal(t, "Changed: it rose by under 0.1 mg/L as N.", first)
	assert.Contains(t, says[0], "water band under 0.1 to 3.0")
}

// The line holds zero, the value and both bands, on round numbers, few of them.
func TestDifferenceAxis(t *testing.T) {
	for _, c := range []judge.Change{
		{Band: ends2(2.1, 6.5), WaterBand: ends2(1, 7.4)}, {Band: ends2(-600, -20), WaterBand: ends2(-700, -10)}, {Band: ends2(-0.004, 0.001), WaterBand: ends2(-0.006, 0.003)},
		{Band: openLow(-8), WaterBand: openLow(-7)}, {Band: openHigh(8), WaterBand: openHigh(7)}, {Band: ends2(0, 0), WaterBand: ends2(0, 0)},
		{Band: calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}, WaterBand: calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}},
	} {
		a := newAxis(c)
		assert.LessOrEqual(t, a.from, 0.0)
		assert.GreaterOrEqual(t, a.to, 0.0)
		for _, b := range []calib.Band{c.Band, c.WaterBand} {
			for _, e := range []calib.Bound{b.Low, b.High} {
				if !e.Open {
					assert.True(t, a.from <= e.Value+1e-12 && e.Value <= a.to+1e-12, "%v holds %v", a, e.Value)
				}
			}
		}
		ticks := (a.to - a.from) / a.step
		assert.InDelta(t, math.Round(ticks), ticks, 1e-6)
		assert.LessOrEqual(t, math.Round(ticks), float64(lines.MostTicks+1))
		assert.GreaterOrEqual(t, math.Round(ticks), 1.0)
	}
}

// Past an open end there is room to see that it is open.
func TestDifferenceAxisHasRoomForAnOpenEnd(t *testing.T) {
	assert.Less(t, newAxis(judge.Change{Band: openLow(-8), WaterBand: openLow(-8)}).from, -8.0)
	assert.Greater(t, newAxis(judge.Change{Band: openHigh(8), WaterBand: openHigh(8)}).to, 8.0)
}

func TestDifferenceDrawing(t *testing.T) {
	d := drawDifference(7, differing(judge.NotShown, 1, ends2(-2, 4), ends2(-4, 6)))
	var numbers []string
	for _, n := range d.Numbers {
		numbers = append(numbers, n.Text)
	}
	assert.Equal(t, []string{"−4", "−2", "0", "+2", "+4", "+6"}, numbers)
	at := map[string]string{}
	for _, l := range d.Lines {
		if l.X1 == l.X2 {
			at[l.Class] = l.X1
		}
	}
	assert.Equal(t, px(56+284*0.4), at["zero"])
	assert.Equal(t, px(56+284*0.5), at["value"])
	require.Len(t, d.Bars, 1)
	assert.Equal(t, box{px(56 + 284*0.2), "34", px(284 * 0.6), "10"}, d.Bars[0])
	assert.Contains(t, d.Desc, "Not shown to have changed")
	d = drawDifference(7, differing(judge.Fell, math.NaN(), openLow(-8), openLow(-7)))
	for _, l := range d.Lines {
		assert.NotEqual(t, "value", l.Class)
	}
	assert.Equal(t, px(svgLeft-svgPast), d.Bars[0].X, "an open end runs to the line's end")
}

func TestDifferencePage(t *testing.T) {
	in := demoDifference(t)
	data, err := Difference(in)
	require.NoError(t, err)
	again, err := Difference(in)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))
	all := tree(t, data)
	checkAsksForNothing(t, string(data), all)
	text := strings.ReplaceAll(body(all), "\u00a0", " ")
	assert.Contains(t, text, "Nitrate, mg/L as N Not shown to have changed: zero lies within the water band. Before Between 7 and 12;")
	assert.Contains(t, text, "Total hardness, mg/L as CaCO3 Changed: it fell by ")
	assert.Contains(t, text, "pH Cannot tell whether it changed")
	assert.Contains(t, text, "After (Unreliable) Do not rely on this reading; its own report says why.")
	assert.Contains(t, text, "before: Old mill, kitchen, photo taken 2026-11-14 08:41:10 -05:00, kitchen.jpg; after: Old mill, after treatment, photo")
	assert.Contains(t, text, "Not compared Iron was read before alone.")
	assert.Contains(t, text, "errors are taken as independent")
	assert.Contains(t, text, "certified laboratory")
	assert.Len(t, with(all, "reading-rule"), 9)
}

// A fact of one side is said to be missing on the other, one of neither once.
func TestSideRows(t *testing.T) {
	a := Side{Facts: []Entry{{"Place", "kitchen"}, {"Kit, lot", "A"}}, Missing: []string{"tester", "time of the dip"}, Source: source(), Fingerprint: "0123"}
	b := Side{Facts: []Entry{{"Place", "cellar"}, {"time of the dip", "08:40"}}, Missing: []string{"tester"}, Source: source()}
	rows, missing := sideRows(a, b)
	assert.Equal(t, []sideRow{
		{"Place", "kitchen", "cellar"}, {"Kit, lot", "A", "not given"}, {"time of the dip", "not given", "08:40"},
		{"Chart and its version", "orchard-well 2", "orchard-well 2"}, {"SHA-256 of the photo", "aa", "aa"}, {"Fingerprint of the record", "0123", "not given"},
	}, rows)
	assert.Equal(t, []string{"tester"}, missing)
}

func TestDifferenceHostileNames(t *testing.T) {
	const evil = `<script>alert("1")</script>' onload="x" </style></title></svg>`
	p := differing(judge.Rose, 4.2, ends2(2.1, 6.5), ends2(1, 7.4))
	p.After.Analyte.Name, p.Before.Analyte.Unit, p.After.Analyte.Unit = evil, evil, evil
	side := Side{Source: source(), Subject: evil, Facts: []Entry{{evil, evil}}, Missing: []string{evil}, Fingerprint: evil}
	data, err := Difference(DifferenceInput{Subject: evil, Before: side, After: side, Pairs: []Pair{p}, NotCompared: []string{evil}})
	require.NoError(t, err)
	assert.NotContains(t, string(data), "<script")
	assert.Contains(t, body(tree(t, data)), evil)
}
