package report

import (
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// node is one element of a fragment, with all text below it.
type node struct {
	name string
	attr map[string]string
	text string
	in   []string // the names of the elements around it, and of itself
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

// flat is a text without its line breaks.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

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

// pieceTree returns a fragment's elements in order. The parser is strict, so a
// fragment that passes is well formed.
func pieceTree(t *testing.T, html string) (all []*node) {
	d := xml.NewDecoder(strings.NewReader("<sheet>" + html + "</sheet>"))
	var open []*node
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
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
