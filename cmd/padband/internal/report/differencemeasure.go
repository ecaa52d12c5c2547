package report

import (
	"strconv"
	"strings"
)

// high is that of one analyte read twice: three figureColumns side by side.
func (c compared) high() float64 {
	wide := (sheetWide - 6) / 3
	y := 0.0
	f, bold := plainFace(pairPt, wide), boldFace(pairPt, wide)
	column := func(title, doubt string, says []string, d drawing) {
		h, _ := strconv.ParseFloat(d.Height, 64) // printed by px
		here := boldFace(bodyPt, wide).high(0.6, title) + bold.high(0, doubt) + f.high(0, says...)
		y = max(y, here+wide*h/svgWidth+0.6)
	}
	for _, s := range c.Sides {
		column(s.Name+" ("+s.Word+")", s.Doubt, s.First, *s.Rule)
	}
	column("Difference", "", c.Says, c.Figure)
	head := rowAir + boldFace(bodyPt, sheetWide).high(0, c.Head)
	return head + plainFace(bodyPt*saysLarger, sheetWide).high(2*paraAir, c.First) + y
}

func leftHigh(left []string) float64 {
	if len(left) == 0 {
		return 0
	}
	return rowAir + plainFace(bodyPt, sheetWide).high(2*paraAir, "Not compared    "+strings.Join(left, " "))
}

func (s sides) high() float64 {
	name, value := plainFace(pairPt, 0.26*sheetWide-2.5), plainFace(pairPt, 0.37*sheetWide-2.5)
	y := rowAir + 2*smallLine
	for _, r := range s.Rows {
		y += 0.3 + max(name.high(0, r.Label), value.high(0, r.Before), value.high(0, r.After))
	}
	if s.Missing != "" {
		y += boldFace(smallPt, sheetWide).high(2*paraAir, "Not given for either: "+s.Missing+".")
	}
	return y
}

func meantHigh() float64 {
	y := rowAir + bodyLine + plainFace(smallPt, sheetWide).high(paraAir, meantText, notMeantText)
	return y + boldFace(bodyPt, sheetWide).high(paraAir, cautionText)
}
