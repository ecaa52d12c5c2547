package report

import (
	"fmt"
	"strings"

	"padband/charts"
)

// ChartText describes a chart for people, in 80 columns.
func ChartText(c charts.Chart) string {
	var b strings.Builder
	head := c.Name
	if c.Version != "" {
		head += ", version " + c.Version
	}
	line(&b, "", head)
	for _, s := range []string{c.Title, c.Note} {
		paragraphs(&b, s)
	}
	if c.KitLifeDays > 0 {
		line(&b, "", "Use within "+count(c.KitLifeDays, "day")+" of opening.")
	}
	for _, a := range c.Analytes {
		b.WriteString("\n")
		analyte(&b, a)
	}
	if len(c.Handling) > 0 {
		b.WriteString("\nhandling\n")
	}
	for _, h := range c.Handling {
		line(&b, "  ", h)
	}
	return b.String()
}

// paragraphs writes a text that may hold line breaks of its own.
func paragraphs(b *strings.Builder, s string) {
	if s == "" {
		return
	}
	for _, l := range strings.Split(strings.ReplaceAll(s, "\r", ""), "\n") {
		line(b, "", l)
	}
}

func analyte(b *strings.Builder, a charts.Analyte) {
	unit := a.Unit
	switch {
	case a.Kind == charts.KindPresence:
		unit = "yes or no"
	case a.As != "":
		unit += " as " + a.As
	}
	line(b, "", withUnit(a.Name, unit))
	if len(a.RespondsTo) > 0 {
		line(b, "  ", "answers to "+list(a.RespondsTo))
	}
	row(b, "swatches", swatches(a))
	if a.Parts > 1 {
		row(b, "parts", fmt.Sprintf("%d pads, read together", a.Parts))
	}
	if w := a.ReadWindow; w != nil {
		row(b, "read after", plain(w[0])+" to "+plain(w[1])+" s")
	}
	if a.KitError != nil || a.Kind != charts.KindPresence {
		row(b, "strip's own error", kitError(a.KitError))
	}
}

// row writes a name and what stands beside it.
func row(b *strings.Builder, name, text string) {
	const column = 21
	wrap(b, fmt.Sprintf("  %-*s", column-2, name), strings.Repeat(" ", column), text)
}

func swatches(a charts.Analyte) string {
	var out []string
	for _, s := range a.Swatches {
		if s.Label != "" {
			out = append(out, s.Label)
			continue
		}
		out = append(out, plain(s.Value))
	}
	return strings.Join(out, ", ")
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

// stepText is a length in swatch steps.
func stepText(steps float64) string {
	switch {
	case steps == 0.5:
		return "half a step"
	case steps == 1:
		return "1 step"
	case steps < 1:
		return plain(steps) + " of a step"
	}
	return plain(steps) + " steps"
}

// list joins names: "a", "a and b", "a, b and c".
func list(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
