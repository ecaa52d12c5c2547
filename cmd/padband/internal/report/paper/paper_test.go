package paper

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

func paperTree(t *testing.T, in Input) []*reporttest.Node {
	t.Helper()
	data, err := Page(in)
	require.NoError(t, err)
	return reporttest.Tree(t, data)
}

// invented is a report of an invented reading.
func Invented() Input {
	r := reporttest.Nitrate()
	s := sourceOf(r)
	s.Placed = reporttest.Marked(r, 1)
	return Input{Source: s, Crop: func(colorimetry.Region) string { return "data:image/png;base64,iVBORw0KGgo=" },
		Preview: Picture{"data:image/jpeg;base64,AAAA", 400, 300}}
}

// The question is answered first: of each reading what the terminal says, then
// what is judged of it.
func TestPaperAnswersFirst(t *testing.T) {
	in := Invented()
	in.Readings = append(in.Readings, reporttest.Changed(func(r *calib.Reading) {
		r.Analyte.Name, r.Reliability, r.TooWide = "iron", calib.Unreliable, true
	}))
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{"Over the yardstick.",
		"It rests on this.", "And on that."}, Next: []string{"Have it tested."}}}}}
	all := paperTree(t, in)
	i := slices.Index(all, reporttest.With(all, "paper-number")[0]) // the end of the first sheet's head
	assert.Equal(t, "paper-answers", all[i+1].Attr["class"])
	answers := reporttest.With(all, "paper-answer")
	require.Len(t, answers, 2)
	assert.Equal(t, "Nitrate, mg/L as N Clear reading The water may be 3.0 to 7.0 (the strip's own error counted, "+
		"assumed as half a step). Over the yardstick. It rests on this. "+
		"And on that. Between 3 and 7; reads 5.0. Colour read as 4.0 to 6.0. Next Have it tested.", reporttest.Flat(answers[0].Text))
	assert.Contains(t, reporttest.Flat(answers[1].Text), "Iron, mg/L as N Do not use this reading The colour "+
		"fits 0.5 of the chart's 4 steps")
	assert.Equal(t, "unreliable", answers[1].Attr["data-reliability"])
	assert.Len(t, reporttest.With(all, "paper-part"), 2)
}

// A page that shows itself: its style, drawings and pictures are in it.
func TestPaperAsksForNothing(t *testing.T) {
	for _, in := range []Input{DemoPaper(t, "kitchen"), PastTheEnd(DemoPaper(t, "cellar"))} {
		data, err := Page(in)
		require.NoError(t, err)
		all := reporttest.Tree(t, data)
		CheckAsksForNothing(t, string(data), all)
		assert.Len(t, reporttest.Named(all, "img"), 1+3*3, "the photo, and for each reading the pad and two swatches")
	}
}

func CheckAsksForNothing(t *testing.T, html string, all []*reporttest.Node) {
	t.Helper()
	for _, n := range all {
		assert.NotContains(t, []string{"script", "link", "iframe", "form", "object", "embed", "a", "base"}, n.Name)
		for a, v := range n.Attr {
			assert.False(t, a == "href" || a == "srcset" || a == "style" || strings.HasPrefix(a, "on"), "%s has %s", n.Name, a)
			assert.False(t, a == "src" && !strings.HasPrefix(v, "data:image/jpeg;base64,"), "%s is of %.40s", n.Name, v)
		}
	}
	assert.NotContains(t, html, "://")
	assert.NotContains(t, html, "url(")
	assert.NotContains(t, html, "@import")
	policy := ""
	for _, n := range reporttest.Named(all, "meta") {
		if n.Attr["http-equiv"] == "Content-Security-Policy" {
			policy = n.Attr["content"]
		}
	}
	assert.Equal(t, "default-src 'none'; style-src 'unsafe-inline'; img-src data:", policy)
	ids := map[string]bool{}
	for _, n := range all {
		if id := n.Attr["id"]; id != "" {
			assert.False(t, ids[id], "id %s stands twice", id)
			ids[id] = true
		}
	}
	for _, n := range all {
		for _, id := range strings.Fields(n.Attr["aria-labelledby"]) {
			assert.True(t, ids[id], "nothing has the id %s", id)
		}
	}
}

func TestPaperIsTheSameEachTime(t *testing.T) {
	one, err := Page(DemoPaper(t, "kitchen"))
	require.NoError(t, err)
	in := DemoPaper(t, "kitchen")
	two, err := Page(in)
	require.NoError(t, err)
	assert.Equal(t, string(one), string(two))
}

// Every mark of the photo is drawn where it is, and the pads are numbered.
func TestPaperDrawsTheMarks(t *testing.T) {
	in := DemoPaper(t, "kitchen")
	all := paperTree(t, in)
	pads, swatches, whites := reporttest.With(all, "paper-pad"), reporttest.With(all, "paper-swatch"), reporttest.With(all, "paper-white")
	assert.Len(t, pads, 3)
	assert.Len(t, swatches, 18)
	assert.Len(t, whites, len(in.Placed.Whites))
	assert.Equal(t, []string{"1", "2", "3"}, reporttest.Texts(reporttest.With(all, "paper-tag")))
	assert.Contains(t, reporttest.Body(all), "the pads, 1 nitrate, 2 total hardness and 3 pH")
	least, _ := in.Placed.Pads[0].Pad[0].Region.Bounds()
	assert.Equal(t, "334.8", markup.Px(least.X), "as the marks file has it")
	i := slices.Index(all, pads[0])
	assert.True(t, strings.HasPrefix(all[i+1].Attr["points"], "334.8,423 409,420.8 "), all[i+1].Attr["points"])
	room := reporttest.With(all, "paper-photo")
	assert.Equal(t, "0 0 2016 1512", all[slices.Index(all, room[0])+2].Attr["viewBox"])
}

// A number stands left of its pad, or right where there is no room.
func TestPadNumbersStayInThePhoto(t *testing.T) {
	in := Invented() // the pad begins at the photo's left edge
	v := newView(in.Source, in.Preview, numbersOf(in, 0))
	require.Len(t, v.Tags, 1)
	unit := 4032.0 / 500
	assert.Equal(t, markup.Px(10+10*unit), v.Tags[0].X)
	in.Placed.Pads[1].Pad[0].Region.Points[0].X = 2000
	assert.Equal(t, markup.Px(2000-10*unit), newView(in.Source, in.Preview, numbersOf(in, 0)).Tags[0].X)
}

func TestPaperWithoutAPicture(t *testing.T) {
	in := Invented()
	in.Preview.Src, in.Crop = "https://example.org/photo.jpg", nil
	all := paperTree(t, in)
	assert.Empty(t, reporttest.Named(all, "img"))
	assert.Empty(t, reporttest.With(all, "paper-view"))
	in = Invented()
	in.Photo.Width = 0
	assert.Nil(t, newView(in.Source, in.Preview, numbersOf(in, 0)))
}

// What nobody gave is said to be missing, and nothing takes its place.
func TestPaperFacts(t *testing.T) {
	in := Invented()
	in.Facts, in.Missing, in.Attached = []words.Entry{{Label: "Place", Value: "kitchen"},
		{Label: "Kit, lot", Value: "A 1"}}, []string{"tester", "time of the dip"}, []string{"label.jpg"}
	in.Hashes = []words.Entry{{Label: "photo", Value: hash}}
	all := paperTree(t, in)
	assert.Equal(t, []string{"Place kitchen Kit, lot A 1"}, reporttest.Texts(reporttest.With(all, "paper-facts")))
	assert.Equal(t, []string{"Not given: tester and time of the dip."}, reporttest.Texts(reporttest.With(all, "paper-missing")))
	assert.Equal(t, []string{"photo " + hash}, reporttest.Texts(reporttest.With(all, "paper-hashes")))
	assert.Contains(t, reporttest.Body(all), "Kept with it: label.jpg.")
	in.Missing = nil
	assert.Empty(t, reporttest.With(paperTree(t, in), "paper-missing"))
}

// A report inside a record cannot hold the record's fingerprint: it leaves a
// line for it. One made of a finished record prints it and what was found.
func TestPaperSeal(t *testing.T) {
	in := Invented()
	all := paperTree(t, in)
	assert.Len(t, reporttest.With(all, "paper-blank"), 5, "fingerprint at the sheet's head and below, name, date, signature")
	assert.Contains(t, reporttest.Body(all), "It cannot stand on this page")
	assert.Contains(t, reporttest.Body(all), "No signing key is named here.")
	in.Seal, in.Signer = WholeSeal(), "SHA256:abc"
	all = paperTree(t, in)
	assert.Len(t, reporttest.With(all, "paper-blank"), 3)
	assert.Equal(t, []string{"Fingerprint of the record 0123 4567 89ab cdef 0123"}, reporttest.Texts(reporttest.With(all, "paper-print")))
	assert.NotContains(t, reporttest.Body(all), "It cannot stand on this page")
	assert.Contains(t, reporttest.Body(all), "What the check of this record found: Every file is as it was when the "+
		"record was made. Read again")
	assert.Contains(t, reporttest.Body(all), "Signing key: SHA256:abc.")
	assert.Empty(t, reporttest.With(all, "paper-fault"))
}

// A record with faults is said to have them before anything that was read.
func TestPaperOfAFaultyRecord(t *testing.T) {
	in := Invented()
	in.Seal = &Seal{Fingerprint: "x", Findings: []string{"Fault: the photo was changed.", "Fault: a file was added."}, Faults: 2}
	all := paperTree(t, in)
	i := slices.Index(all, reporttest.With(all, "paper-number")[0]) // the end of the first sheet's head
	assert.Equal(t, "paper-fault", all[i+1].Attr["class"])
	assert.Contains(t, all[i+1].Text, "2 faults")
}

// How to check a record by hand, what a signature proves, and the cautions stand
// on every report. The fingerprint is of tagmanifest-sha512.txt, which lists
// manifest-sha256.txt, which lists the data: each link of that chain is checked
// by one of the commands. (The list tagmanifest-sha256.txt hangs on nothing: with
// it in place of the other, all may be forged and the fingerprint kept.)
func TestPaperSaysWhatItIsWorth(t *testing.T) {
	text := reporttest.Body(paperTree(t, Invented()))
	for _, want := range []string{
		"sha256sum -c manifest-sha256.txt and sha512sum -c tagmanifest-sha512.txt say OK",
		"20 digits that sha256sum tagmanifest-sha512.txt prints", "proves who signed, not when",
		"A strip is a screening test.", "certified laboratory", "local health authority", "Local codes", "It cannot show",
	} {
		assert.Contains(t, text, want)
	}
	in := Invented()
	in.Readings[0].Analyte.RespondsTo = []string{"nitrate", "nitrite"}
	assert.Contains(t, reporttest.Body(paperTree(t, in)), "Nitrate: the pad answers to nitrate and nitrite together and "+
		"does not tell them apart.")
	in.Readings[0].Analyte.RespondsTo = []string{"nitrate"}
	assert.NotContains(t, reporttest.Body(paperTree(t, in)), "tell them apart")
	in.Readings[0] = reporttest.PresencePad(0.99)
	assert.Contains(t, reporttest.Body(paperTree(t, in)), "Coliforms: the pad says yes or no, not how much.")
}

// The light's warnings stand once; a reading that says the same says it in short.
func TestPaperSaysAWarningOnce(t *testing.T) {
	in := Invented()
	same := calib.Warning{Code: "uneven-light", Seen: "The light differs by 80 %.", Then: "Move the lamp away."}
	own := calib.Warning{Code: "glare", Seen: "The pad shines.", Then: "Tilt the phone."}
	in.Light.Warnings = []calib.Warning{same}
	in.Readings[0].Warnings = []calib.Warning{same, own}
	second := reporttest.Nitrate()
	second.Analyte.Name, second.Warnings = "iron", []calib.Warning{own}
	in.Readings = append(in.Readings, second)
	all := paperTree(t, in)
	text := strings.ReplaceAll(reporttest.Body(all), "\u00a0", " ")
	assert.Equal(t, 1, strings.Count(text, "Move the lamp away."))
	assert.Equal(t, 1, strings.Count(text, "Tilt the phone."))
	again := reporttest.Texts(reporttest.With(all, "paper-again"))
	require.Len(t, again, 2)
	assert.Equal(t, "As said above: the light differs by 80 %.", strings.ReplaceAll(again[0], "\u00a0", " "))
	assert.Equal(t, "As said above: the pad shines.", again[1])
}

func TestPaperFigures(t *testing.T) {
	in := Invented()
	all := paperTree(t, in)
	var rows []string
	for _, n := range reporttest.Named(all, "tr") {
		rows = append(rows, reporttest.Flat(n.Text))
	}
	assert.Contains(t, rows, "pad 71.2 31.0 −4.1")
	assert.Contains(t, rows, "7 83.0 14.0 0.0 6.1")
	assert.Contains(t, rows, "The pad lies 1.9 (ΔE) off the scale.")
	text := strings.ReplaceAll(reporttest.Body(all), "\u00a0", " ")
	assert.Contains(t, text, "No check found anything against its light and file. White as recorded, colour "+
		"temperature: 5210 K; white as recorded, Duv: 0.0020;")
}

// Nothing that a name, a label or a text holds becomes markup.
func TestPaperHostileNames(t *testing.T) {
	const evil = `<script>alert("1")</script>' onload="x" & {{.}} </style></title></svg>`
	in := Invented()
	r := &in.Readings[0]
	r.Analyte.Name, r.Analyte.Unit, r.Analyte.As, r.Analyte.RespondsTo = evil, evil, evil, []string{evil, evil}
	r.Swatches[2].Label, r.Reliability = evil, calib.Reliability(evil)
	r.Warnings = []calib.Warning{{Code: calib.Code(evil), Seen: evil + "\x1b[31m"}}
	in.Placed.Pads[1].Analyte.Name = evil
	in.File, in.Photo.Profile, in.Photo.Taken, in.Notes, in.Version, in.Chart.Title = evil, evil, evil,
		[]charts.Note{{Text: evil}}, evil, evil
	in.Light.Warnings, in.Light.Reliability = []calib.Warning{{Code: "x", Seen: evil + evil}}, calib.Reliability(evil)
	in.Subject, in.Facts, in.Missing, in.Hashes = evil, []words.Entry{{Label: evil, Value: evil}}, []string{evil},
		[]words.Entry{{Label: evil, Value: evil}}
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{evil, evil}, Next: []string{evil}, Reason: evil}}}}
	in.Signer, in.Attached, in.Seal = evil, []string{evil}, &Seal{evil, []string{evil}, 1}
	in.Crop = func(colorimetry.Region) string { return `javascript:alert("1")` }
	data, err := Page(in)
	require.NoError(t, err)
	assert.NotContains(t, string(data), "<script")
	assert.NotContains(t, string(data), "\x1b")
	assert.NotContains(t, string(data), "javascript:")
	all := reporttest.Tree(t, data)
	assert.Len(t, reporttest.Named(all, "style"), 1)
	for _, n := range all {
		for a := range n.Attr {
			assert.False(t, strings.HasPrefix(a, "on") || a == "style", "%s has %s", n.Name, a)
		}
	}
	assert.Contains(t, reporttest.Body(all), evil)
}

// Every form of reading makes a page.
func TestPaperOfEveryForm(t *testing.T) {
	in := Invented()
	in.Readings = reporttest.Forms()
	in.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	all := paperTree(t, in)
	assert.Len(t, reporttest.With(all, "paper-answer"), len(in.Readings))
	assert.Contains(t, reporttest.Body(all), "Not read no pad is marked for pH: skipped")
	assert.NotEmpty(t, paperTree(t, Input{}), "nothing known, and nothing read")
}

// What nobody said of any reading is said once.
func TestPaperSaysWhatIsNotKnownOnce(t *testing.T) {
	in := Invented()
	in.Readings = append(in.Readings, reporttest.Nitrate())
	w := calib.Warning{Code: "no-dip-time", Seen: "The time of the dip is not known.", Weight: calib.Good}
	for i := range in.Readings {
		in.Readings[i].Add(w)
	}
	sheet, err := Page(in)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(string(sheet), w.Text()))
}

// sourceOf is a source of invented readings.
func sourceOf(readings ...calib.Reading) report.Source {
	return report.Source{
		File: "kitchen.jpg", ChartSHA256: "cc", Version: "1.2.3",
		Photo:    report.PhotoFacts{SHA256: "aa", Profile: "Display P3", Taken: "2026-11-14T08:41:10-05:00", Width: 4032, Height: 3024},
		Chart:    charts.Chart{Name: "orchard-well", Version: "2", Title: "Orchard well"},
		Light:    calib.LightReport{Reliability: calib.Good, CCT: 5210.123, Duv: 0.0020004, Unevenness: 0.08},
		Readings: readings,
	}
}
