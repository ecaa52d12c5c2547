package report

import (
	"fmt"
	"strings"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/words"
)

// OneStripSource is what the report of several photos of one strip is made from.
type OneStripSource struct {
	*strip.Joined
	Files       []string // the photos' names, in the order of the answer's photos
	ChartSHA256 string
	Version     string
}

// Shot is the source of one of the photos, with that photo's own readings.
func (s OneStripSource) Shot(photo int) Source {
	return Of(s.Files[photo], s.ChartSHA256, s.Version, s.Photos[photo].Result)
}

// OneStripText returns the one answer from several photos of a strip as text for people.
func OneStripText(s OneStripSource) string {
	var b strings.Builder
	title := s.Chart.Title
	if title == "" {
		title = s.Chart.Name
	}
	lines.Paragraph(&b, "", fmt.Sprintf("%s of one strip, read against %q", lines.UpperFirst(lines.Count(len(s.Photos), "photo")), title))
	for i, p := range s.Photos {
		lines.Wrap(&b, "  ", "    ", words.ShotOfStrip(p, s.Files[i]))
	}
	for i, r := range s.Readings {
		b.WriteString("\n" + padText(r, s.Photos[s.Picks[i].Photo].Light, s.Meanings[i], words.Picked(s.Joined, i, s.Files)...))
	}
	for _, j := range s.Sums {
		b.WriteString("\n" + sum(j))
	}
	for i, p := range s.Photos {
		if s.used(i) && len(p.Light.Warnings) > 0 {
			b.WriteString("\n")
			lines.Paragraph(&b, "", "The photo "+s.Files[i])
			warningLines(&b, p.Light.Warnings)
		}
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
	b.WriteString("\n")
	lines.Paragraph(&b, "", words.OneStripMeaning)
	return b.String()
}

// used reports whether any pad is read from a photo.
func (s OneStripSource) used(photo int) bool {
	for _, p := range s.Picks {
		if p.Photo == photo {
			return true
		}
	}
	return false
}

// OneStripJSON returns the answer as one line of JSON without its line break. The error
// means a fault of this program.
func OneStripJSON(s OneStripSource) ([]byte, error) {
	return reading.OfStrip(s.Joined, s.Files, reading.Origin{ChartSHA256: s.ChartSHA256, Version: s.Version}).Encode()
}
