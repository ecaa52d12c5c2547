package report

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/charts/limits"
	"padband/colorimetry"
)

const demo = "../../../../testdata/demo/"

// readDemo reads one of the two demonstration photos: "kitchen" in good light,
// "cellar" in bad.
func readDemo(t *testing.T, name string) *strip.Result {
	t.Helper()
	return askDemo(t, name, strip.Ask{})
}

func askDemo(t *testing.T, name string, ask strip.Ask) *strip.Result {
	t.Helper()
	data, err := os.ReadFile(demo + name + ".jpg")
	require.NoError(t, err)
	text, err := os.ReadFile(demo + name + ".marks.json")
	require.NoError(t, err)
	marks, err := charts.ParseMarks(text)
	require.NoError(t, err)
	text, err = os.ReadFile("../../../../charts/bundled/orchard-well.chart.json")
	require.NoError(t, err)
	chart, err := charts.ParseChart(text)
	require.NoError(t, err)
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart, Marks: marks, Ask: ask, Whole: true})
	require.NoError(t, err)
	return r
}

// hash stands for a SHA-256.
const hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

// demoPaper is the report of a demonstration photo with invented facts.
func demoPaper(t *testing.T, name string) PaperInput {
	t.Helper()
	epa, err := limits.ParseLimit("us-epa")
	require.NoError(t, err)
	r := askDemo(t, name, strip.Ask{Limits: []limits.LimitChoice{epa}})
	return PaperInput{
		Source: Of(name+".jpg", hash, "1.2.3", r), Subject: "Old mill, " + name, Crop: Crops(r), Preview: Preview(r),
		Facts: []Entry{
			{"Place", name}, {"Sampling point", "tap"}, {"Photo taken", "2026-11-14T08:41:10-05:00"}, {"Kit lot", "OW-2418"}, {"Kit expiry", "2027-05"},
			{"Kit opened", "2026-09-01"}, {"Photo received", "from its file"}, {"Position in the photo", "no"}, {"Program", "padband 1.2.3, method 2"},
		},
		Missing:  []string{"time of the dip", "tester", "handling rule followed"},
		Hashes:   []Entry{{"photo", hash}, {"chart", hash}, {"marks", hash}, {"reading", hash}},
		Signer:   "SHA256:0123456789abcdefghijklmnopqrstuvwxyzABCDEFG",
		Attached: []string{"label.jpg", "meter.jpg"},
	}
}

// seal is that of a record that was checked and found whole.
func seal() *Seal {
	return &Seal{Fingerprint: "0123 4567 89ab cdef 0123", Findings: []string{"Every file is as it was when the record was made.", "Read again, the photo gives the same reading."}}
}

// pastTheEnd makes a demonstration's nitrate one past the top swatch.
func pastTheEnd(in PaperInput) PaperInput {
	r := &in.Readings[0]
	r.Range, r.Value, r.Bracket = calib.Above, 25, [2]float64{12, 25}
	r.Band.Low.Value, r.WaterBand.Low.Value = 21, 17
	r.Band.High, r.WaterBand.High = calib.Bound{Value: 25, Open: true}, calib.Bound{Value: 25, Open: true}
	return in
}

// demoDifference compares the kitchen with itself, with a hardness two and a
// half steps lower, and with the cellar's pH.
func demoDifference(t *testing.T) DifferenceInput {
	t.Helper()
	a, b, cellar := demoPaper(t, "kitchen"), demoPaper(t, "kitchen"), demoPaper(t, "cellar")
	in := DifferenceInput{
		Subject:     "Softener put in",
		Before:      Side{Source: a.Source, Subject: a.Subject, Facts: a.Facts, Missing: a.Missing, Fingerprint: seal().Fingerprint},
		After:       Side{Source: b.Source, Subject: "Old mill, after treatment", Facts: b.Facts[:4], Missing: []string{"tester"}, Fingerprint: seal().Fingerprint},
		NotCompared: []string{"Iron was read before alone."},
	}
	b.Readings[1] = lower(b.Readings[1], 60) // cells of the posterior, 24 a step
	b.Readings[2] = cellar.Readings[2]
	for i := range a.Readings {
		c, err := judge.Difference(a.Readings[i], b.Readings[i])
		require.NoError(t, err)
		in.Pairs = append(in.Pairs, Pair{a.Readings[i], b.Readings[i], c})
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
func doubtedDifference(t *testing.T) DifferenceInput {
	t.Helper()
	in := demoDifference(t)
	in.Before.Source, in.Doubts = demoPaper(t, "cellar").Source, []string{"The photo named after was taken before the one named before: are the two exchanged?"}
	for i := range in.Pairs {
		in.Pairs[i].Before, in.Pairs[i].Change.Direction = in.Before.Readings[i], judge.CannotTell
	}
	return in
}

// worstPaper is the fullest report that two sheets are promised for: three pads
// that are all unreliable, one of them of four parts, each set against two
// limits, with the light's and their own warnings, and long facts.
func worstPaper(t *testing.T) PaperInput {
	t.Helper()
	in := demoPaper(t, "cellar")
	var ask strip.Ask
	for _, text := range []string{"us-epa", "who", "total hardness 120 mg/L as CaCO3", "total hardness 60 mg/L as CaCO3", "pH 7-8"} {
		l, err := limits.ParseLimit(text)
		require.NoError(t, err)
		ask.Limits = append(ask.Limits, l)
	}
	in.Source = Of("cellar.jpg", hash, "1.2.3", askDemo(t, "cellar", ask))
	fourParts(&in)
	for i := range in.Readings {
		require.Equal(t, calib.Unreliable, in.Readings[i].Reliability)
		require.GreaterOrEqual(t, len(in.Meanings[i].Judgements), 2, in.Readings[i].Analyte.Name)
	}
	in.Facts[0].Value = "Old mill at the upper weir, Mill Lane 7, Lower Brookhampton, cellar behind the pressure tank"
	in.Facts[1].Value = "raw, before the softener, at the drain cock"
	in.Subject = in.Facts[0].Value + ", " + in.Facts[1].Value
	in.Facts = append(in.Facts, Entry{"Tester", "A. Miller-Hohenstein"}, Entry{"Note", "The pump had stood for nine days; the first two minutes were let run."})
	in.Missing = []string{"time of the dip", "time of reading by eye", "handling rule followed"}
	return in
}

// manyPads is a report of nine pads, with facts as long as they may be.
func manyPads(t *testing.T) PaperInput {
	t.Helper()
	in := worstPaper(t)
	three, meanings, pads := in.Readings, in.Meanings, in.Placed.Pads
	for i := range 6 {
		r, p := three[i%3], pads[i%3]
		r.Analyte.Name += " " + string(rune('a'+i))
		p.Analyte.Name = r.Analyte.Name
		in.Readings, in.Meanings, in.Placed.Pads = append(in.Readings, r), append(in.Meanings, meanings[i%3]), append(in.Placed.Pads, p)
	}
	for _, label := range []string{"Tester", "Handling rule followed", "Note"} {
		in.Facts = append(in.Facts, Entry{label, strings.Repeat("The pump had stood; ", 50)})
	}
	in.Seal = seal()
	for range 60 {
		in.Seal.Findings = append(in.Seal.Findings, "Fault: data/attached/label.jpg is not the file that was kept: its SHA-256 and its SHA-512 are others, and its length is another one too.")
	}
	in.Seal.Faults = 60
	return in
}

// fourParts makes the pH of a report one read from four pads.
func fourParts(in *PaperInput) {
	r := &in.Readings[2]
	four := func(c []colorimetry.Lab) []colorimetry.Lab { return []colorimetry.Lab{c[0], c[0], c[0], c[0]} }
	r.Pad = four(r.Pad)
	for i := range r.Swatches {
		r.Swatches[i].Lab = four(r.Swatches[i].Lab)
	}
	placed := func(m []charts.Mark) (out []charts.Mark) {
		for part := range 4 {
			one := m[0]
			one.Part = part + 1
			out = append(out, one)
		}
		return out
	}
	p := &in.Placed.Pads[2]
	p.Pad = placed(p.Pad)
	for i := range p.Swatches {
		p.Swatches[i] = placed(p.Swatches[i])
	}
}
