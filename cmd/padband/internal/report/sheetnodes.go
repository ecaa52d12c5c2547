package report

import (
	_ "embed"
	"strconv"
)

//go:embed paper.css
var paperCSS string

// policy lets a page load nothing but the pictures it holds.
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"

// onSheets is a whole page: what every page begins with, and its sheets.
func onSheets(f folio, sheets ...piece) ([]byte, error) {
	style := "\n" + paperCSS
	title := f.Title
	if f.Subject != "" {
		title += ": " + f.Subject
	}
	page := block("html", "",
		block("head", "",
			el("meta", "").with("charset", "utf-8"),
			el("meta", "").with("http-equiv", "Content-Security-Policy", "content", policy),
			el("meta", "").with("name", "viewport", "content", "width=device-width, initial-scale=1"),
			el("title", "", prose(title)),
			el("style", "", prose(style)),
		),
		block("body", "paper", block("main", "", sheets...)),
	).with("lang", "en")
	return writtenWith(style, doctype(), prose("\n"), page, prose("\n"))
}

// sheetOf is one sheet with its head.
func sheetOf(h head, in ...piece) elem {
	return block("section", "paper-sheet", h.piece(), pieces(in)).with("aria-label", h.number())
}

func (h head) number() string { return "Sheet " + strconv.Itoa(h.Number) + " of " + strconv.Itoa(h.Of) }

func (h head) piece() piece {
	name, under := h.named()
	of := el("p", "paper-of")
	for _, e := range h.Known {
		of.add(el("span", "", prose(e.Label+" "), el("b", "", prose(e.Value))), prose(" "))
	}
	if h.Blank != "" {
		of.add(el("span", "", prose(h.Blank)), writeOn(), prose(" "))
	}
	of.add(el("span", "paper-number", prose(h.number())))
	if h.Number == 1 {
		return block("header", "paper-head", el("h1", "", prose(name)), el("p", "paper-under", prose(under)), of)
	}
	return block("header", "paper-head", el("p", "paper-name", prose(name)), of)
}

// writeOn is a line to write on.
func writeOn() elem { return el("span", "paper-blank") }

func caution() elem { return el("p", "paper-caution", prose(cautionText)) }

// cautionText stands on every page that shows a reading.
const cautionText = "A strip is a screening test. Have a certified laboratory confirm what matters to health, to money or in a dispute. " +
	"Ask the local health authority what a result means for drinking. Local codes and licensed practice decide what is " +
	"done to pipes and treatment."
