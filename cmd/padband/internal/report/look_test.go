package report

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
)

func demoPaper(t *testing.T, name string) (PaperInput, *strip.Result) {
	t.Helper()
	const dir = "../../../../testdata/demo/"
	data, err := os.ReadFile(dir + name + ".jpg")
	require.NoError(t, err)
	text, err := os.ReadFile(dir + name + ".marks.json")
	require.NoError(t, err)
	marks, err := charts.ParseMarks(text)
	require.NoError(t, err)
	text, err = os.ReadFile("../../../../charts/bundled/orchard-well.chart.json")
	require.NoError(t, err)
	chart, err := charts.ParseChart(text)
	require.NoError(t, err)
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart, Marks: marks})
	require.NoError(t, err)
	return PaperInput{
		Source: Of(name+".jpg", "cc", "1.2.3", r), Subject: "Kitchen, tap", Crop: Crops(r), Preview: Preview(r),
		Facts:   []Entry{{"Place", "kitchen"}, {"Sampling point", "tap"}, {"Photo taken", "2026-11-14T08:41:10-05:00"}, {"Kit, lot", "OW-2418"}, {"Kit, expires", "2027-05"}, {"Kit, opened", "2026-09-01"}, {"Photo received", "from its file"}, {"Position in the photo", "no"}, {"Program", "padband 1.2.3, method 2"}},
		Missing: []string{"dipped", "tester", "handling rule followed"},
		Hashes:  []Entry{{"photo", r.Photo.Facts.SHA256}, {"chart", r.Photo.Facts.SHA256}, {"marks", r.Photo.Facts.SHA256}, {"reading", r.Photo.Facts.SHA256}},
		Signer:  "SHA256:0123456789abcdefghijklmnopqrstuvwxyzABCDEFG", Attached: []string{"label.jpg", "meter.jpg"},
	}, r
}

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("look")
	}
	write := func(name string, in PaperInput) {
		data, err := Paper(in)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".html"), data, 0o644))
	}
	in, _ := demoPaper(t, "kitchen")
	in.Judgements = map[string][]string{"nitrate": {"Against 10 mg/L as N (a yardstick): cannot tell, 28 % over. A strip cannot clear water for drinking."}}
	write("good", in)
	in.Seal = &Seal{Fingerprint: "0123 4567 89ab cdef 0123", Findings: []string{"Every file is as it was when the record was made.", "Signed by installer@example.org."}}
	write("sealed", in)
	in, _ = demoPaper(t, "cellar")
	in.Subject = "Cellar, raw"
	write("cellar", in)
	for i := range in.Readings {
		in.Readings[i].Reliability = calib.Unreliable
	}
	write("unreliable", in)
	in, _ = demoPaper(t, "kitchen")
	r := &in.Readings[0]
	r.Range, r.Value, r.Bracket = calib.Above, 25, [2]float64{12, 25}
	r.Band.Low.Value, r.WaterBand.Low.Value = 21, 17
	r.Band.High, r.WaterBand.High = calib.Bound{Value: 25, Open: true}, calib.Bound{Value: 25, Open: true}
	in.Seal = &Seal{Fingerprint: "0123 4567 89ab cdef 0123", Findings: []string{"Fault: data/marks.json is not as it was."}, Faults: 1}
	write("past", in)
}

func TestLookDifference(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("look")
	}
	a, _ := demoPaper(t, "kitchen")
	b, _ := demoPaper(t, "kitchen")
	cellar, _ := demoPaper(t, "cellar")
	in := DifferenceInput{Subject: "Softener put in", Before: Side{Source: a.Source, Subject: "Kitchen, tap", Facts: a.Facts, Missing: a.Missing, Fingerprint: "0123 4567 89ab cdef 0123"},
		After: Side{Source: b.Source, Subject: "Kitchen, after treatment", Facts: append(b.Facts[:4:4], Entry{"Dipped", "2026-11-15"})}, NotCompared: []string{"Iron was read only before."}}
	for i := range a.Readings {
		after := b.Readings[i]
		switch i {
		case 1: // shift down by two steps
			m := make([]float64, len(after.Posterior.Mass))
			copy(m, after.Posterior.Mass[60:])
			w := make([]float64, len(m))
			copy(w, after.Water.Mass[60:])
			after.Posterior.Mass, after.Water.Mass = m, w
			after.Value, after.Bracket = 28, [2]float64{0, 40}
			after.Band.Low.Value, after.Band.High.Value, after.WaterBand.Low.Value, after.WaterBand.High.Value = 8, 50, 2, 66
		case 2:
			after = cellar.Readings[i]
		}
		c, err := calib.Difference(a.Readings[i], after)
		require.NoError(t, err)
		in.Pairs = append(in.Pairs, Pair{a.Readings[i], after, c})
	}
	data, err := Difference(in)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "difference.html"), data, 0o644))
}
