package report

import (
	"fmt"
	"strings"

	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/lines"
)

// LimitSetsText lists sets of limits for people.
func LimitSetsText(sets []limits.LimitSet) string {
	var b strings.Builder
	for _, s := range sets {
		lines.Wrap(&b, fmt.Sprintf("%-16s", s.Name), strings.Repeat(" ", 16), s.Title)
	}
	return b.String()
}

// LimitSetText lists a set's limits for people: the figure of each, what it is for,
// whose it is and since when it holds.
func LimitSetText(s limits.LimitSet) string {
	var b strings.Builder
	lines.Paragraph(&b, "", s.Title)
	if s.Note != "" {
		lines.Paragraph(&b, "", s.Note)
	}
	for _, l := range s.Limits {
		b.WriteString("\n")
		lines.Paragraph(&b, "", lines.OneLine(l.Analyte+", "+l.Text()))
		lines.Paragraph(&b, "  ", limitIs(l)+".")
		for _, c := range l.Classes {
			lines.Paragraph(&b, "    ", classText(c, l.Unit))
		}
		if l.Note != "" {
			lines.Paragraph(&b, "  ", l.Note)
		}
		lines.Paragraph(&b, "  ", "Source: "+l.Source+".")
	}
	return b.String()
}

// limitIs says what a limit is for, whose it is and when it holds.
func limitIs(l limits.Limit) string {
	parts := []string{lines.UpperFirst(string(l.Kind))}
	if l.Basis != limits.BasisSample && l.Basis != "" {
		parts = append(parts, "compared with the "+string(l.Basis)+", not one sample")
	}
	parts = append(parts, l.Whose())
	if l.Year > 0 {
		parts = append(parts, fmt.Sprint(l.Year))
	}
	if l.From != "" {
		parts = append(parts, "from "+l.From)
	}
	if l.Until != "" {
		parts = append(parts, "until "+l.Until)
	}
	return lines.OneLine(strings.Join(parts, "; "))
}

// classText prints a class of a limit with the value that it reaches to.
func classText(c limits.Class, u units.Unit) string {
	if c.UpTo == 0 {
		return c.Name + ": more than that"
	}
	return fmt.Sprintf("%s: to %s", c.Name, units.Quantity{Value: c.UpTo, Unit: u})
}

// UnitsText lists the units that can be written, for people.
func UnitsText(units []units.Named) string {
	var b strings.Builder
	const column = 9
	for _, u := range units {
		text := lines.UpperFirst(u.Means) + "."
		if len(u.Written) > 0 {
			text += " Also written " + strings.Join(u.Written, ", ") + "."
		}
		lines.Wrap(&b, u.Name+strings.Repeat(" ", max(1, column-len([]rune(u.Name)))), strings.Repeat(" ", column), text)
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "",
		`A figure says what it is expressed as where that matters: "10 mg/L as N", "50 mg/L as NO3", "120 mg/L as CaCO3".`)
	return b.String()
}
