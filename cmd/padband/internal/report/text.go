package report

import (
	"fmt"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/lines"
)

// Text returns the readings of one photo as text for people, in 80 columns: for
// each analyte the reliability word and, when the reading is not to be relied
// on, that sentence; then the bracket, the value, the band, a drawn rule, and
// the warnings as sentences. It has no colour codes. [Meaning] comes after the
// last of several.
func Text(s Source) string {
	var b strings.Builder
	title := s.Chart.Title
	if title == "" {
		title = s.Chart.Name
	}
	lines.Paragraph(&b, "", fmt.Sprintf("%s, read against %q", s.File, title))
	if s.Photo.Taken != "" {
		lines.Paragraph(&b, "", "Photo taken "+moment(s.Photo.Taken))
	}
	for i, r := range s.Readings {
		b.WriteString("\n" + padText(r, s.Light, s.meaning(i)))
	}
	for _, j := range s.Sums {
		b.WriteString("\n" + sum(j))
	}
	if len(s.Light.Warnings) > 0 {
		b.WriteString("\nThe photo\n")
		notes(&b, s.Light.Warnings)
	}
	if ws := unknown(s.Readings); len(ws) > 0 {
		b.WriteString("\nNot known\n")
		notes(&b, ws)
	}
	if len(s.Notes) > 0 {
		b.WriteString("\nNot read\n")
	}
	for _, n := range s.Notes {
		lines.Wrap(&b, "  - ", "    ", n.Text)
	}
	return b.String()
}

// Meaning is the paragraph that ends a text: what a band means, and what a strip is.
func Meaning() string {
	var b strings.Builder
	b.WriteString("\n")
	lines.Paragraph(&b, "", meaning)
	return b.String()
}

// moment writes a time of the file format for people: date, clock, and the
// offset from UTC when it is known.
func moment(taken string) string {
	const clock = len("2006-01-02T15:04:05")
	if len(taken) < clock {
		return taken
	}
	return strings.TrimSpace(strings.Replace(taken[:clock], "T", " ", 1) + " " + strings.Replace(taken[clock:], "Z", "UTC", 1))
}

// padText is one analyte's paragraph; light is that of the photo. What it means
// against a limit stands before the drawing, and what to do at the end.
func padText(r calib.Reading, light calib.LightReport, m strip.Meaning) string {
	var b strings.Builder
	s := say(r, light)
	heading(&b, s.head, s.word)
	if s.doubt != "" {
		lines.Paragraph(&b, "  ", s.doubt)
	}
	for _, p := range firstOf(s, r, m) {
		lines.Paragraph(&b, "  ", p)
	}
	meant := judgedWords(m.Judgements)
	verdicts(&b, meant)
	if s.scale {
		b.WriteString(rule(r))
	}
	for _, p := range s.then {
		lines.Paragraph(&b, "  ", p)
	}
	notes(&b, weighty(r))
	nextSteps(&b, meant)
	return b.String()
}

// sum is what several analytes mean together.
func sum(j judge.Judgement) string {
	var b strings.Builder
	meant := judgedWords([]judge.Judgement{j})
	lines.Paragraph(&b, "", lines.UpperFirst(lines.OneLine(reading.SumName(j)))+", together")
	verdicts(&b, meant)
	nextSteps(&b, meant)
	return b.String()
}

func verdicts(b *strings.Builder, meant []against) {
	for _, a := range meant {
		for _, p := range []string{a.Verdict, a.Grounds} {
			if p != "" {
				lines.Paragraph(b, "  ", p)
			}
		}
	}
}

func nextSteps(b *strings.Builder, meant []against) {
	next := nextOf(meant)
	if len(next) > 0 {
		b.WriteString("  Next\n")
	}
	for _, n := range next {
		lines.Wrap(b, "  - ", "    ", n)
	}
}

// heading is the analyte and its unit, with the reliability word at the right
// end of the line, or on its own line when the name leaves no room.
func heading(b *strings.Builder, head, word string) {
	room := lines.Width - len([]rune(head)) - len([]rune(word))
	if room < 2 {
		lines.Paragraph(b, "", head)
		room = lines.Width - len([]rune(word))
		head = ""
	}
	b.WriteString(head + strings.Repeat(" ", room) + word + "\n")
}

func notes(b *strings.Builder, ws []calib.Warning) {
	for _, w := range ws {
		lines.Wrap(b, "  - ", "    ", w.Text()+" ["+string(w.Code)+"]")
	}
}
