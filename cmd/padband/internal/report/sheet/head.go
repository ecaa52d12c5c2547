package sheet

import (
	"strings"

	"padband/cmd/padband/internal/words"
)

// Folio is what every page of paper has.
type Folio struct {
	Title, Subject string
	Under          []string
}

// Head is how one sheet of a page begins.
type Head struct {
	*Folio
	Known      []words.Entry // what tells that the sheet belongs to this page
	Blank      string        // what to write by hand; empty leaves it out
	Number, Of int
}

// named are the page's name and what stands under it on the first sheet.
func (f *Folio) named() (name, under string) {
	under = strings.Join(f.Under, "; ")
	if f.Subject == "" {
		return f.Title, under
	}
	return f.Subject, f.Title + "; " + under
}

// Highs are the heights of the first sheet's head and of the further ones'.
func (h Head) Highs() (first, further float64) {
	name, under := h.named()
	of := h.Blank + " Sheet 10 of 10"
	for _, e := range h.Known {
		of += " " + e.Label + " " + e.Value
	}
	foot := Plain(SmallPt, Wide-30).High(0.6, of) + 3
	first = Bold(titlePt, Wide).High(0, name) + Plain(SmallPt, Wide).High(0.6, under) + foot
	return first, Bold(BodyPt, Wide).High(0.6, name) + foot
}

// Headed gives each sheet its head, which says which of how many it is.
func Headed[S any](h Head, sheets []S, put func(*S, Head)) []S {
	for i := range sheets {
		h.Number, h.Of = i+1, len(sheets)
		put(&sheets[i], h)
	}
	return sheets
}
