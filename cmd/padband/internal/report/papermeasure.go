package report

import "strconv"

// The heights of the page's pieces in print, in millimetres, as paper.css has
// them. They may be more than a machine's font makes them, never less.
const (
	answerAir     = 0.3
	viewWide      = 56.0
	knownWide     = sheetWide - viewWide - 5
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

func (a answer) high() float64 {
	wide := sheetWide - 4
	sayFace := plainFace(bodyPt, wide)
	if a.Doubt != "" {
		sayFace = boldFace(bodyPt, wide)
	}
	head := boldFace(bodyPt, wide).high(1.8, a.Head+"     "+a.Word)
	says := sayFace.high(answerAir, joined(append([]string{a.Doubt}, a.Says...)...))
	says += againstHigh(wide, a.Judged, a.Next)
	return rowAir + head + says + plainFace(bodyPt, wide).high(answerAir, a.Further...)
}

func againstHigh(wide float64, js []against, next []string) float64 {
	y := 0.0
	for _, j := range js {
		y += runIn(wide, j.Verdict, j.Grounds)
	}
	return y + plainFace(smallPt, wide-12).high(2*answerAir, joined(next...))
}

// runIn is the height of a verdict and its grounds, which run on from it where it
// is of one line.
func runIn(wide float64, verdict, grounds string) float64 {
	f := plainFace(smallPt, wide)
	f.line = bodyLine
	alone := boldFace(bodyPt, wide).below(0, verdict)
	if alone > 1.5*bodyLine {
		return f.below(alone, grounds)
	}
	taken := bolder*textWide(verdict) + 1.5
	f.wide = func(y float64) float64 {
		if y < bodyLine/2 {
			return wide - taken
		}
		return wide
	}
	return max(alone, f.below(0, grounds))
}

func summedHigh(s summed) float64 {
	return rowAir + boldFace(bodyPt, sheetWide).high(0.6, s.Head) + againstHigh(sheetWide, s.Judged, s.Next)
}

func (a about) high() float64 {
	wide, left := sheetWide, 0.0
	if v := a.View; v != nil {
		wide = knownWide
		left = viewWide*float64(v.Height)/float64(max(1, v.Width)) + plainFace(smallPt, viewWide).high(2, v.caption())
	}
	right := bodyLine + 2*paraAir
	for _, f := range a.Facts {
		label := plainFace(smallPt, wide/2).high(0, f.Label)
		right += max(label, plainFace(smallPt, wide-min(wide/2, textWide(f.Label))-3).high(0, f.Value))
	}
	if a.Missing != "" {
		right += boldFace(smallPt, wide).high(paraAir, "Not given: "+a.Missing+".")
	}
	for _, w := range a.Unknown {
		right += boldFace(smallPt, wide).high(paraAir, w.Text)
	}
	if a.Attached != "" {
		right += plainFace(smallPt, wide).high(paraAir, "Kept with it: "+a.Attached+".")
	}
	if a.Light != nil {
		right += a.Light.high(wide)
	}
	return rowAir + max(left, right)
}

func (l lightWords) high(wide float64) float64 {
	y := 1.2 + plainFace(bodyPt, wide).high(2*paraAir, "The photo   "+l.text()) + plainFace(smallPt, wide).high(paraAir, l.Facts)
	return y + warningsHigh(wide, l.Warnings)
}

func warningsHigh(wide float64, ws []warning) float64 {
	y := 0.0
	for _, w := range ws {
		y += plainFace(smallPt, wide-markWide).high(0.3, w.Text)
	}
	return y + paraAir
}

// high is that of the drawing and the pictures with the text beside and below.
func (p part) high() float64 {
	left, pair := 0.0, 0.0
	if p.Rule != nil {
		h, _ := strconv.ParseFloat(p.Rule.Height, 64) // printed by px
		left, pair = ruleWide+5, ruleWide*h/svgWidth
	}
	if p.Crops != nil {
		wide := cropsWide
		if p.Crops.Parts {
			wide = partsWide
		}
		left, pair = left+wide+5, max(pair, cropsHigh(*p.Crops)+0.5)
	}
	beside := plainFace(smallPt, sheetWide)
	beside.wide = func(y float64) float64 {
		if y < pair {
			return sheetWide - left
		}
		return sheetWide
	}
	y := paraAir
	for _, w := range p.Warnings {
		y = beside.below(y, "--  "+w.Text) + 0.3
	}
	if p.Again != "" {
		y = beside.below(y+paraAir, p.Again)
	}
	return rowAir + bodyLine + max(pair, y+paraAir)
}

func cropsHigh(c crops) float64 {
	n := float64(max(1, len(c.Columns)))
	if c.Parts {
		return 7 * n
	}
	wide := (cropsWide - (n-1)*cropsGap) / n
	y := 0.0
	for _, col := range c.Columns {
		y = max(y, wide*float64(len(col.Images))+boldFace(smallPt, wide).high(0, col.Number))
	}
	return y
}

func noteHigh(n string) float64 {
	return rowAir + bodyLine + plainFace(smallPt, sheetWide-markWide).high(paraAir, n)
}

// numbersHigh is the height of tables in figureColumns: as tall as their rows shared
// out, and some rows for what is not parted and is said again above.
func numbersHigh(some []patches) float64 {
	const line = figurePt * 1.1 * ptMM
	wide := (sheetWide-(figureColumns-1)*columnGap)/figureColumns - 36 // of the patches' names
	rows, most := 0.0, 0.0
	for _, p := range some {
		here := boldFace(figurePt, wide+36).high(0, p.Head)/(figurePt*leading*ptMM) + 4
		for _, c := range p.Colours {
			here += plainFace(figurePt, wide).high(0, c.Patch) / (figurePt * leading * ptMM)
		}
		rows, most = rows+here, max(most, here)
	}
	return rowAir + bodyLine + paraAir + (rows/figureColumns+3.5)*line
}

func (l limitWords) high() float64 {
	f := plainFace(smallPt, sheetWide)
	y := rowAir + bodyLine + f.high(paraAir, shownText, notShownText, joined(l.Shows...))
	return y + boldFace(bodyPt, sheetWide).high(paraAir, cautionText)
}

func (c check) high() float64 {
	f := plainFace(smallPt, sheetWide)
	y := rowAir + bodyLine + f.high(paraAir, checkText, c.Signer+signerText+"Signing key: . ", dayText) + 3*paraAir
	for _, h := range c.Hashes {
		y += max(f.high(0, h.Label), plainFace(smallPt, sheetWide-30).high(0, h.Value))
	}
	return y
}

func findingHigh(i int, f string) float64 {
	y := plainFace(smallPt, sheetWide-markWide).high(0.3, f)
	if i == 0 {
		y += bodyLine + 3*paraAir
	}
	return y
}
