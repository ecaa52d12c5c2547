package rule

import (
	"strconv"

	"padband/cmd/padband/internal/report/markup"
)

// SVG is the drawing of a rule; nothing without one.
func SVG(d *Drawing) markup.Piece {
	if d == nil {
		return markup.Pieces{}
	}
	id := "reading-" + strconv.Itoa(d.Index)
	svg := markup.Block("svg", "reading-rule",
		markup.El("title", "", markup.Prose(d.Title)).With("id", id+"-title"),
		markup.El("desc", "", markup.Prose(d.Desc)).With("id", id+"-desc"),
		markup.Each(d.Numbers, func(m mark) markup.Piece {
			return markup.El("text", "reading-number", markup.Prose(m.Text)).With("x", m.X, "y", m.Y, "text-anchor", "middle")
		}),
		markup.El("text", "reading-name", markup.Prose("colour")).With("x", "0", "y", d.BandText, "font-size", "12"),
		markup.El("text", "reading-name", markup.Prose("water")).With("x", "0", "y", d.WaterText, "font-size", "12"),
		markup.Each(d.Bars, func(b box) markup.Piece {
			return markup.El("rect", "reading-bar").With("x", b.X, "y", b.Y, "width", b.Width, "height", b.Height, "fill-opacity", "0.22")
		}),
		ruleLines(d),
	)
	return svg.With("viewBox", "0 0 "+d.Width+" "+d.Height, "role", "img", "aria-labelledby", id+"-title "+id+"-desc",
		"fill", "currentColor", "stroke", "none", "font-size", "13", "font-family", "sans-serif")
}

func ruleLines(d *Drawing) markup.Elem {
	straight := func(class, x1, y1, x2, y2 string) markup.Elem {
		return markup.El("line", class).With("x1", x1, "y1", y1, "x2", x2, "y2", y2)
	}
	return markup.Block("g", "",
		straight("", d.From, d.Line, d.To, d.Line).With("stroke-width", "2"),
		markup.Each(d.Ticks, func(m mark) markup.Piece { return straight("", m.X, m.Y, m.X, d.Line) }),
		markup.Each(d.Lines, func(s stroke) markup.Piece {
			l := straight("reading-"+s.Class, s.X1, s.Y1, s.X2, s.Y2)
			if s.Class == "value" {
				l.With("stroke-width", "3.5")
			}
			return l
		}),
	).With("stroke", "currentColor", "stroke-width", "1.5")
}
