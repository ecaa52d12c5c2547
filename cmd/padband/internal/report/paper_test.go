package report

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
)

// tree returns a page's elements in order. The parser is strict, so a page that
// passes is well formed.
func tree(t *testing.T, data []byte) (all []*node) {
	t.Helper()
	_, body, ok := strings.Cut(string(data), "<!DOCTYPE html>\n")
	require.True(t, ok)
	d := xml.NewDecoder(strings.NewReader(body))
	var open []*node
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			require.Empty(t, open)
			return all
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			n := &node{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			open, all = append(open, n), append(all, n)
		case xml.EndElement:
			for _, n := range open {
				n.text += " " // elements stand apart
			}
			open = open[:len(open)-1]
		case xml.CharData:
			for _, n := range open {
				n.text += string(x)
			}
		}
	}
}

func paperTree(t *testing.T, in PaperInput) []*node {
	t.Helper()
	data, err := Paper(in)
	require.NoError(t, err)
	return tree(t, data)
}

func named(all []*node, name string) (out []*node) {
	for _, n := range all {
		if n.name == name {
			out = append(out, n)
		}
	}
	return out
}

// body is all that a page says.
func body(all []*node) string { return flat(named(all, "body")[0].text) }

// invented is a report of an invented reading.
func invented() PaperInput {
	r := nitrate()
	s := source(r)
	s.Placed = marked(r, 1)
	return PaperInput{Source: s, Crop: func(colorimetry.Region) string { return "data:image/png;base64,iVBORw0KGgo=" }, Preview: Picture{"data:image/jpeg;base64,AAAA", 400, 300}}
}

// The question is answered first: of each reading what the terminal says, then
// what is judged of it.
func TestPaperAnswersFirst(t *testing.T) {
	in := invented()
	in.Readings = append(in.Readings, changed(func(r *calib.Reading) {
		r.Analyte.Name, r.Reliability, r.TooWide = "iron", calib.Unreliable, true
	}))
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{"Over the yardstick.", "It rests on this.", "And on that."}, Next: []string{"Have it tested."}}}}}
	all := paperTree(t, in)
	i := slices.Index(all, with(all, "paper-number")[0]) // the end of the first sheet's head
	assert.Equal(t, "paper-answers", all[i+1].attr["class"])
	answers := with(all, "paper-answer")
	require.Len(t, answers, 2)
	assert.Equal(t, "Nitrate, mg/L as N Good Between 3 and 7; reads 5.0; band 4.0 to 6.0. "+
		"Water band 3.0 to 7.0, with the strip's own error assumed, half a step. Over the yardstick. It rests on this. And on that. Next Have it tested.", flat(answers[0].text))
	assert.Contains(t, flat(answers[1].text), "Iron, mg/L as N Unreliable Do not rely on this reading: its band spans 0.5 of the chart's 4 steps")
	assert.Equal(t, "unreliable", answers[1].attr["data-reliability"])
	assert.Len(t, with(all, "paper-part"), 2)
}

// A page that shows itself: its style, drawings and pictures are in it.
func TestPaperAsksForNothing(t *testing.T) {
	for _, in := range []PaperInput{demoPaper(t, "kitchen"), pastTheEnd(demoPaper(t, "cellar"))} {
		data, err := Paper(in)
		require.NoError(t, err)
		all := tree(t, data)
		checkAsksForNothing(t, string(data), all)
		assert.Len(t, named(all, "img"), 1+3*3, "the photo, and for each reading the pad and two swatches")
	}
}

func checkAsksForNothing(t *testing.T, html string, all []*node) {
	t.Helper()
	for _, n := range all {
		assert.NotContains(t, []string{"script", "link", "iframe", "form", "object", "embed", "a", "base"}, n.name)
		for a, v := range n.attr {
			assert.False(t, a == "href" || a == "srcset" || a == "style" || strings.HasPrefix(a, "on"), "%s has %s", n.name, a)
			assert.False(t, a == "src" && !strings.HasPrefix(v, "data:image/jpeg;base64,"), "%s is of %.40s", n.name, v)
		}
	}
	assert.NotContains(t, html, "://")
	assert.NotContains(t, html, "url(")
	assert.NotContains(t, html, "@import")
	policy := ""
	for _, n := range named(all, "meta") {
		if n.attr["http-equiv"] == "Content-Security-Policy" {
			policy = n.attr["content"]
		}
	}
	assert.Equal(t, "default-src 'none'; style-src 'unsafe-inline'; img-src data:", policy)
	ids := map[string]bool{}
	for _, n := range all {
		if id := n.attr["id"]; id != "" {
			assert.False(t, ids[id], "id %s stands twice", id)
			ids[id] = true
		}
	}
	for _, n := range all {
		for _, id := range strings.Fields(n.attr["aria-labelledby"]) {
			assert.True(t, ids[id], "nothing has the id %s", id)
		}
	}
}

func TestPaperIsTheSameEachTime(t *testing.T) {
	one, err := Paper(demoPaper(t, "kitchen"))
	require.NoError(t, err)
	in := demoPaper(t, "kitchen")
	two, err := Paper(in)
	require.NoError(t, err)
	assert.Equal(t, string(one), string(two))
}

// Every mark of the photo is drawn where it is, and the pads are numbered.
func TestPaperDrawsTheMarks(t *testing.T) {
	in := demoPaper(t, "kitchen")
	all := paperTree(t, in)
	pads, swatches, whites := with(all, "paper-pad"), with(all, "paper-swatch"), with(all, "paper-white")
	assert.Len(t, pads, 3)
	assert.Len(t, swatches, 18)
	assert.Len(t, whites, len(in.Placed.Whites))
	assert.Equal(t, []string{"1", "2", "3"}, texts(with(all, "paper-tag")))
	assert.Contains(t, body(all), "the pads, 1 nitrate, 2 total hardness and 3 pH")
	least, _ := in.Placed.Pads[0].Pad[0].Region.Bounds()
	assert.Equal(t, "334.8", px(least.X), "as the marks file has it")
	i := slices.Index(all, pads[0])
	assert.True(t, strings.HasPrefix(all[i+1].attr["points"], "334.8,423 409,420.8 "), all[i+1].attr["points"])
	room := with(all, "paper-photo")
	assert.Equal(t, "0 0 2016 1512", all[slices.Index(all, room[0])+2].attr["viewBox"])
}

// A number stands left of its pad, or right where there is no room.
func TestPadNumbersStayInThePhoto(t *testing.T) {
	in := invented() // the pad begins at the photo's left edge
	v := newView(in)
	require.Len(t, v.Tags, 1)
	unit := 4032.0 / 500
	assert.Equal(t, px(10+10*unit), v.Tags[0].X)
	in.Placed.Pads[1].Pad[0].Region.Points[0].X = 2000
	assert.Equal(t, px(2000-10*unit), newView(in).Tags[0].X)
}

func TestPaperWithoutAPicture(t *testing.T) {
	in := invented()
	in.Preview.Src, in.Crop = "https://example.org/photo.jpg", nil
	all := paperTree(t, in)
	assert.Empty(t, named(all, "img"))
	assert.Empty(t, with(all, "paper-view"))
	in = invented()
	in.Photo.Width = 0
	assert.Nil(t, newView(in))
}

// What nobody gave is said to be missing, and nothing takes its place.
func TestPaperFacts(t *testing.T) {
	in := invented()
	in.Facts, in.Missing, in.Attached = []Entry{{"Place", "kitchen"}, {"Kit, lot", "A 1"}}, []string{"tester", "time of the dip"}, []string{"label.jpg"}
	in.Hashes = []Entry{{"photo", hash}}
	all := paperTree(t, in)
	assert.Equal(t, []string{"Place kitchen Kit, lot A 1"}, texts(with(all, "paper-facts")))
	assert.Equal(t, []string{"Not given: tester and time of the dip."}, texts(with(all, "paper-missing")))
	assert.Equal(t, []string{"photo " + hash}, texts(with(all, "paper-hashes")))
	assert.Contains(t, body(all), "Kept with it: label.jpg.")
	in.Missing = nil
	assert.Empty(t, with(paperTree(t, in), "paper-missing"))
}

// A report inside a record cannot hold the record's fingerprint: it leaves a
// line for it. One made of a finished record prints it and what was found.
func TestPaperSeal(t *testing.T) {
	in := invented()
	all := paperTree(t, in)
	assert.Len(t, with(all, "paper-blank"), 5, "fingerprint at the sheet's head and below, name, date, signature")
	assert.Contains(t, body(all), "this page is one of the files that it covers")
	assert.Contains(t, body(all), "No signing key is named here.")
	in.Seal, in.Signer = seal(), "SHA256:abc"
	all = paperTree(t, in)
	assert.Len(t, with(all, "paper-blank"), 3)
	assert.Equal(t, []string{"Fingerprint of the record 0123 4567 89ab cdef 0123"}, texts(with(all, "paper-print")))
	assert.NotContains(t, body(all), "this page is one of the files that it covers")
	assert.Contains(t, body(all), "What the check of this record found: Every file is as it was when the record was made. Read again")
	assert.Contains(t, body(all), "Signing key: SHA256:abc.")
	assert.Empty(t, with(all, "paper-fault"))
}

// A record with faults is said to have them before anything that was read.
func TestPaperOfAFaultyRecord(t *testing.T) {
	in := invented()
	in.Seal = &Seal{Fingerprint: "x", Findings: []string{"Fault: the photo was changed.", "Fault: a file was added."}, Faults: 2}
	all := paperTree(t, in)
	i := slices.Index(all, with(all, "paper-number")[0]) // the end of the first sheet's head
	assert.Equal(t, "paper-fault", all[i+1].attr["class"])
	assert.Contains(t, all[i+1].text, "2 faults")
}

// How to check a record by hand, what a signature proves, and the cautions stand
// on every report. The fingerprint is of tagmanifest-sha512.txt, which lists
// manifest-sha256.txt, which lists the data: each link of that chain is checked
// by one of the commands. (The list tagmanifest-sha256.txt hangs on nothing: with
// it in place of the other, all may be forged and the fingerprint kept.)
func TestPaperSaysWhatItIsWorth(t *testing.T) {
	text := body(paperTree(t, invented()))
	for _, want := range []string{
		"sha256sum -c manifest-sha256.txt and sha512sum -c tagmanifest-sha512.txt say OK", "20 digits that sha256sum tagmanifest-sha512.txt prints", "proves who signed, not when",
		"A strip is a screening test.", "certified laboratory", "local health authority", "Local codes", "It cannot show",
	} {
		assert.Contains(t, text, want)
	}
	in := invented()
	in.Readings[0].Analyte.RespondsTo = []string{"nitrate", "nitrite"}
	assert.Contains(t, body(paperTree(t, in)), "Nitrate: the pad answers to nitrate and nitrite together and does not tell them apart.")
	in.Readings[0].Analyte.RespondsTo = []string{"nitrate"}
	assert.NotContains(t, body(paperTree(t, in)), "tell them apart")
	in.Readings[0] = presencePad(0.99)
	assert.Contains(t, body(paperTree(t, in)), "Coliforms: the pad says yes or no, not how much.")
}

// The light's warnings stand once; a reading that says the same says it in short.
func TestPaperSaysAWarningOnce(t *testing.T) {
	in := invented()
	same := calib.Warning{Code: "uneven-light", Seen: "The light differs by 80 %.", Then: "Move the lamp away."}
	own := calib.Warning{Code: "glare", Seen: "The pad shines.", Then: "Tilt the phone."}
	in.Light.Warnings = []calib.Warning{same}
	in.Readings[0].Warnings = []calib.Warning{same, own}
	second := nitrate()
	second.Analyte.Name, second.Warnings = "iron", []calib.Warning{own}
	in.Readings = append(in.Readings, second)
	all := paperTree(t, in)
	text := strings.ReplaceAll(body(all), "\u00a0", " ")
	assert.Equal(t, 1, strings.Count(text, "Move the lamp away."))
	assert.Equal(t, 1, strings.Count(text, "Tilt the phone."))
	again := texts(with(all, "paper-again"))
	require.Len(t, again, 2)
	assert.Equal(t, "As said above: the light differs by 80 %.", strings.ReplaceAll(again[0], "\u00a0", " "))
	assert.Equal(t, "As said above: the pad shines.", again[1])
}

func TestPaperFigures(t *testing.T) {
	in := invented()
	all := paperTree(t, in)
	var rows []string
	for _, n := range named(all, "tr") {
		rows = append(rows, flat(n.text))
	}
	assert.Contains(t, rows, "pad 71.2 31.0 −4.1")
	assert.Contains(t, rows, "7 83.0 14.0 0.0 6.1")
	assert.Contains(t, rows, "The pad lies 1.9 (ΔE) off the scale.")
	text := strings.ReplaceAll(body(all), "\u00a0", " ")
	assert.Contains(t, text, "Light and file: Good. No check found anything in them. White as recorded, colour temperature: 5210 K; white as recorded, Duv: 0.0020;")
}

// Nothing that a name, a label or a text holds becomes markup.
func TestPaperHostileNames(t *testing.T) {
	const evil = `<script>alert("1")</script>' onload="x" & {{.}} </style></title></svg>`
	in := invented()
	r := &in.Readings[0]
	r.Analyte.Name, r.Analyte.Unit, r.Analyte.As, r.Analyte.RespondsTo = evil, evil, evil, []string{evil, evil}
	r.Swatches[2].Label, r.Reliability = evil, calib.Reliability(evil)
	r.Warnings = []calib.Warning{{Code: calib.Code(evil), Seen: evil + "\x1b[31m"}}
	in.Placed.Pads[1].Analyte.Name = evil
	in.File, in.Photo.Profile, in.Photo.Taken, in.Notes, in.Version, in.Chart.Title = evil, evil, evil, []charts.Note{{Text: evil}}, evil, evil
	in.Light.Warnings, in.Light.Reliability = []calib.Warning{{Code: "x", Seen: evil + evil}}, calib.Reliability(evil)
	in.Subject, in.Facts, in.Missing, in.Hashes = evil, []Entry{{evil, evil}}, []string{evil}, []Entry{{evil, evil}}
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{evil, evil}, Next: []string{evil}, Reason: evil}}}}
	in.Signer, in.Attached, in.Seal = evil, []string{evil}, &Seal{evil, []string{evil}, 1}
	in.Crop = func(colorimetry.Region) string { return `javascript:alert("1")` }
	data, err := Paper(in)
	require.NoError(t, err)
	assert.NotContains(t, string(data), "<script")
	assert.NotContains(t, string(data), "\x1b")
	assert.NotContains(t, string(data), "javascript:")
	all := tree(t, data)
	assert.Len(t, named(all, "style"), 1)
	for _, n := range all {
		for a := range n.attr {
			assert.False(t, strings.HasPrefix(a, "on") || a == "style", "%s has %s", n.name, a)
		}
	}
	assert.Contains(t, body(all), evil)
}

// Every form of reading makes a page.
func TestPaperOfEveryForm(t *testing.T) {
	in := invented()
	in.Readings = forms()
	in.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	all := paperTree(t, in)
	assert.Len(t, with(all, "paper-answer"), len(in.Readings))
	assert.Contains(t, body(all), "Not read no pad is marked for pH: skipped")
	assert.NotEmpty(t, paperTree(t, PaperInput{}), "nothing known, and nothing read")
}

// The look: it styles what the pages have and fetches nothing.
func TestPaperLook(t *testing.T) {
	look := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(paperCSS, "")
	assert.NotContains(t, look, "url(")
	assert.NotContains(t, look, "@import")
	assert.NotContains(t, look, "<")
	seen, has := 0, classesShown(t)
	for _, r := range regexp.MustCompile(`([^{};]+)\{`).FindAllStringSubmatch(look, -1) {
		for _, c := range classes.FindAllStringSubmatch(r[1], -1) {
			seen++
			assert.True(t, has[c[1]], "no element has the class %s", c[1])
		}
	}
	assert.Greater(t, seen, 50)
}
