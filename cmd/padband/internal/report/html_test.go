package report

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
)

// node is one element of a fragment, with all text below it.
type node struct {
	name string
	attr map[string]string
	text string
	in   []string // the names of the elements around it, and of itself
}

// page returns a fragment's elements in order. The parser is strict, so a
// fragment that passes is well formed.
func page(t *testing.T, s Source, crop func(colorimetry.Region) string) (html string, all []*node) {
	t.Helper()
	html, err := HTML(s, crop)
	require.NoError(t, err)
	d := xml.NewDecoder(strings.NewReader("<sheet>" + html + "</sheet>"))
	var open []*node
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return html, all
		}
		require.NoError(t, err, html)
		switch x := token.(type) {
		case xml.StartElement:
			n := &node{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			if len(open) > 0 {
				n.in = slices.Clone(open[len(open)-1].in)
			}
			n.in = append(n.in, n.name)
			open, all = append(open, n), append(all, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, n := range open {
				n.text += string(x)
			}
		}
	}
}

// with are the elements that have a class.
func with(all []*node, class string) (out []*node) {
	for _, n := range all {
		if slices.Contains(strings.Fields(n.attr["class"]), class) {
			out = append(out, n)
		}
	}
	return out
}

func texts(all []*node) (out []string) {
	for _, n := range all {
		out = append(out, flat(n.text))
	}
	return out
}

// changed is the invented nitrate reading with changes.
func changed(change func(r *calib.Reading)) calib.Reading {
	r := nitrate()
	change(&r)
	return r
}

// forms are readings of every form a sheet has.
func forms() []calib.Reading {
	return []calib.Reading{
		nitrate(),
		changed(func(r *calib.Reading) {
			r.Reliability = calib.Caution
			r.Warnings = []calib.Warning{{Code: "glare", Seen: "20 % of the pad shines. Tilt the phone.", Weight: calib.Caution}}
		}),
		changed(func(r *calib.Reading) {
			r.Reliability, r.TooWide, r.Band.Hills = calib.Unreliable, true, [][2]float64{{4, 4.5}, {5.5, 6}}
		}),
		changed(func(r *calib.Reading) {
			r.Range, r.Value, r.Bracket = calib.Above, 11, [2]float64{7, 11}
			r.Band.High, r.WaterBand.High = calib.Bound{Value: 11, Open: true}, calib.Bound{Value: 11, Open: true}
		}),
		changed(func(r *calib.Reading) { r.Reliability = calib.Caution }), // because of the light
		presencePad(0.999),
		presencePad(0.3),
	}
}

var (
	listed = regexp.MustCompile(`(?m)^  - `)
	code   = regexp.MustCompile(` \[[a-z-]+\]`)
)

// What a page says of a photo is, word for word, what the terminal says: all
// but the drawn rule, the codes in brackets, the pictures and the folded figures.
func TestTextAndPageSayTheSame(t *testing.T) {
	s := source(forms()...)
	s.Light = lit(calib.Caution, "shadow")
	s.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	text := Text(s) + Meaning()
	for _, r := range s.Readings {
		if r.Analyte.Kind != charts.KindPresence {
			text = strings.Replace(text, rule(r), "", 1)
		}
	}
	_, text, _ = strings.Cut(text, "\n\n") // the file and when it was taken stand elsewhere in a page
	want := flat(code.ReplaceAllString(listed.ReplaceAllString(text, ""), ""))
	assert.Contains(t, want, "20 % of the pad shines. Tilt the phone.")
	assert.Contains(t, want, "With caution because of the light")
	assert.Contains(t, want, "its band spans")

	html, all := page(t, s, nil)
	for _, n := range all {
		if n.name == "svg" || n.name == "details" {
			html = cutElement(t, html, n.name)
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
	assert.Equal(t, want, flat(got.String()))
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
	r := nitrate()
	r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = evil, evil, evil
	r.Swatches[2].Label, r.Reliability = evil, calib.Reliability(evil)
	r.Warnings = []calib.Warning{{Code: calib.Code(evil), Seen: evil + "\x1b[31m"}}
	r.Budget[0].Source = evil
	s := source(r)
	s.Photo.Profile, s.Notes = evil, []charts.Note{{Code: charts.NoteCode(evil), Analyte: evil, Text: evil}}
	s.Light.Warnings = r.Warnings
	s.Placed = marked(r, 1)
	plainly := map[string]int{}
	_, clean := page(t, source(nitrate()), nil)
	for _, n := range clean {
		plainly[n.name]++
	}
	html, all := page(t, s, func(colorimetry.Region) string { return `javascript:alert("1")` })
	assert.NotContains(t, html, "<script")
	assert.NotContains(t, html, "\x1b")
	assert.NotContains(t, html, "javascript:")
	for _, n := range all {
		if !slices.Contains(n.in, "figure") && !slices.Contains([]string{"ul", "li", "section", "h3", "div"}, n.name) {
			assert.Positive(t, plainly[n.name], "%s is not one of the sheet's own elements", n.name)
		}
		for a := range n.attr {
			assert.False(t, strings.HasPrefix(a, "on") || a == "style", "%s has %s", n.name, a)
		}
	}
	assert.Equal(t, evil, with(all, "reading")[0].attr["data-analyte"], "the name itself, for whoever looks it up")
	assert.Contains(t, all[0].text, evil)
}

// A page that allows no style and no script of its own shows the sheet as it is.
func TestNothingInline(t *testing.T) {
	s := source(forms()...)
	s.Placed = marked(s.Readings[0], 2)
	html, all := page(t, s, func(colorimetry.Region) string { return "api/photos/1/part?x=1&y=2" })
	ids := map[string]bool{}
	for _, n := range all {
		assert.NotContains(t, []string{"script", "style", "link", "iframe", "form", "a"}, n.name)
		for a := range n.attr {
			assert.False(t, a == "style" || a == "href" || strings.HasPrefix(a, "on"), "%s has %s", n.name, a)
		}
		if id := n.attr["id"]; id != "" {
			assert.False(t, ids[id], "id %s stands twice", id)
			ids[id] = true
		}
	}
	named := 0
	for _, n := range all {
		for _, id := range strings.Fields(n.attr["aria-labelledby"]) {
			assert.True(t, ids[id], "nothing has the id %s", id)
			named++
		}
	}
	assert.Greater(t, named, len(s.Readings))
	assert.Contains(t, html, `src="api/photos/1/part?x=1&amp;y=2"`)
}

func TestDoubtStandsFirst(t *testing.T) {
	r := nitrate()
	r.Reliability = calib.Unreliable
	_, all := page(t, source(r), nil)
	i := slices.Index(all, with(all, "reading-doubt")[0])
	j := slices.Index(all, with(all, "reading-says")[0])
	assert.Equal(t, i+1, j)
	assert.Equal(t, "Do not rely on this reading.", all[i].text)
	_, all = page(t, source(nitrate()), nil)
	assert.Empty(t, with(all, "reading-doubt"))
	assert.Equal(t, []string{"Good"}, texts(with(all, "reading-word")))
	assert.Equal(t, "3 7", with(all, "reading")[0].attr["data-bracket"])
}

func TestWarningsCarryTheirPlace(t *testing.T) {
	r := nitrate()
	r.Warnings = []calib.Warning{{Code: "noisy", Seen: "A.", Places: []calib.Place{{Kind: calib.PlacePad, Analyte: "nitrate"}}}, {Code: "expired", Seen: "B."}}
	s := source(r)
	s.Light = lit(calib.Good, "shadow")
	s.Light.Warnings[0].Places = []calib.Place{{Kind: calib.PlaceWhite, Number: 2}}
	html, all := page(t, s, nil)
	var got []string
	for _, n := range all {
		if n.name == "li" {
			got = append(got, n.attr["data-where"]+" "+n.attr["data-code"]+" "+n.text)
		}
	}
	assert.Equal(t, []string{`[{"kind":"pad","analyte":"nitrate"}] noisy A.`, " expired B.", `[{"kind":"white","number":2}] shadow Z.`}, got)
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
	assert.Equal(t, "Not read no pad is marked for pH: skipped", flat(all[0].text))
}

var classes = regexp.MustCompile(`\.([a-z-]+)`)

// The look: it styles the sheet's classes and nothing else, and fetches nothing.
func TestLookStylesTheSheetAlone(t *testing.T) {
	data, err := os.ReadFile("../page/web/reading/reading.css")
	require.NoError(t, err)
	look := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(data), "")
	assert.NotContains(t, look, "url(")
	assert.NotContains(t, look, "@import")
	rules, has := 0, classesShown(t)
	for _, r := range regexp.MustCompile(`([^{};]+)\{`).FindAllStringSubmatch(look, -1) {
		if strings.Contains(r[1], "@media") {
			continue
		}
		for _, selector := range strings.Split(regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(r[1], ""), ",") {
			rules++
			assert.True(t, strings.HasPrefix(strings.TrimSpace(selector), ".reading"), selector)
			for _, c := range classes.FindAllStringSubmatch(selector, -1) {
				assert.True(t, has[c[1]], "no element has the class %s", c[1])
			}
		}
	}
	assert.Greater(t, rules, 30)
}
