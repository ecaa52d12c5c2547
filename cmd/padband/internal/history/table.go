package history

import (
	"strings"
	"time"
	"unicode/utf8"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/words"
)

// table is a header, a row a record, and a line where lot or chart change. Where
// it would be too wide, decimals go first, and then the remarks go under their rows.
func (s Series) table() []string {
	for d := s.decimals(); d >= 0; d-- {
		if out := s.rows(d, true); fits(out) {
			return out
		}
	}
	return s.rows(s.decimals(), false)
}

// fits is whether each line of a table is narrow enough for a terminal.
func fits(table []string) bool {
	for _, l := range table {
		if utf8.RuneCountInString(l) > lines.Width {
			return false
		}
	}
	return true
}

// rows is the table with so many decimals; remarks stand in their rows or under them.
func (s Series) rows(d int, remarks bool) (out []string) {
	clock := s.clock()
	cells := [][]string{{"taken", "reads", "colour", "water may be"}}
	for _, r := range s.Rows {
		cells = append(cells, []string{r.Time.Format(clock), r.reads(d), words.Span(r.Band, d), words.Span(r.Water, d)})
	}
	for i, l := range inColumns(cells) {
		remark := ""
		if i > 0 {
			out = append(out, s.Rows[i-1].change(i == 1)...)
			remark = s.Rows[i-1].remark()
		}
		if remark != "" && remarks {
			l += "  " + remark
		}
		out = append(out, strings.TrimRight(l, " "))
		if remark != "" && !remarks {
			out = append(out, "     "+remark)
		}
	}
	return out
}

// inColumns sets cells under one another; the second, of figures, ends evenly.
func inColumns(cells [][]string) (out []string) {
	widths := make([]int, len(cells[0]))
	for _, row := range cells {
		for i, c := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	for _, row := range cells {
		l := ""
		for k, c := range row {
			pad := strings.Repeat(" ", widths[k]-utf8.RuneCountInString(c))
			if k == 1 {
				l += "  " + pad + c
			} else {
				l += "  " + c + pad
			}
		}
		out = append(out, l)
	}
	return out
}

// clock is the form that the times are printed in: the day alone where no day
// has two records.
func (s Series) clock() string {
	for i := 1; i < len(s.Rows); i++ {
		if s.Rows[i].Time.Format(time.DateOnly) == s.Rows[i-1].Time.Format(time.DateOnly) {
			return "2006-01-02 15:04"
		}
	}
	return time.DateOnly
}

// remark is what keeps a row from being taken as it stands: its grade, and that
// it was converted from another unit.
func (r Row) remark() string {
	var parts []string
	if r.Reliability != calib.Good {
		parts = append(parts, words.GradeShort(r.Reliability))
	}
	if r.Converted != "" {
		parts = append(parts, "converted")
	}
	return strings.Join(parts, ", ")
}

// change tells of the kit and the chart: it is the line before a row whose lot or chart is not that of the row before.
func (r Row) change(first bool) []string {
	if !first && !r.NewLot && !r.NewChart {
		return nil
	}
	var parts []string
	if first || r.NewLot {
		parts = append(parts, r.lot())
	}
	if first || r.NewChart {
		parts = append(parts, "chart "+lines.OneLine(r.Chart))
	}
	var b strings.Builder
	lines.Wrap(&b, "  -- ", "     ", strings.Join(parts, ", "))
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// lot names the kit lot of a row, or says that nobody gave it.
func (r Row) lot() string {
	if r.Lot == "" {
		return "kit lot not given"
	}
	return "kit lot " + lines.OneLine(r.Lot)
}
