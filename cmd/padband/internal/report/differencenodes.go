package report

import "strings"

func (s differenceSheet) piece() piece {
	pairs := block("section", "paper-answers", each(s.Pairs, compared.piece)).with("aria-label", "What changed")
	return sheetOf(s.head,
		each(s.Doubts, func(d string) piece { return el("p", "paper-fault", setProse(d)) }),
		when(len(s.Pairs) > 0, pairs),
		when(len(s.Left) > 0, block("section", "paper-left", head2("Not compared"),
			el("p", "paper-run", setProse(strings.Join(s.Left, " "))))),
		s.Sides.piece(),
		when(s.Meant, block("section", "paper-limits", head2("What this shows, and what it cannot"),
			el("p", "", prose(meantText)), el("p", "", prose(notMeantText)), caution())),
	)
}

func (c compared) piece() piece {
	difference := block("div", "", el("h3", "", prose("Difference")), firstAndFurther(c.Says, "", ""), drawnRule(&c.Figure))
	return block("div", "paper-answer", head2(c.Head), el("p", "paper-says", setProse(c.First)),
		block("div", "paper-two", each(c.Sides, sideOf.piece), difference)).with("data-direction", c.Direction)
}

func (s sideOf) piece() piece {
	name := s.Name
	if s.Word != "Good" {
		name += " (" + s.Word + ")"
	}
	return block("div", "", el("h3", "", prose(name)), when(s.Doubt != "", el("p", "paper-doubt", prose(s.Doubt))),
		firstAndFurther(s.First, "", ""), drawnRule(s.Rule))
}

func (s *sides) piece() piece {
	if s == nil {
		return pieces{}
	}
	head := each([]string{"The two samples", "Before", "After"}, func(t string) piece { return el("th", "", prose(t)).with("scope", "col") })
	body := each(s.Rows, func(r sideRow) piece {
		label := el("th", "", prose(r.Label)).with("scope", "row")
		return el("tr", "", label, el("td", "", prose(r.Before)), el("td", "", prose(r.After)))
	})
	table := block("table", "paper-sides",
		el("thead", "", el("tr", "", head)), block("tbody", "", body))
	return block("section", "paper-figures", table,
		when(s.Missing != "", el("p", "paper-missing", prose("Not given for either: "+s.Missing+"."))))
}
