package report

import (
	"padband/charts"
)

// The pieces of the fragment that the paper has too.

func warningList(all []warning) piece {
	return when(len(all) > 0, block("ul", "reading-warnings", each(all, func(w warning) piece {
		li := el("li", "", setProse(w.Text))
		if w.Where != "" {
			li.with("data-where", w.Where)
		}
		return li.with("data-code", w.Code)
	})))
}

func judgedList(all []against) piece {
	return each(all, func(a against) piece {
		return pieces{el("p", "reading-verdict", setProse(a.Verdict)), paragraph("reading-grounds", a.Grounds)}
	})
}

func nextList(next []string) piece {
	return when(len(next) > 0, block("div", "reading-next", el("p", "", prose("Next")), bullets("", next)))
}

// cropRow are the pictures side by side; nothing without them.
func cropRow(c *crops) piece {
	if c == nil {
		return pieces{}
	}
	class := "reading-crops"
	if c.Parts {
		class += " reading-parts"
	}
	return block("div", class, each(c.Columns, func(col column) piece {
		one := "reading-crop"
		if col.Pad {
			one += " reading-pad"
		}
		return el("figure", one, each(col.Images, func(i image) piece {
			return el("img", "").with("src", i.Src, "alt", i.Alt, "width", "96", "height", "96")
		}), el("figcaption", "", prose(col.Number)))
	})).with("role", "group", "aria-label", "From the photo")
}

// factList is a list of names with their figures.
func factList(facts []fact) elem {
	return block("dl", "reading-facts", each(facts, func(f fact) piece { return pair(f.Name, f.Figure) }))
}

// pair is one row of a list of facts.
func pair(label, value string) elem {
	return el("div", "", el("dt", "", prose(label)), el("dd", "", prose(value)))
}

// colourHead and colourRowsOf are the table of colours, without its caption.
func colourHead() elem {
	return el("thead", "", el("tr", "", each([]string{"Patch", "L*", "a*", "b*", "ΔE"}, func(s string) piece {
		return el("th", "", prose(s)).with("scope", "col")
	})))
}

func colourBody(rows []colourRow) elem {
	return block("tbody", "", each(rows, func(r colourRow) piece {
		return el("tr", "", el("th", "", prose(r.Patch)).with("scope", "row"),
			each([]string{r.L, r.A, r.B, r.DeltaE}, func(s string) piece { return el("td", "", prose(s)) }))
	}))
}

// noteList are the notes of what was not read, by what they are about.
func noteList(notes []charts.Note) piece {
	return el("ul", "", each(notes, func(n charts.Note) piece {
		return el("li", "", setProse(n.Text)).with("data-code", string(n.Code), "data-analyte", n.Analyte)
	}))
}
