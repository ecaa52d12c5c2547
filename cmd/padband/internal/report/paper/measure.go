package paper

import (
	"slices"
	"strconv"

	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
)

// The heights of the page's pieces in print, in millimetres, are these; sheet.css has
// them too. They may be more than a machine's font needs, and never less.
const (
	answerAir     = 0.3
	viewWide      = 56.0
	knownWide     = sheet.Wide - viewWide - 5
	ruleWide      = 74.0
	cropsWide     = 36.0
	partsWide     = 42.0
	cropsGap      = 1.0
	markWide      = 4.0 // of the dash before a warning
	columnGap     = 6.0
	figureColumns = 3
	mostRows      = 60    // of tables put in columns together
	factsHigh     = 150.0 // after which facts go on in a further piece
	dayHigh       = 16.5
)

// high is the height of the answer. The words of a reading that is not to be relied on
// are bold.
func (a answer) high() float64 {
	wide := sheet.Wide - 4
	sayFace := sheet.Plain(sheet.BodyPt, wide)
	if a.Doubt != "" {
		sayFace = sheet.Bold(sheet.BodyPt, wide)
	}
	head := sheet.Bold(sheet.BodyPt, wide).High(1.8, a.Head+"     "+a.Word)
	says := sayFace.High(answerAir, joined(append([]string{a.Doubt}, a.Water...)...))
	says += againstHigh(wide, a.Judged, a.Next)
	return sheet.RowAir + head + says + sheet.Plain(sheet.BodyPt, wide).High(answerAir, joined(slices.Concat(a.Strip, a.Further)...))
}

// againstHigh is the height of the verdicts together with what to do next.
func againstHigh(wide float64, js []words.Against, next []string) float64 {
	y := 0.0
	for _, j := range js {
		y += runIn(wide, j.Verdict, j.Grounds)
	}
	return y + sheet.Plain(sheet.SmallPt, wide-12).High(2*answerAir, joined(next...))
}

// runIn is the height of a verdict and its grounds. The grounds run on from the
// verdict when that takes one line only.
func runIn(wide float64, verdict, grounds string) float64 {
	f := sheet.Plain(sheet.SmallPt, wide)
	f.Line = sheet.BodyLine
	alone := sheet.Bold(sheet.BodyPt, wide).Below(0, verdict)
	if alone > 1.5*sheet.BodyLine {
		return f.Below(alone, grounds)
	}
	taken := sheet.Bolder*sheet.TextWide(verdict) + 1.5
	f.Wide = func(y float64) float64 {
		if y < sheet.BodyLine/2 {
			return wide - taken
		}
		return wide
	}
	return max(alone, f.Below(0, grounds))
}

// summedHigh is the height of the text on what several analytes mean together.
func summedHigh(s words.Sum) float64 {
	return sheet.RowAir + sheet.Bold(sheet.BodyPt, sheet.Wide).High(0.6, s.Head) + againstHigh(sheet.Wide, s.Judged, s.Next)
}

// high is the height of the photo or of the facts beside it, whichever is taller.
func (a about) high() float64 {
	wide, left := sheet.Wide, 0.0
	if v := a.View; v != nil {
		wide = knownWide
		left = viewWide*float64(v.Height)/float64(max(1, v.Width)) + sheet.Plain(sheet.SmallPt, viewWide).High(2, v.caption())
	}
	right := sheet.BodyLine + 2*sheet.ParaAir
	for _, f := range a.Facts {
		label := sheet.Plain(sheet.SmallPt, wide/2).High(0, f.Label)
		right += max(label, sheet.Plain(sheet.SmallPt, wide-min(wide/2, sheet.TextWide(f.Label))-3).High(0, f.Value))
	}
	if a.Missing != "" {
		right += sheet.Bold(sheet.SmallPt, wide).High(sheet.ParaAir, "Not given: "+a.Missing+".")
	}
	for _, w := range a.Unknown {
		right += sheet.Bold(sheet.SmallPt, wide).High(sheet.ParaAir, w.Text)
	}
	if a.Attached != "" {
		right += sheet.Plain(sheet.SmallPt, wide).High(sheet.ParaAir, "Kept with it: "+a.Attached+".")
	}
	if a.Light != nil {
		right += a.Light.high(wide)
	}
	return sheet.RowAir + max(left, right)
}

// high is the height of the text on the photo's light, in a column of that width.
func (l lightWords) high(wide float64) float64 {
	y := 1.2 + sheet.Plain(sheet.BodyPt, wide).High(2*sheet.ParaAir, "The photo   "+l.text()) +
		sheet.Plain(sheet.SmallPt, wide).High(sheet.ParaAir, l.Facts)
	return y + warningsHigh(wide, l.Warnings)
}

// warningsHigh is the height of a list of warnings.
func warningsHigh(wide float64, ws []report.Warning) float64 {
	y := 0.0
	for _, w := range ws {
		y += sheet.Plain(sheet.SmallPt, wide-markWide).High(0.3, w.Text)
	}
	return y + sheet.ParaAir
}

// high is the height of the drawing and the pictures, with the text beside and below
// them.
func (p part) high() float64 {
	left, pair := 0.0, 0.0
	if p.Rule != nil {
		h, _ := strconv.ParseFloat(p.Rule.Height, 64) // px printed it, so it is a number
		left, pair = ruleWide+5, ruleWide*h/rule.Wide
	}
	if p.Crops != nil {
		wide := cropsWide
		if p.Crops.Parts {
			wide = partsWide
		}
		left, pair = left+wide+5, max(pair, cropsHigh(*p.Crops)+0.5)
	}
	beside := sheet.Plain(sheet.SmallPt, sheet.Wide)
	beside.Wide = func(y float64) float64 {
		if y < pair {
			return sheet.Wide - left
		}
		return sheet.Wide
	}
	y := sheet.ParaAir
	for _, w := range p.Warnings {
		y = beside.Below(y, "--  "+w.Text) + 0.3
	}
	if p.Again != "" {
		y = beside.Below(y+sheet.ParaAir, p.Again)
	}
	return sheet.RowAir + sheet.BodyLine + max(pair, y+sheet.ParaAir)
}

// cropsHigh is the height of pictures side by side.
func cropsHigh(c report.Crops) float64 {
	n := float64(max(1, len(c.Columns)))
	if c.Parts {
		return 7 * n
	}
	wide := (cropsWide - (n-1)*cropsGap) / n
	y := 0.0
	for _, col := range c.Columns {
		y = max(y, wide*float64(len(col.Images))+sheet.Bold(sheet.SmallPt, wide).High(0, col.Number))
	}
	return y
}

// noteHigh is the height of a note of what was not read.
func noteHigh(n string) float64 {
	return sheet.RowAir + sheet.BodyLine + sheet.Plain(sheet.SmallPt, sheet.Wide-markWide).High(sheet.ParaAir, n)
}

// numbersHigh is the height of tables in figureColumns columns: that of their rows
// shared out over the columns, and some rows more, for a row that cannot be split and
// a heading that is said again above.
func numbersHigh(some []patches) float64 {
	const line = sheet.FigurePt * 1.1 * sheet.MMPerPt
	wide := (sheet.Wide-(figureColumns-1)*columnGap)/figureColumns - 36 // of the patches' names
	rows, most := 0.0, 0.0
	for _, p := range some {
		here := sheet.Bold(sheet.FigurePt, wide+36).High(0, p.caption())/(sheet.FigurePt*sheet.Leading*sheet.MMPerPt) + 4
		for _, c := range p.Colours {
			here += sheet.Plain(sheet.FigurePt, wide).High(0, c.Patch) / (sheet.FigurePt * sheet.Leading * sheet.MMPerPt)
		}
		rows, most = rows+here, max(most, here)
	}
	return sheet.RowAir + sheet.BodyLine + sheet.ParaAir + (rows/figureColumns+3.5)*line
}

// high is the height of the text on what the page shows and cannot show.
func (l limitWords) high() float64 {
	f := sheet.Plain(sheet.SmallPt, sheet.Wide)
	y := sheet.RowAir + sheet.BodyLine + f.High(sheet.ParaAir, shownText, notShownText, joined(l.Shows...))
	return y + sheet.Bold(sheet.BodyPt, sheet.Wide).High(sheet.ParaAir, sheet.CautionText)
}

// high is the height of the text on how to check the record by hand.
func (c check) high() float64 {
	f := sheet.Plain(sheet.SmallPt, sheet.Wide)
	y := sheet.RowAir + sheet.BodyLine + f.High(sheet.ParaAir, checkText, c.Signer+signerText+"Signing key: . ", dayText) + 3*sheet.ParaAir
	for _, h := range c.Hashes {
		y += max(f.High(0, h.Label), sheet.Plain(sheet.SmallPt, sheet.Wide-30).High(0, h.Value))
	}
	return y
}

// findingHigh is the height of a finding; the first one has the heading above it too.
func findingHigh(i int, f string) float64 {
	y := sheet.Plain(sheet.SmallPt, sheet.Wide-markWide).High(0.3, f)
	if i == 0 {
		y += sheet.BodyLine + 3*sheet.ParaAir
	}
	return y
}
