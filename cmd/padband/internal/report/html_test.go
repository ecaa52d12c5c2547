package report

import (
	"encoding/xml"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/report/rule"
	"padband/colorimetry"
)

// page is a photo's fragment with its elements.
func page(t *testing.T, s Source, crop func(colorimetry.Region) string) (html string, all []*reporttest.Node) {
	t.Helper()
	html, err := HTML(s, crop)
	require.NoError(t, err)
	return html, reporttest.PieceTree(t, html)
}

var (
	listed = regexp.MustCompile(`(?m)^  - `)
	code   = regexp.MustCompile(` \[[a-z-]+\]`)
)

// What a page says of a photo is, word for word, what the terminal says: all
// but the drawn rule, the codes in brackets, the pictures and the folded figures.
func TestTextAndPageSayTheSame(t *testing.T) {
	s := source(reporttest.Forms()...)
	s.Light = lit(calib.Caution, "shadow")
	s.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	text := Text(s) + Meaning()
	for _, r := range s.Readings {
		if r.Analyte.Kind != charts.KindPresence {
			text = strings.Replace(text, rule.Text(r), "", 1)
		}
	}
	_, text, _ = strings.Cut(text, "\n\n") // the file and when it was taken stand elsewhere in a page
	want := reporttest.Flat(code.ReplaceAllString(listed.ReplaceAllString(text, ""), ""))
	assert.Contains(t, want, "20 % of the pad shines. Tilt the phone.")
	assert.Contains(t, want, "Doubtful because of the light")
	assert.Contains(t, want, "The colour fits")

	html, all := page(t, s, nil)
	for _, n := range all {
		if n.Name == "svg" || n.Name == "details" {
			html = cutElement(t, html, n.Name)
		}
	}
	d := xml.NewDecoder(strings.NewReader("<sheet>" + html + "</sheet>"))
	var got strings.Builder
	for {
		token, err := d.Token()
		if err != nil {
			require.ErrorIs(t, err, io.EOF)
			break
		}
		if c, ok := token.(xml.CharData); ok {
			got.Write(c)
		}
		if _, ends := token.(xml.EndElement); ends {
			got.WriteByte(' ')
		}
	}
	assert.Equal(t, want, reporttest.Flat(got.String()))
}

// cutElement takes the first element of a name out of a fragment.
func cutElement(t *testing.T, html, name string) string {
	t.Helper()
	before, rest, begun := strings.Cut(html, "<"+name)
	_, after, ended := strings.Cut(rest, "</"+name+">")
	require.True(t, begun && ended, name)
	return before + after
}

// Nothing that a name, a label or a text holds becomes markup.
func TestHostileNames(t *testing.T) {
	const evil = `<script>alert("1")</script>' onload="x" & {{.}} </title></svg>`
	r := reporttest.Nitrate()
	r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = evil, evil, evil
	r.Swatches[2].Label, r.Reliability = evil, calib.Reliability(evil)
	r.Warnings = []calib.Warning{{Code: calib.Code(evil), Seen: evil + "\x1b[31m"}}
	r.Budget[0].Source = evil
	s := source(r)
	s.Photo.Profile, s.Notes = evil, []charts.Note{{Code: charts.NoteCode(evil), Analyte: evil, Text: evil}}
	s.Light.Warnings = r.Warnings
	s.Placed = reporttest.Marked(r, 1)
	plainly := map[string]int{}
	_, clean := page(t, source(reporttest.Nitrate()), nil)
	for _, n := range clean {
		plainly[n.Name]++
	}
	html, all := page(t, s, func(colorimetry.Region) string { return `javascript:alert("1")` })
	assert.NotContains(t, html, "<script")
	assert.NotContains(t, html, "\x1b")
	assert.NotContains(t, html, "javascript:")
	for _, n := range all {
		if !slices.Contains(n.In, "figure") && !slices.Contains([]string{"ul", "li", "section", "h3", "div"}, n.Name) {
			assert.Positive(t, plainly[n.Name], "%s is not one of the sheet's own elements", n.Name)
		}
		for a := range n.Attr {
			assert.False(t, strings.HasPrefix(a, "on") || a == "style", "%s has %s", n.Name, a)
		}
	}
	assert.Equal(t, evil, reporttest.With(all, "reading")[0].Attr["data-analyte"], "the name itself, for whoever looks it up")
	assert.Contains(t, all[0].Text, evil)
}

// A page that allows no style and no script of its own shows the sheet as it is.
func TestNothingInline(t *testing.T) {
	s := source(reporttest.Forms()...)
	s.Placed = reporttest.Marked(s.Readings[0], 2)
	html, all := page(t, s, func(colorimetry.Region) string { return "api/photos/1/part?x=1&y=2" })
	ids := map[string]bool{}
	for _, n := range all {
		assert.NotContains(t, []string{"script", "style", "link", "iframe", "form", "a"}, n.Name)
		for a := range n.Attr {
			assert.False(t, a == "style" || a == "href" || strings.HasPrefix(a, "on"), "%s has %s", n.Name, a)
		}
		if id := n.Attr["id"]; id != "" {
			assert.False(t, ids[id], "id %s stands twice", id)
			ids[id] = true
		}
	}
	named := 0
	for _, n := range all {
		for _, id := range strings.Fields(n.Attr["aria-labelledby"]) {
			assert.True(t, ids[id], "nothing has the id %s", id)
			named++
		}
	}
	assert.Greater(t, named, len(s.Readings))
	assert.Contains(t, html, `src="api/photos/1/part?x=1&amp;y=2"`)
}

func TestDoubtStandsFirst(t *testing.T) {
	r := reporttest.Nitrate()
	r.Reliability = calib.Unreliable
	_, all := page(t, source(r), nil)
	i := slices.Index(all, reporttest.With(all, "reading-doubt")[0])
	j := slices.Index(all, reporttest.With(all, "reading-says")[0])
	assert.Equal(t, i+1, j)
	assert.Equal(t, "Its figures are not to be relied on.", all[i].Text)
	_, all = page(t, source(reporttest.Nitrate()), nil)
	assert.Empty(t, reporttest.With(all, "reading-doubt"))
	assert.Equal(t, []string{"Clear reading"}, reporttest.Texts(reporttest.With(all, "reading-word")))
	assert.Equal(t, "3 7", reporttest.With(all, "reading")[0].Attr["data-bracket"])
}

func TestWarningsCarryTheirPlace(t *testing.T) {
	r := reporttest.Nitrate()
	r.Warnings = []calib.Warning{{Code: "noisy", Seen: "A.", Places: []calib.Place{{Kind: calib.PlacePad,
		Analyte: "nitrate"}}}, {Code: "expired", Seen: "B."}}
	s := source(r)
	s.Light = lit(calib.Good, "shadow")
	s.Light.Warnings[0].Places = []calib.Place{{Kind: calib.PlaceWhite, Number: 2}}
	html, all := page(t, s, nil)
	var got []string
	for _, n := range all {
		if n.Name == "li" {
			got = append(got, n.Attr["data-where"]+" "+n.Attr["data-code"]+" "+n.Text)
		}
	}
	assert.Equal(t, []string{`[{"kind":"pad","analyte":"nitrate"}] noisy A.`, " expired B.",
		`[{"kind":"white","number":2}] shadow Z.`}, got)
	assert.Contains(t, html, `<li data-code="expired">`, "what is not in the photo has no place")
}

// A photo of which nothing was read has no sheet but its notes.
func TestNothingRead(t *testing.T) {
	s := source()
	html, err := HTML(s, nil)
	require.NoError(t, err)
	assert.Empty(t, strings.TrimSpace(html))
	s.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	_, all := page(t, s, nil)
	assert.Equal(t, "Not read no pad is marked for pH: skipped", reporttest.Flat(all[0].Text))
}

// The page gets a warning's places as a reading file has them.
func TestPlacesText(t *testing.T) {
	for want, places := range map[string][]calib.Place{
		"":                                     nil,
		`[{"kind":"photo"}]`:                   {{Kind: calib.PlacePhoto}},
		`[{"kind":"pad","analyte":"a:b \"c"}]`: {{Kind: calib.PlacePad, Analyte: `a:b "c`}},
		`[{"kind":"swatch","analyte":"x","value":0},{"kind":"swatch","analyte":"x","value":1.5,"part":2}]`: {
			{Kind: calib.PlaceSwatch, Analyte: "x"}, {Kind: calib.PlaceSwatch, Analyte: "x", Value: 1.5, Part: 2}},
	} {
		assert.Equal(t, want, placesText(places))
	}
}

// All that is drawn lies within the picture.
func TestNothingLeavesTheDrawing(t *testing.T) {
	for _, r := range reporttest.Forms() {
		_, all := page(t, source(r), nil)
		for _, n := range all {
			if n.Name != "line" && n.Name != "text" && n.Name != "rect" {
				continue
			}
			for _, a := range []string{"x", "y", "x1", "y1", "x2", "y2"} {
				v, err := strconv.ParseFloat(n.Attr[a], 64)
				assert.True(t, n.Attr[a] == "" || err == nil && v >= 0 && v <= 360, "%s %v", a, n.Attr)
				assert.True(t, n.Attr[a] == "" || !strings.HasPrefix(a, "y") || v <= 64, "%s %v", a, n.Attr)
			}
		}
	}
}

// What a person sees of it is drawn in the page's own ink.
func TestDrawingTakesThePagesInk(t *testing.T) {
	html, all := page(t, source(reporttest.Nitrate(), reporttest.PresencePad(0.96)), nil)
	assert.NotRegexp(t, regexp.MustCompile(`#[0-9a-fA-F]{3,6}\b|rgb`), strings.ReplaceAll(html, "&#39;", ""))
	svgs := 0
	for _, n := range all {
		if n.Name == "svg" {
			svgs++
			assert.Equal(t, "currentColor", n.Attr["fill"])
			assert.Equal(t, "img", n.Attr["role"])
			assert.Equal(t, "0 0 360 64", n.Attr["viewBox"])
		}
	}
	assert.Equal(t, 1, svgs, "a presence pad has no rule")
}
