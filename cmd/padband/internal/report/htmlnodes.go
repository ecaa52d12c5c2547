package report

import (
	"strconv"

	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// The pieces of the fragment that the paper has too.

// setProse is a text in which a figure and its sign stay on one line.
func setProse(text string) prose { return prose(lines.Set(text)) }

// paragraph is a paragraph of it; nothing without a text.
func paragraph(class, text string) piece {
	return when(text != "", el("p", class, setProse(text)))
}

// bullets is a list of texts.
func bullets(class string, texts []string) elem {
	return block("ul", class, each(texts, func(t string) piece { return el("li", "", setProse(t)) }))
}

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

// drawnRule is the drawing of a rule; nothing without one.
func drawnRule(d *drawing) piece {
	if d == nil {
		return pieces{}
	}
	id := "reading-" + strconv.Itoa(d.Index)
	svg := block("svg", "reading-rule",
		el("title", "", prose(d.Title)).with("id", id+"-title"),
		el("desc", "", prose(d.Desc)).with("id", id+"-desc"),
		each(d.Numbers, func(m mark) piece {
			return el("text", "reading-number", prose(m.Text)).with("x", m.X, "y", m.Y, "text-anchor", "middle")
		}),
		el("text", "reading-name", prose("band")).with("x", "0", "y", d.BandText, "font-size", "12"),
		el("text", "reading-name", prose("water")).with("x", "0", "y", d.WaterText, "font-size", "12"),
		each(d.Bars, func(b box) piece {
			return el("rect", "reading-bar").with("x", b.X, "y", b.Y, "width", b.Width, "height", b.Height, "fill-opacity", "0.22")
		}),
		ruleLines(d),
	)
	return svg.with("viewBox", "0 0 "+d.Width+" "+d.Height, "role", "img", "aria-labelledby", id+"-title "+id+"-desc",
		"fill", "currentColor", "stroke", "none", "font-size", "13", "font-family", "sans-serif")
}

func ruleLines(d *drawing) elem {
	straight := func(class, x1, y1, x2, y2 string) elem {
		return el("line", class).with("x1", x1, "y1", y1, "x2", x2, "y2", y2)
	}
	return block("g", "",
		straight("", d.From, d.Line, d.To, d.Line).with("stroke-width", "2"),
		each(d.Ticks, func(m mark) piece { return straight("", m.X, m.Y, m.X, d.Line) }),
		each(d.Lines, func(s stroke) piece {
			l := straight("reading-"+s.Class, s.X1, s.Y1, s.X2, s.Y2)
			if s.Class == "value" {
				l.with("stroke-width", "3.5")
			}
			return l
		}),
	).with("stroke", "currentColor", "stroke-width", "1.5")
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
