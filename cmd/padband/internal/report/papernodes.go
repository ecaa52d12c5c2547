package report

import (
	"strconv"
	"strings"
)

func (s paperSheet) piece() piece {
	return sheetOf(s.head,
		when(s.Faults != "", el("p", "paper-fault", prose(faultText(s.Faults)))),
		when(len(s.Answers) > 0, block("section", "paper-answers", each(s.Answers, answer.piece)).with("aria-label", "What was read")),
		each(s.Sums, summedOnPaper),
		each(s.Abouts, about.piece),
		s.Light.piece(),
		each(s.Sections, part.piece),
		when(len(s.Notes) > 0, block("section", "paper-left", head2("Not read"), bullets("reading-warnings", s.Notes))),
		coloursPiece(s.Numbers),
		s.Limits.piece(), s.Check.piece(),
		foundPiece(s.Found),
		s.Day.piece(),
	)
}

func (a answer) piece() piece {
	return block("div", "paper-answer",
		el("div", "paper-line", head2(a.Head), el("p", "paper-word", prose(a.Word))),
		block("div", "paper-said", paragraph("paper-doubt", a.Doubt), firstAndFurther(a.Says, "paper-says", "paper-water")),
		judgedList(a.Judged),
		each(a.Further, func(t string) piece { return el("p", "", setProse(t)) }),
		nextList(a.Next),
	).with("data-analyte", a.Analyte, "data-reliability", a.Reliability)
}

func summedOnPaper(s summed) piece {
	return block("section", "paper-answer", head2(s.Head), judgedList(s.Judged), nextList(s.Next))
}

func (a about) piece() piece {
	head := "Sample and kit"
	if a.On {
		head += ", further"
	}
	facts := block("dl", "paper-facts", each(a.Facts, func(e Entry) piece { return pair(e.Label, e.Value) }))
	return block("section", "paper-about", a.View.piece(), block("div", "paper-known",
		head2(head),
		when(len(a.Facts) > 0, facts),
		when(a.Missing != "", el("p", "paper-missing", prose("Not given: "+a.Missing+"."))),
		each(a.Unknown, func(w warning) piece { return el("p", "paper-missing", setProse(w.Text)) }),
		when(a.Attached != "", el("p", "", prose("Kept with it: "+a.Attached+"."))),
		a.Light.piece(),
	))
}

func (p part) piece() piece {
	id := "paper-" + strconv.Itoa(p.Index)
	return block("section", "paper-part",
		el("h2", "", prose(strconv.Itoa(p.Index)+". "+p.Head)).with("id", id),
		block("div", "paper-pair", drawnRule(p.Rule), cropRow(p.Crops)),
		warningList(p.Warnings), paragraph("paper-again", p.Again),
	).with("aria-labelledby", id)
}

func (l *lightWords) piece() piece {
	if l == nil {
		return pieces{}
	}
	return block("section", "paper-light", head2("The photo"), el("p", "paper-run", prose(l.text())),
		warningList(l.Warnings), when(l.Facts != "", el("p", "", prose(l.Facts))))
}

func (l lightWords) text() string {
	text := "Light and file: " + l.Word + "."
	if len(l.Warnings) == 0 {
		text += " No check found anything in them."
	}
	return text
}

func coloursPiece(numbers []patches) piece {
	tables := each(numbers, func(p patches) piece {
		off := "The pad lies " + p.OffScale + " (ΔE) off the scale."
		return block("table", "reading-colours", el("caption", "", prose(p.Head)), colourHead(), colourBody(p.Colours),
			el("tfoot", "", el("tr", "", el("td", "", prose(off)).with("colspan", "5"))))
	})
	return when(len(numbers) > 0, block("section", "paper-figures", head2("Colours in this photo"),
		el("p", "paper-run", prose("CIELAB, relative to the white at each place (D50). ΔE (CIEDE2000) is the difference from the pad.")),
		block("div", "paper-numbers", tables)))
}

func (l *limitWords) piece() piece {
	if l == nil {
		return pieces{}
	}
	return block("section", "paper-limits", head2("What this shows, and what it cannot"),
		el("p", "", prose(shownText)), el("p", "", prose(notShownText)),
		when(len(l.Shows) > 0, el("p", "", prose(strings.Join(l.Shows, " ")))), caution())
}

func (c *check) piece() piece {
	if c == nil {
		return pieces{}
	}
	hashes := block("dl", "paper-hashes", each(c.Hashes, func(e Entry) piece { return pair(e.Label, e.Value) }))
	return block("section", "paper-check", head2("How to check this record by hand"), el("p", "", commands(checkText)), c.signing(),
		el("p", "", prose(dayText)), when(len(c.Hashes) > 0, hashes))
}

// signing names the key that signs. What names it came with a file: it is text.
func (c *check) signing() elem {
	if c.Signer == "" {
		return el("p", "", prose("No signing key is named here."))
	}
	return el("p", "", prose("Signing key: "+c.Signer+". "), commands(signerText))
}

// commands is one of our own texts with commands between grave accents.
func commands(text string) (out pieces) {
	for i, s := range strings.Split(text, "`") {
		if i%2 == 1 {
			out = append(out, el("code", "", prose(s)))
			continue
		}
		out = append(out, prose(s))
	}
	return out
}

func foundPiece(found []string) piece {
	return when(len(found) > 0, block("section", "paper-found",
		el("p", "", prose("What the check of this record found:")), bullets("reading-warnings", found)))
}

func (d *day) piece() piece {
	if d == nil {
		return pieces{}
	}
	print, small := el("p", "paper-print", el("span", "", prose("Fingerprint of the record")), prose(" ")), piece(pieces{})
	if d.Seal != nil {
		print.add(el("b", "", prose(d.Seal.Fingerprint)))
	} else {
		print.add(writeOn())
		small = el("p", "paper-small", prose(unsealedText))
	}
	word := func(s string) elem { return el("span", "", prose(s)) }
	sign := el("p", "paper-sign", word("Seen on the day by (name)"), writeOn(), word("date"), writeOn(), word("signature"), writeOn())
	return block("section", "paper-day", print, small, sign).with("aria-label", "Written down on the day")
}

// faultText is said before all else of a record with faults.
func faultText(faults string) string {
	return "This record is not as it was made: its check found " + faults +
		`, named under "How to check this record by hand". Do not rely on what follows.`
}
