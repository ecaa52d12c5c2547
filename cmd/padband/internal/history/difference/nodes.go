package difference

import (
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/report/sheet"
)

// piece is one sheet of the page.
func (s differenceSheet) piece() markup.Piece {
	pairs := markup.Block("section", "paper-answers", markup.Each(s.Pairs, compared.piece)).With("aria-label", "What changed")
	return sheet.Of(s.Head,
		markup.Each(s.Doubts, func(d string) markup.Piece { return markup.El("p", "paper-fault", markup.SetProse(d)) }),
		markup.When(len(s.Pairs) > 0, pairs),
		markup.When(len(s.Left) > 0, markup.Block("section", "paper-left", markup.Head2("Not compared"),
			markup.El("p", "paper-run", markup.SetProse(strings.Join(s.Left, " "))))),
		s.Sides.piece(),
		markup.When(s.Meant, markup.Block("section", "paper-limits", markup.Head2("What this shows, and what it cannot"),
			markup.El("p", "", markup.Prose(meantText)), markup.El("p", "", markup.Prose(notMeantText)), sheet.Caution())),
	)
}

// piece is one analyte: the answer, and three columns for before, after and between.
func (c compared) piece() markup.Piece {
	between := markup.Block("div", "", markup.El("h3", "", markup.Prose("Difference")),
		markup.FirstAndFurther(c.Says, "", ""), rule.SVG(&c.Figure))
	return markup.Block("div", "paper-answer", markup.Head2(c.Head), markup.El("p", "paper-says", markup.SetProse(c.First)),
		markup.Block("div", "paper-two", markup.Each(c.Sides, sideOf.piece), between)).With("data-direction", c.Direction)
}

// piece is one of the two readings, with its grade where it is not clear.
func (s sideOf) piece() markup.Piece {
	name := s.Name
	if s.Reliability != calib.Good {
		name += " (" + s.Word + ")"
	}
	return markup.Block("div", "", markup.El("h3", "", markup.Prose(name)),
		markup.When(s.Doubt != "", markup.El("p", "paper-doubt", markup.Prose(s.Doubt))),
		markup.FirstAndFurther(s.First, "", ""), rule.SVG(s.Rule))
}

// piece is the table of both samples' facts; nothing on a sheet without it.
func (s *sides) piece() markup.Piece {
	if s == nil {
		return markup.Pieces{}
	}
	head := markup.Each([]string{"The two samples", "Before", "After"},
		func(t string) markup.Piece { return markup.El("th", "", markup.Prose(t)).With("scope", "col") })
	body := markup.Each(s.Rows, func(r sideRow) markup.Piece {
		label := markup.El("th", "", markup.Prose(r.Label)).With("scope", "row")
		return markup.El("tr", "", label, markup.El("td", "", markup.Prose(r.Before)), markup.El("td", "", markup.Prose(r.After)))
	})
	table := markup.Block("table", "paper-sides",
		markup.El("thead", "", markup.El("tr", "", head)), markup.Block("tbody", "", body))
	return markup.Block("section", "paper-figures", table,
		markup.When(s.Missing != "", markup.El("p", "paper-missing", markup.Prose("Not given for either: "+s.Missing+"."))))
}
