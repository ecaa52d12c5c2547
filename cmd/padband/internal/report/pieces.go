package report

import (
	"padband/charts"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
)

// The pieces of the fragment that the paper has too.

// WarningList are warnings with their codes and places; nothing without one.
func WarningList(all []Warning) markup.Piece {
	return markup.When(len(all) > 0, markup.Block("ul", "reading-warnings", markup.Each(all, func(w Warning) markup.Piece {
		li := markup.El("li", "", markup.SetProse(w.Text))
		if w.Where != "" {
			li.With("data-where", w.Where)
		}
		return li.With("data-code", w.Code)
	})))
}

// JudgedList are verdicts, each with its grounds.
func JudgedList(all []words.Against) markup.Piece {
	return markup.Each(all, func(a words.Against) markup.Piece {
		return markup.Pieces{markup.El("p", "reading-verdict", markup.SetProse(a.Verdict)), markup.Paragraph("reading-grounds", a.Grounds)}
	})
}

// NextList is what to do next; nothing when nothing is to be done.
func NextList(next []string) markup.Piece {
	return markup.When(len(next) > 0, markup.Block("div", "reading-next", markup.El("p", "", markup.Prose("Next")),
		markup.Bullets("", next)))
}

// CropRow are the pictures side by side; nothing without them.
func CropRow(c *Crops) markup.Piece {
	if c == nil {
		return markup.Pieces{}
	}
	class := "reading-crops"
	if c.Parts {
		class += " reading-parts"
	}
	return markup.Block("div", class, markup.Each(c.Columns, func(col cropColumn) markup.Piece {
		one := "reading-crop"
		if col.Pad {
			one += " reading-pad"
		}
		return markup.El("figure", one, markup.Each(col.Images, func(i image) markup.Piece {
			return markup.El("img", "").With("src", i.Src, "alt", i.Alt, "width", "96", "height", "96")
		}), markup.El("figcaption", "", markup.Prose(col.Number)))
	})).With("role", "group", "aria-label", "From the photo")
}

// factList is a list of names with their figures.
func factList(facts []Fact) markup.Elem {
	return markup.Block("dl", "reading-facts", markup.Each(facts, func(f Fact) markup.Piece { return Pair(f.Name, f.Figure) }))
}

// Pair is one row of a list of facts.
func Pair(label, value string) markup.Elem {
	return markup.El("div", "", markup.El("dt", "", markup.Prose(label)), markup.El("dd", "", markup.Prose(value)))
}

// ColourHead and [ColourBody] are the table of colours, without its caption.
func ColourHead() markup.Elem {
	return markup.El("thead", "", markup.El("tr", "", markup.Each([]string{"Patch", "L*", "a*", "b*", "ΔE"}, func(s string) markup.Piece {
		return markup.El("th", "", markup.Prose(s)).With("scope", "col")
	})))
}

// ColourBody are the rows of that table.
func ColourBody(rows []colourRow) markup.Elem {
	return markup.Block("tbody", "", markup.Each(rows, func(r colourRow) markup.Piece {
		return markup.El("tr", "", markup.El("th", "", markup.Prose(r.Patch)).With("scope", "row"),
			markup.Each([]string{r.L, r.A, r.B, r.DeltaE}, func(s string) markup.Piece { return markup.El("td", "", markup.Prose(s)) }))
	}))
}

// noteList are the notes of what was not read, by what they are about.
func noteList(notes []charts.Note) markup.Piece {
	return markup.El("ul", "", markup.Each(notes, func(n charts.Note) markup.Piece {
		return markup.El("li", "", markup.SetProse(n.Text)).With("data-code", string(n.Code), "data-analyte", n.Analyte)
	}))
}
