package report

import (
	"padband/charts"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
)

// These pieces of the fragment are used on paper too.

// WarningList lists warnings with their codes and places; it is nothing without a
// warning.
func WarningList(all []Warning) markup.Piece {
	return markup.When(len(all) > 0, markup.Block("ul", "reading-warnings", markup.Each(all, func(w Warning) markup.Piece {
		li := markup.El("li", "", markup.SetProse(w.Text))
		if w.Where != "" {
			li.With("data-where", w.Where)
		}
		return li.With("data-code", w.Code)
	})))
}

// JudgedList lists verdicts, each with its grounds.
func JudgedList(all []words.Against) markup.Piece {
	return markup.Each(all, func(a words.Against) markup.Piece {
		return markup.Pieces{markup.El("p", "reading-verdict", markup.SetProse(a.Verdict)), markup.Paragraph("reading-grounds", a.Grounds)}
	})
}

// NextList lists what to do next; it is nothing when there is nothing to do.
func NextList(next []string) markup.Piece {
	return markup.When(len(next) > 0, markup.Block("div", "reading-next", markup.El("p", "", markup.Prose("Next")),
		markup.Bullets("", next)))
}

// CropRow sets the pictures side by side; it is nothing without pictures.
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

// factList lists names with their figures.
func factList(facts []Fact) markup.Elem {
	return markup.Block("dl", "reading-facts", markup.Each(facts, func(f Fact) markup.Piece { return Pair(f.Name, f.Figure) }))
}

// Pair is one row of a list of facts.
func Pair(label, value string) markup.Elem {
	return markup.El("div", "", markup.El("dt", "", markup.Prose(label)), markup.El("dd", "", markup.Prose(value)))
}

// ColourHead is the head of the table of colours, and [ColourBody] its rows; a caption
// is not in them.
func ColourHead() markup.Elem {
	return markup.El("thead", "", markup.El("tr", "", markup.Each([]string{"Patch", "L*", "a*", "b*", "ΔE"}, func(s string) markup.Piece {
		return markup.El("th", "", markup.Prose(s)).With("scope", "col")
	})))
}

// ColourBody is the rows of the table of colours.
func ColourBody(rows []colourRow) markup.Elem {
	return markup.Block("tbody", "", markup.Each(rows, func(r colourRow) markup.Piece {
		return markup.El("tr", "", markup.El("th", "", markup.Prose(r.Patch)).With("scope", "row"),
			markup.Each([]string{r.L, r.A, r.B, r.DeltaE}, func(s string) markup.Piece { return markup.El("td", "", markup.Prose(s)) }))
	}))
}

// noteList lists the notes of what was not read, each with what it is about.
func noteList(notes []charts.Note) markup.Piece {
	return markup.El("ul", "", markup.Each(notes, func(n charts.Note) markup.Piece {
		return markup.El("li", "", markup.SetProse(n.Text)).With("data-code", string(n.Code), "data-analyte", n.Analyte)
	}))
}
