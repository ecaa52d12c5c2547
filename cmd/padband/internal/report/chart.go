package report

import (
	"fmt"
	"math"
	"strings"

	"padband/charts"
	"padband/charts/units"
	"padband/cmd/padband/internal/lines"
)

// ChartText describes a chart for people, in 80 columns.
func ChartText(c charts.Chart) string {
	var b strings.Builder
	head := c.Name
	if c.Version != "" {
		head += ", version " + c.Version
	}
	lines.Paragraph(&b, "", head)
	for _, s := range []string{c.Title, c.Note} {
		paragraphs(&b, s)
	}
	if c.KitLifeDays > 0 {
		lines.Paragraph(&b, "", "Use within "+lines.Count(c.KitLifeDays, "day")+" of opening.")
	}
	if len(c.Strip) > 0 {
		lines.Paragraph(&b, "", "The strip's pads, from the dipped tip: "+strings.Join(c.Strip, ", ")+".")
	}
	for _, a := range c.Analytes {
		b.WriteString("\n")
		analyte(&b, a, c)
	}
	if len(c.Handling) > 0 {
		b.WriteString("\nhandling\n")
	}
	for _, h := range c.Handling {
		lines.Paragraph(&b, "  ", h)
	}
	for _, p := range c.Remembered {
		b.WriteString("\n" + PrintColours(c, p))
	}
	return b.String()
}

// PrintColours are the colours that a chart remembers of one bottle, in 80 columns:
// CIELAB, analyte by analyte, part by part.
func PrintColours(c charts.Chart, p charts.PrintColours) string {
	var b strings.Builder
	head := "remembers lot " + p.Lot + ", photographed on " + p.Day + " by " + string(p.Light)
	if p.Camera != "" {
		head += " with " + p.Camera
	}
	lines.Paragraph(&b, "", head+" (L* a* b* of each swatch)")
	for _, a := range c.Analytes {
		for part := range a.Parts {
			var each []string
			for _, s := range p.Swatches {
				if s.Analyte == a.Name && s.Part == part+1 {
					each = append(each, lines.Plain(s.Value)+": "+whole(s.Lab[0])+" "+whole(s.Lab[1])+" "+whole(s.Lab[2]))
				}
			}
			name := a.Name
			if a.Parts > 1 {
				name += fmt.Sprintf(", part %d", part+1)
			}
			if len(each) > 0 {
				named(&b, name, strings.Join(each, ", "))
			}
		}
	}
	return b.String()
}

// whole is a number without its decimals, and never a zero below zero.
func whole(v float64) string { return fmt.Sprintf("%.0f", math.Round(v)+0) }

// paragraphs writes a text, which may hold line breaks of its own, in lines of 80
// columns.
func paragraphs(b *strings.Builder, s string) {
	if s == "" {
		return
	}
	for _, l := range strings.Split(strings.ReplaceAll(s, "\r", ""), "\n") {
		lines.Paragraph(b, "", l)
	}
}

// analyte writes what a chart says of one analyte.
func analyte(b *strings.Builder, a charts.Analyte, c charts.Chart) {
	unit := a.Unit
	switch {
	case a.Kind == charts.KindPresence:
		unit = "yes or no"
	case a.As != "":
		unit += " as " + a.As
	}
	lines.Paragraph(b, "", lines.WithUnit(a.Name, unit))
	if len(a.RespondsTo) > 0 {
		lines.Paragraph(b, "  ", "answers to "+lines.List(a.RespondsTo))
	}
	named(b, "swatches", swatches(a))
	if end := paleEnd(a.Palest); end != "" {
		named(b, "pale end", end)
	}
	if a.Parts > 1 {
		named(b, "parts", fmt.Sprintf("%d pads, read together", a.Parts))
	}
	if w := a.ReadWindow; w != nil {
		named(b, "read after", lines.Plain(w[0])+" to "+lines.Plain(w[1])+" s")
	}
	for _, s := range a.SpoiledBy {
		named(b, "spoiled by", spoiler(s, c))
	}
	if a.KitError != nil || a.Kind != charts.KindPresence {
		named(b, "strip's own error", kitError(a.KitError))
	}
}

// named writes a name with a text beside it.
func named(b *strings.Builder, name, text string) {
	const column = 21
	lines.Wrap(b, fmt.Sprintf("  %-*s", column-2, name), strings.Repeat(" ", column), text)
}

// swatches lists the labels of an analyte's swatches, and the values of swatches
// without a label.
func swatches(a charts.Analyte) string {
	var out []string
	for _, s := range a.Swatches {
		if s.Label != "" {
			out = append(out, s.Label)
			continue
		}
		out = append(out, lines.Plain(s.Value))
	}
	return strings.Join(out, ", ")
}

// paleEnd says which end of an analyte's swatches is pale; it is empty where the chart
// does not say.
func paleEnd(p charts.Palest) string {
	switch p {
	case charts.PalestLowest:
		return "the lowest swatch"
	case charts.PalestHighest:
		return "the highest swatch"
	case charts.PalestNeither:
		return "neither"
	}
	return ""
}

// spoiler says what spoils a pad, from how much on and who says so.
func spoiler(s charts.Spoiler, c charts.Chart) string {
	by, _ := c.Analyte(s.Analyte)
	over := units.Quantity{Value: s.Over, Unit: by.Measure()}
	return fmt.Sprintf("%s over %s, which %s it; %s", s.Analyte, over, s.How, s.Source)
}

// kitError says how large the strip's own error is: "half a step (95 %), lot sheet".
func kitError(k *charts.KitError) string {
	if k == nil {
		return "not given; half a step is assumed"
	}
	text := stepText(k.Steps) + " (95 %)"
	if k.Source != "" {
		text += ", " + k.Source
	}
	return text
}

// stepText prints a length in swatch steps.
func stepText(steps float64) string {
	switch {
	case steps == 0.5:
		return "half a step"
	case steps == 1:
		return "1 step"
	case steps < 1:
		return lines.Plain(steps) + " of a step"
	}
	return lines.Plain(steps) + " steps"
}
