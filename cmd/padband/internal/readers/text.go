package readers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/lines"
)

// square is a table of counts without the classes that no call is in.
type square struct {
	Labels []string
	Counts [][]int
}

// newSquare leaves classes out that neither reader ever called, or a chart of many
// swatches would be too wide to print; nil where nothing was counted.
func newSquare(t agreement.Table) *square {
	var used []int
	for i := range t.Counts {
		if slices.ContainsFunc(t.Counts, func(row []int) bool { return row[i] > 0 }) || slices.Max(t.Counts[i]) > 0 {
			used = append(used, i)
		}
	}
	if len(used) == 0 {
		return nil
	}
	s := &square{}
	for _, i := range used {
		var row []int
		for _, j := range used {
			row = append(row, t.Counts[i][j])
		}
		s.Labels, s.Counts = append(s.Labels, t.Labels[i]), append(s.Counts, row)
	}
	return s
}

// lines draws the table in columns; one that is wider than the terminal is told
// as a list of its cells.
func (s square) lines() (out []string) {
	wide := 3
	for i, l := range s.Labels {
		wide = max(wide, len([]rune(l))+2, len(strconv.Itoa(slices.Max(s.Counts[i])))+2)
	}
	if 2+wide*(len(s.Labels)+1) > lines.Width {
		return s.cells()
	}
	head := strings.Repeat(" ", 2+wide)
	for _, l := range s.Labels {
		head += padLeft(l, wide)
	}
	out = append(out, head)
	for i, row := range s.Counts {
		text := "  " + padLeft(s.Labels[i], wide)
		for j, n := range row {
			switch {
			case n > 0:
				text += padLeft(strconv.Itoa(n), wide)
			case i == j:
				text += padLeft("0", wide)
			default:
				text += padLeft(".", wide)
			}
		}
		out = append(out, text)
	}
	return out
}

// cells tells the table as a list, for a terminal that is too narrow for it.
func (s square) cells() (out []string) {
	for i, row := range s.Counts {
		for j, n := range row {
			if n > 0 {
				out = append(out, fmt.Sprintf("  %s and %s: %d", s.Labels[i], s.Labels[j], n))
			}
		}
	}
	return out
}

// padLeft sets a text at the right end of a column.
func padLeft(s string, n int) string {
	return strings.Repeat(" ", max(0, n-len([]rune(s)))) + s
}

// meaning ends every comparison.
const meaning = "Figures in brackets are made to hold the true figure 95 times in 100. Agreement is not correctness: two " +
	"readers can agree and both be wrong."

// Text returns comparisons as text for people, in 80 columns. Each
// begins with its decision in three sentences: what holds, who reads higher and
// what to do; of several, each has before that who and what was compared.
func Text(all []agreement.Comparison) string {
	if len(all) == 1 {
		return oneText(all[0], false)
	}
	var texts []string
	for _, c := range all {
		texts = append(texts, oneText(c, true))
	}
	return strings.Join(texts, "\n"+strings.Repeat("-", lines.Width)+"\n\n")
}

// oneText is one comparison. Among several the head comes first, to tell which it is;
// alone, the decision does.
func oneText(c agreement.Comparison, several bool) string {
	var b strings.Builder
	t := tell(c)
	if several {
		lines.Paragraph(&b, "", t.Head)
		b.WriteString("\n")
	}
	for _, s := range t.Decision {
		lines.Paragraph(&b, "", s)
	}
	for _, s := range t.Notes {
		b.WriteString("\n")
		lines.Paragraph(&b, "", s)
	}
	if !several {
		b.WriteString("\n")
		lines.Paragraph(&b, "", t.Head)
	}
	for _, p := range t.Parts {
		p.text(&b)
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", meaning)
	return b.String()
}

// text writes one subject: its table, its figures in two columns, its sentences.
func (p topic) text(b *strings.Builder) {
	b.WriteString("\n")
	lines.Paragraph(b, "", p.Head)
	if p.Table != nil {
		b.WriteString(strings.Join(p.Table.lines(), "\n") + "\n")
	}
	for _, f := range p.Rows {
		const column = 25
		first := fmt.Sprintf("  %-*s", column-2, f.Name)
		if len([]rune(first)) > column {
			first = "  " + f.Name + " "
		}
		lines.Wrap(b, first, strings.Repeat(" ", column), f.Figure)
	}
	for _, s := range p.Lines {
		lines.Paragraph(b, "  ", s)
	}
}
