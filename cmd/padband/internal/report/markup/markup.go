// Package markup has the pieces that pages and sheets are made of: text, elements and
// pictures. Start at [El], [Block] and [Prose] to make a page, and at [Written] to
// write it. Written writes HTML that is well-formed XML too, and refuses whatever
// would run, style or load something. The package knows nothing of water.
package markup

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/net/html"

	"padband/cmd/padband/internal/lines"
)

// Piece is a part of a page: text, an element, or several of them.
type Piece interface{ nodes() []*html.Node }

// Prose is text, whatever it holds: it is escaped when it is written.
type Prose string

// Pieces are several, one after the other.
type Pieces []Piece

// Elem is one element.
type Elem struct{ node *html.Node }

func (p Prose) nodes() []*html.Node {
	if p == "" {
		return nil
	}
	return []*html.Node{{Type: html.TextNode, Data: Writable(string(p))}}
}

func (p Pieces) nodes() (out []*html.Node) {
	for _, one := range p {
		out = append(out, one.nodes()...)
	}
	return out
}

func (e Elem) nodes() []*html.Node { return []*html.Node{e.node} }

// El is an element with a class, or none, and what is in it.
func El(name, class string, in ...Piece) Elem {
	e := Elem{&html.Node{Type: html.ElementNode, Data: name}}
	if class != "" {
		e.With("class", class)
	}
	e.Add(in...)
	return e
}

// Block is an element whose pieces stand on lines of their own.
func Block(name, class string, in ...Piece) Elem {
	e := El(name, class)
	e.node.AppendChild(newline())
	for _, n := range Pieces(in).nodes() {
		e.node.AppendChild(n)
		e.node.AppendChild(newline())
	}
	return e
}

// OnLines are the pieces with a line break after each element or text.
func OnLines(in ...Piece) (out Pieces) {
	for _, n := range Pieces(in).nodes() {
		out = append(out, Elem{n}, Prose("\n"))
	}
	return out
}

// Doctype begins a whole page.
func Doctype() Piece { return Elem{&html.Node{Type: html.DoctypeNode, Data: "html"}} }

// Add puts pieces at the element's end.
func (e Elem) Add(in ...Piece) {
	for _, n := range Pieces(in).nodes() {
		e.node.AppendChild(n)
	}
}

// newline is the text that parts lines.
func newline() *html.Node { return &html.Node{Type: html.TextNode, Data: "\n"} }

// With gives the element attributes: a name and a value, and so on.
func (e Elem) With(pairs ...string) Elem {
	for i := 0; i+1 < len(pairs); i += 2 {
		e.node.Attr = append(e.node.Attr, html.Attribute{Key: pairs[i], Val: Writable(pairs[i+1])})
	}
	return e
}

// Each makes a piece of each.
func Each[T any](in []T, pieceOf func(T) Piece) (out Pieces) {
	for _, one := range in {
		out = append(out, pieceOf(one))
	}
	return out
}

// When is the pieces if it holds, else nothing.
func When(holds bool, in ...Piece) Piece {
	if holds {
		return Pieces(in)
	}
	return Pieces{}
}

// Writable replaces what neither HTML nor XML can hold.
func Writable(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return '\uFFFD'
		}
		return r
	}, s)
}

// Written is the pieces as HTML that is well-formed XML too. The error says what
// in the tree a page may not have: that is a fault of this program.
func Written(in ...Piece) ([]byte, error) { return WrittenWith("", in...) }

// WrittenWith is [Written] for a page that may have this style of its own.
func WrittenWith(style string, in ...Piece) ([]byte, error) {
	var b bytes.Buffer
	for _, n := range Pieces(in).nodes() {
		if err := allowed(n, style); err != nil {
			return nil, err
		}
		if err := html.Render(&b, n); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// unescaped are the elements whose text is written as it is.
var unescaped = regexp.MustCompile(`^(style|script|xmp|iframe|noembed|noframes|noscript|plaintext)$`)

// attribute are the names that an attribute may have: none that runs a script,
// styles or leads elsewhere.
var attribute = regexp.MustCompile(`^(class|id|lang|name|content|charset|http-equiv|scope|colspan|role|alt|src|width|height|` +
	`aria-[a-z]+|data-[a-z]+|viewBox|points|[xy][12]?|` +
	`fill|fill-opacity|font-(size|weight|family)|stroke|stroke-(width|linejoin|dasharray)|text-anchor)$`)

// allowed says what is wrong with a tree: a script or the like, an attribute that
// is not known, or a picture from elsewhere.
func allowed(n *html.Node, style string) error {
	if n.Type == html.ElementNode {
		if unescaped.MatchString(n.Data) && !ownStyle(n, style) {
			return fmt.Errorf("a page may not have the element %s", n.Data)
		}
		for _, a := range n.Attr {
			if !attribute.MatchString(a.Key) || a.Key == "src" && Address(a.Val) == "" {
				return fmt.Errorf("an element %s may not have the attribute %s of %.60q", n.Data, a.Key, a.Val)
			}
		}
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if err := allowed(c, style); err != nil {
			return err
		}
	}
	return nil
}

// ownStyle is whether an element is that style and nothing else.
func ownStyle(n *html.Node, style string) bool {
	c := n.FirstChild
	return n.Data == "style" && c != nil && c.NextSibling == nil && c.Type == html.TextNode && style != "" && c.Data == style
}

// SetProse is a text in which a figure and its sign stay on one line.
func SetProse(text string) Prose { return Prose(lines.Set(text)) }

// Paragraph is a paragraph of it; nothing without a text.
func Paragraph(class, text string) Piece {
	return When(text != "", El("p", class, SetProse(text)))
}

// Bullets is a list of texts.
func Bullets(class string, texts []string) Elem {
	return Block("ul", class, Each(texts, func(t string) Piece { return El("li", "", SetProse(t)) }))
}

// FirstAndFurther are paragraphs of which the first has a class of its own.
func FirstAndFurther(texts []string, first, further string) (out Pieces) {
	for i, t := range texts {
		class := first
		if i > 0 {
			class = further
		}
		out = append(out, El("p", class, SetProse(t)))
	}
	return out
}

// Head2 is a heading of the second rank.
func Head2(text string) Elem { return El("h2", "", Prose(text)) }

// pictures are the addresses that an image may have: one below the page's own,
// or a picture held in the address itself.
var pictures = regexp.MustCompile(`^(api/[A-Za-z0-9/._?=&%-]*|data:image/(png|jpeg);base64,[A-Za-z0-9+/=]*)$`)

// Address is a picture's address, empty for one of another kind.
func Address(of string) string {
	if !pictures.MatchString(of) {
		return ""
	}
	return of
}

// Px prints a length with one decimal at most.
func Px(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
}
