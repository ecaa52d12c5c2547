package difference

import (
	"strconv"
	"strings"

	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/report/sheet"
)

// high is that of one analyte read twice: three figureColumns side by side.
func (c compared) high() float64 {
	wide := (sheet.Wide - 6) / 3
	y := 0.0
	f, bold := sheet.Plain(sheet.PairPt, wide), sheet.Bold(sheet.PairPt, wide)
	column := func(title, doubt string, says []string, d rule.Drawing) {
		h, _ := strconv.ParseFloat(d.Height, 64) // printed by px
		here := sheet.Bold(sheet.BodyPt, wide).High(0.6, title) + bold.High(0, doubt) + f.High(0, says...)
		y = max(y, here+wide*h/rule.Wide+0.6)
	}
	for _, s := range c.Sides {
		column(s.Name+" ("+s.Word+")", s.Doubt, s.First, *s.Rule)
	}
	column("Difference", "", c.Says, c.Figure)
	head := sheet.RowAir + sheet.Bold(sheet.BodyPt, sheet.Wide).High(0, c.Head)
	return head + sheet.Plain(sheet.BodyPt*sheet.SaysLarger, sheet.Wide).High(2*sheet.ParaAir, c.First) + y
}

// leftHigh is the height of the analytes that were not compared.
func leftHigh(left []string) float64 {
	if len(left) == 0 {
		return 0
	}
	return sheet.RowAir + sheet.Plain(sheet.BodyPt, sheet.Wide).High(2*sheet.ParaAir, "Not compared    "+strings.Join(left, " "))
}

// high is that of the table of both samples' facts.
func (s sides) high() float64 {
	name, value := sheet.Plain(sheet.PairPt, 0.26*sheet.Wide-2.5), sheet.Plain(sheet.PairPt, 0.37*sheet.Wide-2.5)
	y := sheet.RowAir + 2*sheet.SmallLine
	for _, r := range s.Rows {
		y += 0.3 + max(name.High(0, r.Label), value.High(0, r.Before), value.High(0, r.After))
	}
	if s.Missing != "" {
		y += sheet.Bold(sheet.SmallPt, sheet.Wide).High(2*sheet.ParaAir, "Not given for either: "+s.Missing+".")
	}
	return y
}

// meantHigh is the height of what the page shows and cannot show.
func meantHigh() float64 {
	y := sheet.RowAir + sheet.BodyLine + sheet.Plain(sheet.SmallPt, sheet.Wide).High(sheet.ParaAir, meantText, notMeantText)
	return y + sheet.Bold(sheet.BodyPt, sheet.Wide).High(sheet.ParaAir, sheet.CautionText)
}
