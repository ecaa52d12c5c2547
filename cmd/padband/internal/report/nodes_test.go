package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
)

// classesShown are the classes of the elements of pages that have all there is.
func classesShown(t *testing.T) map[string]bool {
	t.Helper()
	worst, faulty := worstPaper(t), manyPads(t)
	worst.Sums = []judge.Judgement{{Words: []string{"Under the limit."}, Next: []string{"Test again."}}}
	faulty.Readings[0], faulty.Notes = presencePad(0.3), []charts.Note{{Code: charts.NoteNoPad, Text: "no pad is marked for iron: skipped"}}
	s := worst.Source
	s.Notes, s.Readings = faulty.Notes, append(s.Readings[:3:3], forms()...)
	s.Meanings = append(s.Meanings, strip.Meaning{})
	piece, err := HTML(s, worst.Crop)
	require.NoError(t, err)
	out := map[string]bool{}
	for _, page := range []func() ([]byte, error){
		func() ([]byte, error) { return []byte(piece), nil },
		func() ([]byte, error) { return Paper(worst) },
		func() ([]byte, error) { return Paper(faulty) },
		func() ([]byte, error) { return Difference(doubtedDifference(t)) },
		func() ([]byte, error) { return Plan(worst.Chart, "1") },
	} {
		data, err := page()
		require.NoError(t, err)
		root, err := html.Parse(strings.NewReader(string(data)))
		require.NoError(t, err)
		for n := range root.Descendants() {
			for _, a := range n.Attr {
				if a.Key == "class" {
					for _, c := range strings.Fields(a.Val) {
						out[c] = true
					}
				}
			}
		}
	}
	return out
}

func TestNodes(t *testing.T) {
	in := pieces{
		block("ul", "a b", each([]string{`<b>"x"</b> & 'y'`, ""}, func(s string) piece { return el("li", "", prose(s)) })),
		when(false, prose("no")), when(true, el("img", "").with("src", "api/crop?x=1&y=2", "alt", "a\x00\x1b\r\"b")),
	}
	data, err := written(in)
	require.NoError(t, err)
	assert.Equal(t, "<ul class=\"a b\">\n<li>&lt;b&gt;&#34;x&#34;&lt;/b&gt; &amp; &#39;y&#39;</li>\n<li></li>\n</ul>"+
		"<img src=\"api/crop?x=1&amp;y=2\" alt=\"a\uFFFD\uFFFD&#13;&#34;b\"/>", string(data))
}

// What could run, style or lead elsewhere is refused, wherever it comes from.
func TestNodesRefuse(t *testing.T) {
	for what, e := range map[string]elem{
		"script": el("script", ""), "a style of its own": el("style", "", prose("p{}")), "a second text in the style": el("style", "", prose("\n"+paperCSS), prose("</style>")),
		"a bare style": el("style", ""), "frame": el("iframe", ""), "text of noscript": el("noscript", "", prose("<p>")), "plaintext": el("plaintext", ""), "xmp": el("xmp", "", prose("</xmp>")),
		"onload": el("p", "").with("onload", "x"), "style": el("p", "").with("style", "x"), "href": el("a", "").with("href", "x"), "a name with markup": el("p", "").with(`x" y`, "z"),
		"a picture from elsewhere": el("img", "").with("src", "https://example.org/x.png"), "a picture that runs": el("img", "").with("src", "javascript:x"),
		"a drawing as a picture": el("img", "").with("src", "data:image/svg+xml;base64,AAAA"), "no picture": el("img", "").with("src", ""),
	} {
		_, err := written(e)
		assert.Error(t, err, what)
		_, err = written(block("div", "", el("p", "", e)))
		assert.Error(t, err, "%s, further in", what)
	}
	_, err := written(el("style", "", prose("\n"+paperCSS)))
	assert.NoError(t, err)
}
