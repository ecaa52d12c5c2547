package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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
		"script": el("script", ""), "a style of its own": el("style", "", prose("p{}")), "a second text in the style": el("style", "", prose("p{}"), prose("</style>")),
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
	_, err := writtenWith("p{}", el("style", "", prose("p{}")))
	assert.NoError(t, err)
	_, err = writtenWith("p{}", el("style", "", prose("p{}"), prose("</style>")))
	assert.Error(t, err, "a second text in a page's own style")
	_, err = writtenWith("p{}", el("style", "", prose("b{}")))
	assert.Error(t, err, "another style than the page's own")
	_, err = writtenWith("", el("style", "", prose("")))
	assert.Error(t, err, "an empty style")
}

// An image comes from the page's own server or is held in its address.
func TestAddresses(t *testing.T) {
	for _, good := range []string{"api/photos/1/part?x=1.5&y=2&w=3&h=4&to=96", "data:image/png;base64,iVBORw0KGgo=", "data:image/jpeg;base64,/9j/+A=="} {
		assert.Equal(t, good, string(address(good)))
	}
	for _, bad := range []string{"", "javascript:alert(1)", "https://example.org/a.png", "//example.org/a.png", "/api/x", "data:text/html;base64,PHA+", "data:image/svg+xml;base64,PHA+", "api/x\n", `api/"x`, "data:image/png;base64,A B"} {
		assert.Empty(t, address(bad), bad)
	}
}
