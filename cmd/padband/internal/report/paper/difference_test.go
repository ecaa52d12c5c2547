package paper_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/history/difference"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// demoDifference compares the kitchen with itself, with a hardness two and a
// half steps lower, and with the cellar's pH.
func demoDifference(t *testing.T) difference.Input {
	t.Helper()
	a, b, cellar := paper.DemoPaper(t, "kitchen"), paper.DemoPaper(t, "kitchen"), paper.DemoPaper(t, "cellar")
	in := difference.Input{
		Subject: "Softener put in",
		Before: difference.Side{Source: a.Source, Subject: a.Subject, Facts: a.Facts, Missing: a.Missing,
			Fingerprint: paper.WholeSeal().Fingerprint},
		After: difference.Side{Source: b.Source, Subject: "Old mill, after treatment", Facts: b.Facts[:4],
			Missing: []string{"tester"}, Fingerprint: paper.WholeSeal().Fingerprint},
		NotCompared: []string{"Iron was read before alone."},
	}
	b.Readings[1] = lower(b.Readings[1], 60) // cells of the posterior, 24 a step
	b.Readings[2] = cellar.Readings[2]
	b.Readings[2].Reliability = calib.Unreliable
	for i := range a.Readings {
		c, err := judge.Difference(a.Readings[i], b.Readings[i])
		require.NoError(t, err)
		in.Pairs = append(in.Pairs, difference.Pair{Before: a.Readings[i], After: b.Readings[i], Change: c})
	}
	return in
}

// lower moves a reading down its chart by so many cells.
func lower(r calib.Reading, cells int) calib.Reading {
	move := func(p calib.Posterior) calib.Posterior {
		m := make([]float64, len(p.Mass))
		copy(m, p.Mass[cells:])
		p.Mass = m
		return p
	}
	r.Posterior, r.Water = move(r.Posterior), move(r.Water)
	v := func(q float64, p calib.Posterior) float64 { return r.Analyte.ValueAt(p.Quantile(q)) }
	r.Value, r.Bracket = v(0.5, r.Posterior), [2]float64{0, 40}
	r.Band.Low.Value, r.Band.High.Value = v(0.025, r.Posterior), v(0.975, r.Posterior)
	r.WaterBand.Low.Value, r.WaterBand.High.Value = v(0.025, r.Water), v(0.975, r.Water)
	return r
}

// doubtedDifference is that with one side not to be relied on and its photos exchanged.
func doubtedDifference(t *testing.T) difference.Input {
	t.Helper()
	in := demoDifference(t)
	in.Before.Source, in.Doubts = paper.DemoPaper(t, "cellar").Source, []string{"The photo named after was taken before " +
		"the one named before: are the two exchanged?"}
	for i := range in.Pairs {
		in.Pairs[i].Before, in.Pairs[i].Change.Direction = in.Before.Readings[i], judge.CannotTell
	}
	return in
}

// differing is a pair of invented readings with the change given.
func differing(direction judge.Direction, value float64, band, water calib.Band) difference.Pair {
	return difference.Pair{Before: reporttest.Nitrate(), After: reporttest.Nitrate(),
		Change: reporttest.Changing(direction, value, band, water)}
}

func TestDifferencePage(t *testing.T) {
	in := demoDifference(t)
	data, err := difference.Page(in)
	require.NoError(t, err)
	again, err := difference.Page(in)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))
	all := reporttest.Tree(t, data)
	paper.CheckAsksForNothing(t, string(data), all)
	text := strings.ReplaceAll(reporttest.Body(all), "\u00a0", " ")
	assert.Contains(t, text,
		"Nitrate, mg/L as N Not shown to have changed: the errors of strips and photos alone could make this difference. Before Between 7 and 12;")
	assert.Contains(t, text, "Total hardness, mg/L as CaCO3 Changed: it fell by ")
	assert.Contains(t, text, "pH Cannot tell whether it changed")
	assert.Contains(t, text, "After (Do not use this reading) Its own report says why.")
	assert.Contains(t, text, "before: Old mill, kitchen, photo taken 2026-11-14 08:41:10 -05:00, kitchen.jpg; after: Old "+
		"mill, after treatment, photo")
	assert.Contains(t, text, "Not compared Iron was read before alone.")
	assert.Contains(t, text, "errors are taken as independent")
	assert.Contains(t, text, "certified laboratory")
	assert.Len(t, reporttest.With(all, "reading-rule"), 9)
}

func TestDifferenceHostileNames(t *testing.T) {
	const evil = `<script>alert("1")</script>' onload="x" </style></title></svg>`
	p := differing(judge.Rose, 4.2, reporttest.Ends2(2.1, 6.5), reporttest.Ends2(1, 7.4))
	p.After.Analyte.Name, p.Before.Analyte.Unit, p.After.Analyte.Unit = evil, evil, evil
	side := difference.Side{Source: paper.Invented().Source, Subject: evil,
		Facts: []words.Entry{{Label: evil, Value: evil}}, Missing: []string{evil}, Fingerprint: evil}
	data, err := difference.Page(difference.Input{Subject: evil, Before: side, After: side, Pairs: []difference.Pair{p},
		NotCompared: []string{evil}})
	require.NoError(t, err)
	assert.NotContains(t, string(data), "<script")
	assert.Contains(t, reporttest.Body(reporttest.Tree(t, data)), evil)
}
