package paper

import (
	"slices"
	"strconv"
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
)

// piece is one sheet. A part that is empty on this sheet gives nothing.
func (s paperSheet) piece() markup.Piece {
	return sheet.Of(s.Head,
		markup.When(s.Faults != "", markup.El("p", "paper-fault", markup.Prose(faultText(s.Faults)))),
		markup.When(len(s.Answers) > 0, markup.Block("section", "paper-answers", markup.Each(s.Answers,
			answer.piece)).With("aria-label", "What was read")),
		markup.Each(s.Sums, summedOnPaper),
		markup.Each(s.Abouts, about.piece),
		s.Light.piece(),
		markup.Each(s.Sections, part.piece),
		markup.When(len(s.Notes) > 0, markup.Block("section", "paper-left", markup.Head2("Not read"),
			markup.Bullets("reading-warnings", s.Notes))),
		coloursPiece(s.Numbers),
		s.Limits.piece(), s.Check.piece(),
		foundPiece(s.Found),
		s.Day.piece(),
	)
}

// piece is one analyte's reading in words.
func (a answer) piece() markup.Piece {
	return markup.Block("div", "paper-answer",
		markup.El("div", "paper-line", markup.Head2(a.Head), markup.El("p", "paper-word", markup.Prose(a.Word))),
		markup.Block("div", "paper-said", markup.Paragraph("paper-doubt", a.Doubt),
			markup.FirstAndFurther(a.Water, "paper-says", "paper-water")),
		report.JudgedList(a.Judged),
		markup.Block("div", "paper-said", markup.FirstAndFurther(slices.Concat(a.Strip, a.Further), "", "")),
		report.NextList(a.Next),
	).With("data-analyte", a.Analyte, "data-reliability", a.Reliability)
}

// summedOnPaper says what several analytes mean together.
func summedOnPaper(s words.Sum) markup.Piece {
	return markup.Block("section", "paper-answer", markup.Head2(s.Head), report.JudgedList(s.Judged), report.NextList(s.Next))
}

// piece is the photo with its marks, and the facts of sample and kit beside it.
func (a about) piece() markup.Piece {
	head := "Sample and kit"
	if a.On {
		head += ", further"
	}
	if a.Shot != "" {
		head = a.Shot
	}
	facts := markup.Block("dl", "paper-facts", markup.Each(a.Facts,
		func(e words.Entry) markup.Piece { return report.Pair(e.Label, e.Value) }))
	return markup.Block("section", "paper-about", a.View.piece(), markup.Block("div", "paper-known",
		markup.Head2(head),
		markup.When(len(a.Facts) > 0, facts),
		markup.When(a.Missing != "", markup.El("p", "paper-missing", markup.Prose("Not given: "+a.Missing+"."))),
		markup.Each(a.Unknown, func(w report.Warning) markup.Piece { return markup.El("p", "paper-missing", markup.SetProse(w.Text)) }),
		markup.When(a.Attached != "", markup.El("p", "", markup.Prose("Kept with it: "+a.Attached+"."))),
		a.Light.piece(),
	))
}

// piece is one analyte's drawing, pictures and warnings.
func (p part) piece() markup.Piece {
	id := "paper-" + strconv.Itoa(p.Index)
	return markup.Block("section", "paper-part",
		markup.El("h2", "", markup.Prose(strconv.Itoa(p.Index)+". "+p.Head)).With("id", id),
		markup.Block("div", "paper-pair", rule.SVG(p.Rule), report.CropRow(p.Crops)),
		report.WarningList(p.Warnings), markup.Paragraph("paper-again", p.Again),
	).With("aria-labelledby", id)
}

// piece says what there is to say of the photo's light; it is nothing where that
// stands elsewhere.
func (l *lightWords) piece() markup.Piece {
	if l == nil {
		return markup.Pieces{}
	}
	return markup.Block("section", "paper-light", markup.Head2("The photo"), markup.El("p", "paper-run", markup.Prose(l.text())),
		report.WarningList(l.Warnings), markup.When(l.Facts != "", markup.El("p", "", markup.Prose(l.Facts))))
}

// text says what light and file leave of the readings.
func (l lightWords) text() string {
	switch {
	case l.Grade == calib.Unreliable:
		return "Because of its light or file, no reading of it is to be used."
	case l.Grade == calib.Caution:
		return "Because of its light or file, every reading of it is doubtful."
	case len(l.Warnings) == 0:
		return "No check found anything against its light and file."
	}
	return "Nothing in its light and file makes a reading doubtful."
}

// coloursPiece are the tables of colours, side by side in columns.
func coloursPiece(numbers []patches) markup.Piece {
	tables := markup.Each(numbers, func(p patches) markup.Piece {
		off := "The pad lies " + p.OffScale + " (ΔE) off the scale."
		return markup.Block("table", "reading-colours", markup.El("caption", "", markup.Prose(p.caption())),
			report.ColourHead(), report.ColourBody(p.Colours),
			markup.El("tfoot", "", markup.El("tr", "", markup.El("td", "", markup.Prose(off)).With("colspan", "5"))))
	})
	head := "Colours in this photo"
	if len(numbers) > 0 && numbers[0].Of != "" {
		head = "Colours in the photos"
	}
	return markup.When(len(numbers) > 0, markup.Block("section", "paper-figures", markup.Head2(head),
		markup.El("p", "paper-run", markup.Prose("CIELAB, relative to the white at each place (D50). ΔE (CIEDE2000) is "+
			"the difference from the pad.")),
		markup.Block("div", "paper-numbers", tables)))
}

// caption names the analyte and, of several photos, the one that it was read from.
func (p patches) caption() string {
	if p.Of == "" {
		return p.Head
	}
	return p.Head + ", in " + p.Of
}

// piece says what the page shows and cannot show; it is nothing on a sheet without
// that part.
func (l *limitWords) piece() markup.Piece {
	if l == nil {
		return markup.Pieces{}
	}
	return markup.Block("section", "paper-limits", markup.Head2("What this shows, and what it cannot"),
		markup.El("p", "", markup.Prose(shownText)), markup.El("p", "", markup.Prose(notShownText)),
		markup.When(len(l.Shows) > 0, markup.El("p", "", markup.Prose(strings.Join(l.Shows, " ")))), sheet.Caution())
}

// piece says how to check the record by hand; it is nothing on a sheet without that
// part.
func (c *check) piece() markup.Piece {
	if c == nil {
		return markup.Pieces{}
	}
	hashes := markup.Block("dl", "paper-hashes", markup.Each(c.Hashes,
		func(e words.Entry) markup.Piece { return report.Pair(e.Label, e.Value) }))
	return markup.Block("section", "paper-check", markup.Head2("How to check this record by hand"),
		markup.El("p", "", commands(checkText)), c.signing(),
		markup.El("p", "", markup.Prose(dayText)), markup.When(len(c.Hashes) > 0, hashes))
}

// signing names the key that signs. The name came with a file, so it is written as
// text and never as markup.
func (c *check) signing() markup.Elem {
	if c.Signer == "" {
		return markup.El("p", "", markup.Prose("No signing key is named here."))
	}
	return markup.El("p", "", markup.Prose("Signing key: "+c.Signer+". "), commands(signerText))
}

// commands writes one of our own texts, in which commands stand between grave accents.
func commands(text string) (out markup.Pieces) {
	for i, s := range strings.Split(text, "`") {
		if i%2 == 1 {
			out = append(out, markup.El("code", "", markup.Prose(s)))
			continue
		}
		out = append(out, markup.Prose(s))
	}
	return out
}

// foundPiece lists what the check of the record found.
func foundPiece(found []string) markup.Piece {
	return markup.When(len(found) > 0, markup.Block("section", "paper-found",
		markup.El("p", "", markup.Prose("What the check of this record found:")), markup.Bullets("reading-warnings", found)))
}

// piece has the lines to be written on by hand on the day; it is nothing on a sheet
// without that part.
func (d *day) piece() markup.Piece {
	if d == nil {
		return markup.Pieces{}
	}
	name := markup.El("span", "", markup.Prose("Fingerprint of the record"))
	line := markup.El("p", "paper-print", name, markup.Prose(" "))
	var small markup.Piece = markup.Pieces{}
	if d.Seal != nil {
		line.Add(markup.El("b", "", markup.Prose(d.Seal.Fingerprint)))
	} else {
		line.Add(sheet.WriteOn())
		small = markup.El("p", "paper-small", markup.Prose(unsealedText))
	}
	word := func(s string) markup.Elem { return markup.El("span", "", markup.Prose(s)) }
	sign := markup.El("p", "paper-sign", word("Seen on the day by (name)"), sheet.WriteOn(),
		word("date"), sheet.WriteOn(), word("signature"), sheet.WriteOn())
	return markup.Block("section", "paper-day", line, small, sign).With("aria-label", "Written down on the day")
}

// faultText is the first sentence on the page of a record with faults.
func faultText(faults string) string {
	return "This record is not as it was made: its check found " + faults +
		`, named under "How to check this record by hand". Do not rely on what follows.`
}
