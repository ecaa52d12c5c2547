package reporttest

import (
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Node is one element of a fragment, with all text below it.
type Node struct {
	Name string
	Attr map[string]string
	Text string
	In   []string // the names of the elements around it, and of itself
}

// With are the elements that have a class.
func With(all []*Node, class string) (out []*Node) {
	for _, n := range all {
		if slices.Contains(strings.Fields(n.Attr["class"]), class) {
			out = append(out, n)
		}
	}
	return out
}

// Texts are the texts of elements, each on one line.
func Texts(all []*Node) (out []string) {
	for _, n := range all {
		out = append(out, Flat(n.Text))
	}
	return out
}

// Tree returns a page's elements in order. The parser is strict, so a page that
// passes is well formed.
func Tree(t *testing.T, data []byte) (all []*Node) {
	t.Helper()
	_, body, ok := strings.Cut(string(data), "<!DOCTYPE html>\n")
	require.True(t, ok)
	d := xml.NewDecoder(strings.NewReader(body))
	var open []*Node
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			require.Empty(t, open)
			return all
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			n := &Node{Name: x.Name.Local, Attr: map[string]string{}}
			for _, a := range x.Attr {
				n.Attr[a.Name.Local] = a.Value
			}
			open, all = append(open, n), append(all, n)
		case xml.EndElement:
			for _, n := range open {
				n.Text += " " // elements stand apart
			}
			open = open[:len(open)-1]
		case xml.CharData:
			for _, n := range open {
				n.Text += string(x)
			}
		}
	}
}

// Named are the elements of a name, in the order of the page. A page that has none
// gives none, so count them first.
func Named(all []*Node, name string) (out []*Node) {
	for _, n := range all {
		if n.Name == name {
			out = append(out, n)
		}
	}
	return out
}

// Body is all that a page says.
func Body(all []*Node) string { return Flat(Named(all, "body")[0].Text) }

// Flat is a text without its line breaks.
func Flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// WellFormed reads a page or a fragment as XML.
func WellFormed(t *testing.T, data []byte) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader("<all>" + strings.TrimPrefix(string(data), "<!DOCTYPE html>") + "</all>"))
	for {
		if _, err := d.Token(); err != nil {
			require.True(t, errors.Is(err, io.EOF), "%v", err)
			return
		}
	}
}

// PieceTree returns a fragment's elements in order. The parser is strict, so a
// fragment that passes is well formed.
func PieceTree(t *testing.T, html string) (all []*Node) {
	d := xml.NewDecoder(strings.NewReader("<sheet>" + html + "</sheet>"))
	var open []*Node
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err, html)
		switch x := token.(type) {
		case xml.StartElement:
			n := &Node{Name: x.Name.Local, Attr: map[string]string{}}
			for _, a := range x.Attr {
				n.Attr[a.Name.Local] = a.Value
			}
			if len(open) > 0 {
				n.In = slices.Clone(open[len(open)-1].In)
			}
			n.In = append(n.In, n.Name)
			open, all = append(open, n), append(all, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, n := range open {
				n.Text += string(x)
			}
		}
	}
}
