package report

import (
	"fmt"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/words"
)

// Text returns the readings of one photo as text for people, in 80 columns. Each
// analyte has its grade and, when the reading is not to be used, a sentence that says
// why; then come the bracket, the value, what the colour and the water may be, a drawn
// rule, and the warnings as sentences. The text has no colour codes. [Meaning] comes once, after
// the last photo's.
func Text(s Source) string {
	var b strings.Builder
	title := s.Chart.Title
	if title == "" {
		title = s.Chart.Name
	}
	lines.Paragraph(&b, "", fmt.Sprintf("%s, read against %q", s.File, title))
	if s.Photo.Taken != "" {
		lines.Paragraph(&b, "", "Photo taken "+words.Moment(s.Photo.Taken))
	}
	if said := words.AsSaid(s.Sample, s.Light); said != "" {
		lines.Paragraph(&b, "", said)
	}
	for i, r := range s.Readings {
		b.WriteString("\n" + padText(r, s.Light, s.meaning(i)))
	}
	for _, j := range s.Sums {
		b.WriteString("\n" + sum(j))
	}
	if len(s.Light.Warnings) > 0 {
		b.WriteString("\nThe photo\n")
		warningLines(&b, s.Light.Warnings)
	}
	if ws := words.Unsaid(s.Readings); len(ws) > 0 {
		b.WriteString("\nNot known\n")
		warningLines(&b, ws)
	}
	if len(s.Notes) > 0 {
		b.WriteString("\nNot read\n")
	}
	for _, n := range s.Notes {
		lines.Wrap(&b, "  - ", "    ", n.Text)
	}
	return b.String()
}

// Meaning is the paragraph that ends a text: it says what the ranges mean, and
// what a strip can tell.
func Meaning() string {
	var b strings.Builder
	b.WriteString("\n")
	lines.Paragraph(&b, "", words.BandMeaning)
	return b.String()
}

// padText is the paragraph of one analyte; light describes the light of the photo.
// What the reading means against a limit stands before the drawing, and what to do
// stands at the end. Where a reading is one of several photos, under says which.
func padText(r calib.Reading, light calib.LightReport, m strip.Meaning, under ...string) string {
	var b strings.Builder
	s := words.Say(r, light)
	heading(&b, s.Head, words.Headed(s.Word, m.Judgements))
	for _, p := range under {
		lines.Paragraph(&b, "  ", p)
	}
	if s.Doubt != "" {
		lines.Paragraph(&b, "  ", s.Doubt)
	}
	for _, p := range words.FirstOf(s, r, m) {
		lines.Paragraph(&b, "  ", p)
	}
	meant := words.Judged(m.Judgements)
	verdicts(&b, meant)
	if s.Scale {
		b.WriteString(rule.Text(r))
	}
	for _, p := range s.Then {
		lines.Paragraph(&b, "  ", p)
	}
	warningLines(&b, words.Weighty(r))
	nextSteps(&b, meant)
	return b.String()
}

// sum says what several analytes mean together.
func sum(j judge.Judgement) string {
	var b strings.Builder
	meant := words.Judged([]judge.Judgement{j})
	lines.Paragraph(&b, "", lines.UpperFirst(lines.OneLine(reading.SumName(j)))+", together")
	verdicts(&b, meant)
	nextSteps(&b, meant)
	return b.String()
}

// verdicts writes the judgements, each with its grounds.
func verdicts(b *strings.Builder, meant []words.Against) {
	for _, a := range meant {
		for _, p := range []string{a.Verdict, a.Grounds} {
			if p != "" {
				lines.Paragraph(b, "  ", p)
			}
		}
	}
}

// nextSteps writes what to do; it writes nothing when there is nothing to do.
func nextSteps(b *strings.Builder, meant []words.Against) {
	next := words.Next(meant)
	if len(next) > 0 {
		b.WriteString("  Next\n")
	}
	for _, n := range next {
		lines.Wrap(b, "  - ", "    ", n)
	}
}

// heading writes the analyte and its unit, with the grade at the right end
// of the line, or on a line of its own when the name leaves no room.
func heading(b *strings.Builder, head, word string) {
	room := lines.Width - len([]rune(head)) - len([]rune(word))
	if room < 2 {
		lines.Paragraph(b, "", head)
		room = lines.Width - len([]rune(word))
		head = ""
	}
	b.WriteString(head + strings.Repeat(" ", room) + word + "\n")
}

// warningLines writes warnings as a list, each with its code.
func warningLines(b *strings.Builder, ws []calib.Warning) {
	for _, w := range ws {
		lines.Wrap(b, "  - ", "    ", w.Text()+" ["+string(w.Code)+"]")
	}
}
