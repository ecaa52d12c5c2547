package markup

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNodes(t *testing.T) {
	in := Pieces{
		Block("ul", "a b", Each([]string{`<b>"x"</b> & 'y'`, ""}, func(s string) Piece { return El("li", "", Prose(s)) })),
		When(false, Prose("no")), When(true, El("img", "").With("src", "api/crop?x=1&y=2", "alt", "a\x00\x1b\r\"b")),
	}
	data, err := Written(in)
	require.NoError(t, err)
	assert.Equal(t, "<ul class=\"a b\">\n<li>&lt;b&gt;&#34;x&#34;&lt;/b&gt; &amp; &#39;y&#39;</li>\n<li></li>\n</ul>"+
		"<img src=\"api/crop?x=1&amp;y=2\" alt=\"a\uFFFD\uFFFD&#13;&#34;b\"/>", string(data))
}

// What could run, style or lead elsewhere is refused, wherever it comes from.
func TestNodesRefuse(t *testing.T) {
	for what, e := range map[string]Elem{
		"script": El("script", ""), "a style of its own": El("style", "", Prose("p{}")),
		"a second text in the style": El("style", "", Prose("p{}"), Prose("</style>")),
		"a bare style":               El("style", ""), "frame": El("iframe", ""), "text of noscript": El("noscript", "", Prose("<p>")),
		"plaintext": El("plaintext", ""), "xmp": El("xmp", "", Prose("</xmp>")),
		"onload": El("p", "").With("onload", "x"), "style": El("p", "").With("style", "x"),
		"href": El("a", "").With("href", "x"), "a name with markup": El("p", "").With(`x" y`, "z"),
		"a picture from elsewhere": El("img", "").With("src", "https://example.org/x.png"),
		"a picture that runs":      El("img", "").With("src", "javascript:x"),
		"a drawing as a picture":   El("img", "").With("src", "data:image/svg+xml;base64,AAAA"), "no picture": El("img", "").With("src", ""),
	} {
		_, err := Written(e)
		assert.Error(t, err, what)
		_, err = Written(Block("div", "", El("p", "", e)))
		assert.Error(t, err, "%s, further in", what)
	}
	_, err := WrittenWith("p{}", El("style", "", Prose("p{}")))
	assert.NoError(t, err)
	_, err = WrittenWith("p{}", El("style", "", Prose("p{}"), Prose("</style>")))
	assert.Error(t, err, "a second text in a page's own style")
	_, err = WrittenWith("p{}", El("style", "", Prose("b{}")))
	assert.Error(t, err, "another style than the page's own")
	_, err = WrittenWith("", El("style", "", Prose("")))
	assert.Error(t, err, "an empty style")
}

// An image comes from the page's own server or is held in its address.
func TestAddresses(t *testing.T) {
	for _, good := range []string{"api/photos/1/part?x=1.5&y=2&w=3&h=4&to=96", "data:image/png;base64,iVBORw0KGgo=",
		"data:image/jpeg;base64,/9j/+A=="} {
		assert.Equal(t, good, string(Address(good)))
	}
	for _, bad := range []string{"", "javascript:alert(1)", "https://example.org/a.png", "//example.org/a.png", "/api/x",
		"data:text/html;base64,PHA+", "data:image/svg+xml;base64,PHA+", "api/x\n", `api/"x`, "data:image/png;base64,A B"} {
		assert.Empty(t, Address(bad), bad)
	}
}
