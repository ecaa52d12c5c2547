// Package sheet sets pages out on sheets of paper, A4 and Letter. Start at [Spread],
// which puts the pieces of a page on sheets, and at [Page], which writes them;
// sheet.css has their look. The heights of texts are measured here with letters as
// wide as they may be, so that the number of sheets does not depend on the fonts of
// the machine that prints. The package knows no reading.
package sheet

import (
	_ "embed"
	"strconv"

	"padband/cmd/padband/internal/report/markup"
)

// CSS is the look of all pages of sheets.
//
//go:embed sheet.css
var CSS string

// policy lets a page load nothing but the pictures it holds.
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"

// Page is a whole page: what every page begins with, and its sheets.
func Page(f Folio, sheets ...markup.Piece) ([]byte, error) {
	style := "\n" + CSS
	title := f.Title
	if f.Subject != "" {
		title += ": " + f.Subject
	}
	page := markup.Block("html", "",
		markup.Block("head", "",
			markup.El("meta", "").With("charset", "utf-8"),
			markup.El("meta", "").With("http-equiv", "Content-Security-Policy", "content", policy),
			markup.El("meta", "").With("name", "viewport", "content", "width=device-width, initial-scale=1"),
			markup.El("title", "", markup.Prose(title)),
			markup.El("style", "", markup.Prose(style)),
		),
		markup.Block("body", "paper", markup.Block("main", "", sheets...)),
	).With("lang", "en")
	return markup.WrittenWith(style, markup.Doctype(), markup.Prose("\n"), page, markup.Prose("\n"))
}

// Of is one sheet with its head.
func Of(h Head, in ...markup.Piece) markup.Elem {
	return markup.Block("section", "paper-sheet", h.piece(), markup.Pieces(in)).With("aria-label", h.number())
}

func (h Head) number() string { return "Sheet " + strconv.Itoa(h.Number) + " of " + strconv.Itoa(h.Of) }

func (h Head) piece() markup.Piece {
	name, under := h.named()
	of := markup.El("p", "paper-of")
	for _, e := range h.Known {
		of.Add(markup.El("span", "", markup.Prose(e.Label+" "), markup.El("b", "", markup.Prose(e.Value))), markup.Prose(" "))
	}
	if h.Blank != "" {
		of.Add(markup.El("span", "", markup.Prose(h.Blank)), WriteOn(), markup.Prose(" "))
	}
	of.Add(markup.El("span", "paper-number", markup.Prose(h.number())))
	if h.Number == 1 {
		return markup.Block("header", "paper-head", markup.El("h1", "", markup.Prose(name)),
			markup.El("p", "paper-under", markup.Prose(under)), of)
	}
	return markup.Block("header", "paper-head", markup.El("p", "paper-name", markup.Prose(name)), of)
}

// WriteOn is a line to write on.
func WriteOn() markup.Elem { return markup.El("span", "paper-blank") }

// Caution is the paragraph of [CautionText].
func Caution() markup.Elem { return markup.El("p", "paper-caution", markup.Prose(CautionText)) }

// CautionText stands on every page that shows a reading.
const CautionText = "A strip is a screening test. Have a certified laboratory confirm what matters to health, to money or in a dispute. " +
	"Ask the local health authority what a result means for drinking. Local codes and licensed practice decide what is " +
	"done to pipes and treatment."
