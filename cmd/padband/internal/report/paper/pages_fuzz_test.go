package paper_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"padband/calib/judge"
	"padband/charts"
	"padband/cmd/padband/internal/history/difference"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// sideWith is one of two readings compared; its chart's name stands in a row of facts.
func sideWith(f *paper.Filler, in paper.Input) difference.Side {
	in.File, in.Chart.Name, in.Photo.SHA256 = f.Next(), f.Next(), f.Next()
	return difference.Side{Source: in.Source, Subject: f.Next(), Facts: []words.Entry{f.Entry()}, Missing: nil, Fingerprint: f.Next()}
}

func differenceWith(f *paper.Filler) difference.Input {
	a, b := paper.Invented(), paper.Invented()
	before, after := sideWith(f, a), sideWith(f, b)
	pair := differing(judge.NotShown, 1, reporttest.Ends2(-2, 4), reporttest.Ends2(-4, 6))
	pair.After.Analyte.Name = f.Next()
	after.Version = f.Next()
	return difference.Input{Subject: f.Next(), Before: before, After: after, Pairs: []difference.Pair{pair},
		NotCompared: []string{f.Next()}, Doubts: []string{f.Next()}}
}

func chartWith(f *paper.Filler) charts.Chart {
	c := charts.Chart{Name: f.Next(), Title: f.Next(), Handling: []string{f.Next(), f.Next()}}
	c.Analytes = []charts.Analyte{{Name: f.Next()}, {Name: f.Next(), ReadWindow: &[2]float64{10, 20}}}
	return c
}

// pagesWith are all pages with a text in their fields, and what each must show.
func pagesWith(t *testing.T, text string) (pages [][]byte, shown [][]string) {
	t.Helper()
	add := func(f *paper.Filler, data []byte, err error) {
		require.NoError(t, err)
		pages, shown = append(pages, data), append(shown, f.Put)
	}
	f := &paper.Filler{Text: text}
	in := f.Paper()
	piece, err := report.HTML(in.Source, in.Crop)
	add(f, []byte(piece), err)
	whole := &paper.Filler{Text: text, Put: slices.Clone(f.Put)}
	data, err := paper.Page(whole.Around(in))
	whole.Put = slices.DeleteFunc(whole.Put, func(s string) bool { return s == in.Readings[1].Analyte.Name }) // its capital
	add(whole, data, err)
	f = &paper.Filler{Text: text}
	data, err = difference.Page(differenceWith(f))
	add(f, data, err)
	f = &paper.Filler{Text: text}
	data, err = report.Plan(chartWith(f), f.Next())
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
	return strings.Join(strings.Fields(strings.ReplaceAll(markup.Writable(s), "\u00a0", " ")), " ")
}

// Whatever a field holds, a page has the elements and attributes that it has with
// plain words, is well-formed XML, and says the text as it went in.
func FuzzPages(f *testing.F) {
	for _, s := range []string{
		"", "x", "</style><script>alert(1)</script>", `" onload="x`, "' style='x", "&lt;b&gt; &#60;i> &amp", "<!-- ",
		"]]>", "<![CDATA[", "</title></svg></table>", "<p", "50 % of 3",
		"\x00\x1b[31m\r\n\t", "\xff\xfe", "{{.}} `x`", "\u202e\u2028\ufffe", "javascript:x",
		"data:image/png;base64,AAAA", strings.Repeat("wide word ", 400), "<plaintext>", "\u00a0 \u00a0",
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
			reporttest.WellFormed(t, p)
			said = plainly(said)
			for _, s := range shown[i] {
				one := plainly(s)
				two := plainly(lines.OneLine(s))
				assert.True(t, strings.Contains(said, one) || strings.Contains(said, two), "page %d does not say %q", i, s)
			}
		}
	})
}
