package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/charts/limits"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// hash stands for a SHA-256.
const hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

// demoPaper is the report of a demonstration photo with invented facts.
func DemoPaper(t *testing.T, name string) Input {
	t.Helper()
	epa, err := limits.ParseLimit("us-epa")
	require.NoError(t, err)
	r := reporttest.AskDemo(t, name, strip.Ask{Limits: []limits.LimitChoice{epa}})
	return Input{
		Source: report.Of(name+".jpg", hash, "1.2.3", r), Subject: "Old mill, " + name, Crop: Crops(r), Preview: Preview(r),
		Facts: []words.Entry{
			{Label: "Place", Value: name}, {Label: "Sampling point", Value: "tap"},
			{Label: "Photo taken", Value: "2026-11-14T08:41:10-05:00"}, {Label: "Kit lot", Value: "OW-2418"},
			{Label: "Kit expiry", Value: "2027-05"},
			{Label: "Kit opened", Value: "2026-09-01"}, {Label: "Photo received", Value: "from its file"},
			{Label: "Position in the photo", Value: "no"}, {Label: "Program", Value: "padband 1.2.3, method 2"},
		},
		Missing: []string{"time of the dip", "tester", "handling rule followed"},
		Hashes: []words.Entry{{Label: "photo", Value: hash}, {Label: "chart", Value: hash},
			{Label: "marks", Value: hash}, {Label: "reading", Value: hash}},
		Signer:   "SHA256:0123456789abcdefghijklmnopqrstuvwxyzABCDEFG",
		Attached: []string{"label.jpg", "meter.jpg"},
	}
}

// seal is that of a record that was checked and found whole.
func WholeSeal() *Seal {
	return &Seal{Fingerprint: "0123 4567 89ab cdef 0123", Findings: []string{"Every file is as it was when the " +
		"record was made.", "Read again, the photo gives the same reading."}}
}

// pastTheEnd makes a demonstration's nitrate one past the top swatch.
func PastTheEnd(in Input) Input {
	r := &in.Readings[0]
	r.Range, r.Value, r.Bracket = calib.Above, 25, [2]float64{12, 25}
	r.Band.Low.Value, r.WaterBand.Low.Value = 21, 17
	r.Band.High, r.WaterBand.High = calib.Bound{Value: 25, Open: true}, calib.Bound{Value: 25, Open: true}
	return in
}

// WorstPaper is the fullest report that two sheets are promised for: three pads
// that are all unreliable, since they are read far too late, one of them of four parts,
// each set against two limits, with the light's and their own warnings, and long facts.
func WorstPaper(t *testing.T) Input {
	t.Helper()
	in := DemoPaper(t, "cellar")
	var ask strip.Ask
	for _, text := range []string{"us-epa", "who", "total hardness 120 mg/L as CaCO3", "total hardness 60 mg/L as CaCO3", "pH 7-8"} {
		l, err := limits.ParseLimit(text)
		require.NoError(t, err)
		ask.Limits = append(ask.Limits, l)
	}
	in.Source = report.Of("cellar.jpg", hash, "1.2.3", reporttest.AskDipped(t, "cellar", "2026-11-14T09:09:00-05:00", ask))
	fourParts(&in)
	for i := range in.Readings {
		require.Equal(t, calib.Unreliable, in.Readings[i].Reliability)
		require.GreaterOrEqual(t, len(in.Meanings[i].Judgements), 2, in.Readings[i].Analyte.Name)
	}
	in.Facts[0].Value = "Old mill at the upper weir, Mill Lane 7, Lower Brookhampton, cellar behind the pressure tank"
	in.Facts[1].Value = "raw, before the softener, at the drain cock"
	in.Subject = in.Facts[0].Value + ", " + in.Facts[1].Value
	in.Facts = append(in.Facts, words.Entry{Label: "Tester", Value: "A. Miller-Hohenstein"},
		words.Entry{Label: "Note", Value: "The pump had stood for nine days; the first two minutes were let run."})
	in.Missing = []string{"time of the dip", "time of reading by eye", "handling rule followed"}
	return in
}

// manyPads is a report of nine pads, with facts as long as they may be.
func ManyPads(t *testing.T) Input {
	t.Helper()
	in := WorstPaper(t)
	three, meanings, pads := in.Readings, in.Meanings, in.Placed.Pads
	for i := range 6 {
		r, p := three[i%3], pads[i%3]
		r.Analyte.Name += " " + string(rune('a'+i))
		p.Analyte.Name = r.Analyte.Name
		in.Readings, in.Meanings, in.Placed.Pads = append(in.Readings, r), append(in.Meanings, meanings[i%3]), append(in.Placed.Pads, p)
	}
	for _, label := range []string{"Tester", "Handling rule followed", "Note"} {
		in.Facts = append(in.Facts, words.Entry{Label: label, Value: strings.Repeat("The pump had stood; ", 50)})
	}
	in.Seal = WholeSeal()
	for range 60 {
		in.Seal.Findings = append(in.Seal.Findings, "Fault: data/attached/label.jpg is not the file that was kept: its "+
			"SHA-256 and its SHA-512 are others, and its length is another one too.")
	}
	in.Seal.Faults = 60
	return in
}

// fourParts makes the pH of a report one read from four pads.
func fourParts(in *Input) {
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
