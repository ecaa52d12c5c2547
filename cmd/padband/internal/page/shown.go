package page

import (
	"cmp"
	"context"
	"html"
	"strings"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
)

// shownEnding is the end of the name of a page to show.
const shownEnding = ".reading.html"

// shown answers with the reading as one page to show or hand on. Its pictures are in it;
// it holds the marks' surroundings and neither the photo nor the place where it was taken.
func (s *Page) shown(ctx context.Context, c hosted.Call) hosted.Answer {
	j, _, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	leave, err := s.photos.enter(ctx, s.photos.readings)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	text, err := s.shownPage(j.usable())
	if err != nil {
		return hosted.Refuse(err)
	}
	out := struct {
		Name string `json:"name"`
		Text string `json:"text"`
	}{input.Stem(j.name) + shownEnding, text}
	return hosted.JSON(out)
}

// shownPage reads the strip and writes the reading as a whole page.
func (s *Page) shownPage(j job) (string, error) {
	fragment, facts, err := s.shownPiece(j)
	if err != nil {
		return "", err
	}
	style, _ := embedded.ReadFile("web/reading/reading.css") // without it the page is as plain as the browser's own
	title := "Test strip: " + cmp.Or(whereFrom(j.marks.Sample), j.name)
	return wholePage(title, string(style), facts, fragment), nil
}

// shownPiece is the reading as a piece of a page, with the facts that stand above it.
func (s *Page) shownPiece(j job) (fragment string, facts []string, err error) {
	if len(j.strip) > 0 {
		t, err := s.together(j)
		if err != nil {
			return "", nil, err
		}
		if len(t.shots) > 1 {
			fragment, err = t.shown()
			return fragment, t.facts(), err
		}
	}
	p, err := j.whole()
	if err != nil {
		return "", nil, err
	}
	ready, _ := j.marks.Ready(j.chart.Chart)
	r, err := strip.ReadPhoto(p, j.chart.Chart, ready, j.ask)
	if err != nil {
		return "", nil, err
	}
	fragment, err = report.HTML(report.Of(j.name, j.chart.Hash, s.config.Version, r), paper.Crops(r))
	return fragment, shownFacts(j, r), err
}

// facts say what a reader needs to know of the photos of a strip.
func (t together) facts() []string {
	c := t.shots[0].chart
	out := []string{"Chart " + cmp.Or(c.Title, c.Name) + "."}
	s := t.numbered()
	for i, p := range t.Photos {
		out = append(out, words.ShotOfStrip(p, lines.UpperFirst(s.Files[i])+" ("+t.shots[p.Index].name+")")+".")
	}
	return append(out, t.left...)
}

// shownStyle sets the page in one column.
const shownStyle = "body { max-width: 42rem; margin: 1rem auto; padding: 0 1rem; font: 1rem/1.45 system-ui, sans-serif; }\n"

// wholePage puts a piece of a page, which is HTML, between a title and what holds for
// every strip.
func wholePage(title, style string, facts []string, fragment string) string {
	title = html.EscapeString(title)
	var b strings.Builder
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	b.WriteString("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	b.WriteString("<title>" + title + "</title>\n<style>\n" + shownStyle + style + "</style>\n</head>\n<body>\n<h1>" + title + "</h1>\n")
	for _, line := range facts {
		b.WriteString("<p>" + html.EscapeString(line) + "</p>\n")
	}
	b.WriteString(fragment)
	b.WriteString("<p>A strip is a screening test. ")
	b.WriteString("What matters to health is for a certified laboratory and the local health authority.</p>\n</body>\n</html>\n")
	return b.String()
}

// whereFrom says where the water is from, as far as that was said.
func whereFrom(s charts.SampleInfo) string {
	return strings.Trim(s.Place+", "+s.Point, ", ")
}

// shownFacts say what a page's reader needs to know of photo, chart and times.
func shownFacts(j job, r *strip.Result) []string {
	out := []string{"Photo " + j.name + ", chart " + cmp.Or(j.chart.Title, j.chart.Name) + "."}
	at := func(what, stamp string) {
		if stamp != "" {
			out = append(out, what+" "+strings.Replace(stamp, "T", " ", 1)+".")
		}
	}
	at("Dipped", j.marks.Sample.Dipped)
	at("Photographed", cmp.Or(j.photo.Facts.Taken, j.marks.Sample.Taken))
	if said := words.AsSaid(j.marks.Sample, r.Light); said != "" {
		out = append(out, said)
	}
	return out
}
