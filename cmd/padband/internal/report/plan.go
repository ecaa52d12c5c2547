package report

import (
	"fmt"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
)

// plan says what to do before, at and after the dip, for one chart.
type plan struct {
	sheet.Folio
	Sheets []planSheet
}

// planSheet is one sheet of the plan. A part that stands on another sheet is empty
// here.
type planSheet struct {
	sheet.Head
	Parts []planPart
	Last  string
}

// planPart is one part of the plan: lines to tick off, and blanks to fill in.
type planPart struct {
	Title  string
	Lines  []string
	Blanks []string
}

// The advice on sampling and light is common practice, without a source.
var (
	beforeDip = []string{
		"Take a clean bottle or glass without soap, and rinse it three times with the water to be tested.",
		"Let the tap run until the water is as cold as it gets, unless what stood in the pipe is to be tested.",
		"Look at the water in a white cup, from straight above: is it clear, like weak tea, dyed or cloudy? Let cloudy water stand two " +
			"minutes: if it clears from below it was air.",
		"Where the water has a colour, soak the corner of a coffee filter or plain paper in it too, and lay that on the white card.",
		"Lay the chart flat on white card or paper with room for the strip beside it, by a window out of the sun or under " +
			"one white lamp. No shadow of hand or phone, and no flash.",
		"Test soon: within the hour for chlorine and pH, the same day for the rest.",
	}
	forPhoto = []string{
		"Strip, whole chart and white card in one photo, from straight above, as large as they fit. Nothing may mirror in the wet pads.",
		"Do not cut, straighten or brighten the photo, and do not send it through a messenger: it is read as the phone made it.",
	}
	afterPhoto = []string{
		"Mark the photo with padband and enter the light, the look of the water, the clock time of the dip, lot and dates.",
		"Keep it as a record on the day, and write the fingerprint down.",
	}
)

// bottleBlanks and dipBlanks name what a person writes down by hand.
var (
	bottleBlanks = []string{"Place", "Sampling point", "Lot", "Use by", "Opened"}
	waterBlanks  = []string{"The water looks", "Light (day, lamp, tube, flash)"}
	dipBlanks    = []string{"Dipped at (clock)"}
)

// newPlan sets the plan for a chart out on sheets.
func newPlan(c charts.Chart, version string) plan {
	title := c.Title
	if title == "" {
		title = c.Name
	}
	name := lines.OneLine(strings.TrimSpace(c.Name + " " + c.Version))
	p := plan{Folio: sheet.Folio{
		Title: "Before you dip: " + lines.OneLine(title), Under: []string{"chart " + name, "padband " + lines.OneLine(version)},
	}}
	h := sheet.Head{Folio: &p.Folio}
	first, further := h.Highs()
	p.Sheets = sheet.Headed(h, sheet.Spread(first, further, planItems(c)), func(s *planSheet, h sheet.Head) { s.Head = h })
	return p
}

// planPt is the size of the plan's letters, in points.
const planPt = 10.0

// planItems are the pieces of the plan, in order.
func planItems(c charts.Chart) (out []sheet.Item[planSheet]) {
	dip := lines.EachOneLine(c.Handling)
	if len(dip) == 0 {
		dip = []string{"Follow the maker's sheet: how long to dip, whether to shake the drop off, how to hold the strip."}
	}
	parts := []planPart{
		{"The bottle", bottle(c), bottleBlanks},
		{"Water and light", beforeDip, waterBlanks},
		{"The dip", dip, dipBlanks},
		photoPart(c),
		{"After", afterPhoto, nil},
	}
	for _, one := range parts {
		out = append(out, sheet.Item[planSheet]{High: one.high(), Put: func(s *planSheet) { s.Parts = append(s.Parts, one) }})
	}
	last := "A strip is a screening test. Health decisions go to a certified laboratory and the local health authority."
	return append(out, sheet.Item[planSheet]{High: sheet.Bold(sheet.BodyPt, sheet.Wide).High(2*sheet.ParaAir, last),
		Put: func(s *planSheet) { s.Last = last }})
}

// bottle lists what to look at before a bottle is opened.
func bottle(c charts.Chart) []string {
	out := []string{"Is the bottle before its date, was it shut, and does its chart match this one in name and print?"}
	if c.KitLifeDays > 0 {
		out = append(out, "Use it within "+lines.Count(c.KitLifeDays, "day")+" of opening.")
	}
	return out
}

// photoPart says when to take the photos.
func photoPart(c charts.Chart) planPart {
	p := planPart{Title: "The photo"}
	moments, anytime := c.Moments()
	for i, m := range moments {
		p.Lines = append(p.Lines, words.PhotoMoment(m)+".")
		blank := "Photographed at (clock)"
		if len(moments) > 1 {
			blank = fmt.Sprintf("Photo %d at (clock)", i+1)
		}
		p.Blanks = append(p.Blanks, blank)
	}
	if len(anytime) > 0 {
		p.Lines = append(p.Lines, "The chart gives no time for "+lines.List(lines.EachOneLine(anytime))+": see the maker's sheet.")
	}
	if len(moments) > 1 {
		p.Lines = append(p.Lines, "One photo is not in time for all pads: take "+lines.Count(len(moments), "photo")+" of the one strip.")
	}
	p.Lines = append(p.Lines, forPhoto...)
	return p
}

// Plan returns what to do before, at and after the dip as one HTML page of one
// sheet, with boxes to tick and lines to write on, for this chart. The error
// means a fault of this program.
func Plan(c charts.Chart, version string) ([]byte, error) {
	p := newPlan(c, version)
	return sheet.Page(p.Folio, markup.Each(p.Sheets, planSheet.piece))
}

// PlanText is [Plan] for a terminal, in 80 columns.
func PlanText(c charts.Chart, version string) string {
	var b strings.Builder
	p := newPlan(c, version)
	lines.Paragraph(&b, "", p.Title)
	lines.Paragraph(&b, "", strings.Join(p.Under, "; "))
	for _, s := range p.Sheets {
		for _, part := range s.Parts {
			part.text(&b)
		}
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", p.Sheets[len(p.Sheets)-1].Last)
	return b.String()
}

// text writes the part of the plan for a terminal, with blanks to fill in.
func (p planPart) text(b *strings.Builder) {
	b.WriteString("\n" + p.Title + "\n")
	for _, l := range p.Lines {
		lines.Wrap(b, "  - ", "    ", l)
	}
	for _, l := range p.Blanks {
		fmt.Fprintf(b, "    %s %s\n", l, strings.Repeat("_", 40-len(l)))
	}
}

// piece is one sheet of the plan as a piece of a page.
func (s planSheet) piece() markup.Piece {
	return sheet.Of(s.Head, markup.Each(s.Parts, planPart.piece), markup.When(s.Last != "", markup.El("p",
		"paper-caution", markup.Prose(s.Last))))
}

// piece is the part of the plan with boxes to tick and lines to write on.
func (p planPart) piece() markup.Piece {
	return markup.Block("section", "paper-part plan-part", markup.Head2(p.Title), markup.Bullets("plan-lines", p.Lines),
		markup.Each(p.Blanks, func(label string) markup.Piece {
			return markup.El("p", "plan-blank", markup.El("span", "", markup.Prose(label)), sheet.WriteOn())
		}))
}

// high is the height of the part in print.
func (p planPart) high() float64 {
	y := sheet.RowAir + planPt*sheet.Leading*sheet.MMPerPt + 2*sheet.ParaAir
	for _, l := range p.Lines {
		y += sheet.Plain(planPt, sheet.Wide-6).High(planPt*0.3*sheet.MMPerPt, l)
	}
	return y + float64(len(p.Blanks))*(planPt*sheet.Leading*sheet.MMPerPt+1.6)
}
