package report

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// filler puts a text into fields, each time told apart, and keeps what it put.
type filler struct {
	text string
	put  []string
}

func (f *filler) next() string {
	f.put = append(f.put, fmt.Sprintf("«%d %s»", len(f.put), f.text))
	return f.put[len(f.put)-1]
}

func (f *filler) entry() Entry { return Entry{f.next(), f.next()} }

// paper is an invented report with the text in every field that holds one.
func (f *filler) paper() PaperInput {
	in := invented()
	in.Readings = append(in.Readings, presencePad(0.3))
	for i := range in.Readings {
		r := &in.Readings[i]
		r.Analyte.Name, r.Analyte.Unit = f.next(), f.next()
		r.Swatches[len(r.Swatches)/2].Label = f.text // it may begin with the value
		r.Warnings = []calib.Warning{{Code: calib.Code(f.next()), Seen: f.next(), Then: f.next(), Weight: calib.Caution}}
	}
	in.Placed.Pads[1].Analyte.Name = in.Readings[0].Analyte.Name
	in.Light.Reliability, in.Light.Warnings = calib.Caution, []calib.Warning{{Code: calib.Code(f.next()), Seen: f.next(), Then: f.next()}}
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{f.next(), f.next()}, Next: []string{f.next(), f.next()}}}}}
	in.Sums = []judge.Judgement{{Words: []string{f.next()}, Next: []string{f.next()}}}
	in.Photo.Profile = f.next()
	in.Notes = []charts.Note{{Text: f.next()}}
	return in
}

// around adds what the page has and the fragment has not.
func (f *filler) around(in PaperInput) PaperInput {
	in.Readings[0].Analyte.RespondsTo = []string{f.next(), f.next()}
	in.Subject, in.File, in.Version, in.Chart.Title, in.Signer = f.next(), f.next(), f.next(), f.next(), f.next()
	in.Facts, in.Hashes = []Entry{f.entry(), f.entry()}, []Entry{f.entry()}
	in.Missing, in.Attached = []string{f.next(), f.next()}, []string{f.next()}
	in.Seal = &Seal{Fingerprint: f.next(), Findings: []string{f.next(), f.next()}, Faults: 1}
	return in
}

// side is one of two readings compared; its chart's name stands in a row of facts.
func (f *filler) side(in PaperInput) Side {
	in.File, in.Chart.Name, in.Photo.SHA256 = f.next(), f.next(), f.next()
	return Side{in.Source, f.next(), []Entry{f.entry()}, nil, f.next()}
}

func (f *filler) difference() DifferenceInput {
	a, b := invented(), invented()
	before, after := f.side(a), f.side(b)
	pair := differing(judge.NotShown, 1, ends2(-2, 4), ends2(-4, 6))
	pair.After.Analyte.Name = f.next()
	after.Version = f.next()
	return DifferenceInput{f.next(), before, after, []Pair{pair}, []string{f.next()}, []string{f.next()}}
}

func (f *filler) chart() charts.Chart {
	c := charts.Chart{Name: f.next(), Title: f.next(), Handling: []string{f.next(), f.next()}}
	c.Analytes = []charts.Analyte{{Name: f.next()}, {Name: f.next(), ReadWindow: &[2]float64{10, 20}}}
	return c
}

// pagesWith are all pages with a text in their fields, and what each must show.
func pagesWith(t *testing.T, text string) (pages [][]byte, shown [][]string) {
	t.Helper()
	add := func(f *filler, data []byte, err error) {
		require.NoError(t, err)
		pages, shown = append(pages, data), append(shown, f.put)
	}
	f := &filler{text: text}
	in := f.paper()
	piece, err := HTML(in.Source, in.Crop)
	add(f, []byte(piece), err)
	whole := &filler{text: text, put: slices.Clone(f.put)}
	data, err := Paper(whole.around(in))
	whole.put = slices.DeleteFunc(whole.put, func(s string) bool { return s == in.Readings[1].Analyte.Name }) // its capital
	add(whole, data, err)
	f = &filler{text: text}
	data, err = Difference(f.difference())
	add(f, data, err)
	f = &filler{text: text}
	data, err = Plan(f.chart(), f.next())
	add(f, data, err)
	return pages, shown
}

// skeleton is what elements a page has: each with the one around it, the names of
// its attributes and its classes; and all that it says.
func skeleton(t *testing.T, data []byte) (elements map[string]bool, said string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(string(data)))
	require.NoError(t, err)
	elements = map[string]bool{}
	var b strings.Builder
	for n := range root.Descendants() {
		switch n.Type {
		case html.TextNode:
			b.WriteString("\n" + n.Data)
		case html.ElementNode:
			key := n.Parent.Data + ">" + n.Data
			for _, a := range n.Attr {
				key += " " + a.Namespace + ":" + a.Key
				if a.Key == "class" || a.Key == "src" {
					key += "=" + a.Val
				}
				b.WriteString("\n" + a.Val)
			}
			elements[key] = true
		case html.CommentNode:
			elements["a comment"] = true
		}
	}
	return elements, b.String()
}

// plainly is a text as it is compared: on one line, without the hard blank before
// a per cent sign.
func plainly(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(writable(s), "\u00a0", " ")), " ")
}

// Whatever a field holds, a page has the elements and attributes that it has with
// plain words, is well-formed XML, and says the text as it went in.
func FuzzPages(f *testing.F) {
	for _, s := range []string{
		"", "x", "</style><script>alert(1)</script>", `" onload="x`, "' style='x", "&lt;b&gt; &#60;i> &amp", "<!-- ", "]]>", "<![CDATA[", "</title></svg></table>", "<p", "50 % of 3",
		"\x00\x1b[31m\r\n\t", "\xff\xfe", "{{.}} `x`", "\u202e\u2028\ufffe", "javascript:x", "data:image/png;base64,AAAA", strings.Repeat("wide word ", 400), "<plaintext>", "\u00a0 \u00a0",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<14 {
			t.Skip("longer than any field may be")
		}
		trusted := make([]map[string]bool, 4)
		for _, plain := range []string{"", "x", strings.Repeat("x ", 1+len(text)/2)} {
			pages, _ := pagesWith(t, plain)
			for i, p := range pages {
				elements, _ := skeleton(t, p)
				for e := range trusted[i] {
					elements[e] = true
				}
				trusted[i] = elements
			}
		}
		pages, shown := pagesWith(t, text)
		for i, p := range pages {
			elements, said := skeleton(t, p)
			for e := range elements {
				assert.True(t, trusted[i][e], "page %d has %s", i, e)
			}
			wellFormed(t, p)
			said = plainly(said)
			for _, s := range shown[i] {
				one := plainly(s)
				two := plainly(lines.OneLine(s))
				assert.True(t, strings.Contains(said, one) || strings.Contains(said, two), "page %d does not say %q", i, s)
			}
		}
	})
}

// wellFormed reads a page or a fragment as XML.
func wellFormed(t *testing.T, data []byte) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader("<all>" + strings.TrimPrefix(string(data), "<!DOCTYPE html>") + "</all>"))
	for {
		if _, err := d.Token(); err != nil {
			require.True(t, errors.Is(err, io.EOF), "%v", err)
			return
		}
	}
}
