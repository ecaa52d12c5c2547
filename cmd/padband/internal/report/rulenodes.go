package report

import "strconv"

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
