// Package outlined puts down what was found in a photo: the outlines as a marks file
// that nobody has looked at, the questions with their answers in words, as text and as
// JSON. Start at [Photo] for a photo's file, or at [Of] for what was found already.
package outlined

import (
	"image"
	"math"
	"slices"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// Finder looks for a chart in a picture, as [outline.Find] does.
type Finder func(seen image.Image, width, height int, chart charts.Chart) outline.Outline

// Outlined is what was found in one photo.
type Outlined struct {
	Photo     charts.PhotoRef
	Chart     charts.Chart
	Marks     *charts.Marks // nil where nothing was found
	Questions []Question
	Why       outline.Why
}

// Question is a question in words.
type Question struct {
	Code     outline.Code
	Analytes []string
	Text     string
	Answers  []Answer
}

// Answer is an answer in words, with whole marks as they would be then.
type Answer struct {
	Choice outline.Choice
	Text   string
	Marks  charts.Marks
}

// Sure reports whether everything was found and nothing is asked.
func (o Outlined) Sure() bool {
	return o.Marks != nil && len(o.Questions) == 0 && o.Why.Code == ""
}

// WhyNot says why nothing was found, or which part was not; it is empty where all was.
func (o Outlined) WhyNot() string { return words.NotOutlined(o.Why) }

// Photo looks for the chart in a photo's file. The error is that of a photo that cannot
// be decoded.
func Photo(data []byte, limits photo.Limits, chart charts.Chart, find Finder) (Outlined, error) {
	p, seen, _, err := photo.Glance(data, limits, outline.Longest)
	if err != nil {
		return Outlined{}, err
	}
	ref := charts.PhotoRef{Width: p.Width, Height: p.Height, SHA256: p.Facts.SHA256}
	return Of(find(seen, p.Width, p.Height, chart), ref, chart), nil
}

// Of completes what was found in a photo: the marks name photo and chart, say that
// nobody has looked at them, and hold no finer figure than a tenth of a pixel.
func Of(found outline.Outline, ref charts.PhotoRef, chart charts.Chart) Outlined {
	o := Outlined{Photo: ref, Chart: chart, Why: found.Why}
	if found.Marks == nil {
		return o
	}
	whole := o.whole(*found.Marks)
	o.Marks = &whole
	for _, q := range found.Questions {
		if asked := o.asked(q); len(asked.Answers) > 1 || len(q.Answers) < 2 { // else all its answers mark the same
			o.Questions = append(o.Questions, asked)
		}
	}
	o.leaveOpen()
	return o
}

// leaveOpen says in all marks which questions are open: in those of an answer, all but
// the one that it answers.
func (o Outlined) leaveOpen() {
	for _, q := range o.Questions {
		o.Marks.Asked = append(o.Marks.Asked, string(q.Code))
		for i := range q.Answers {
			for _, other := range o.Questions {
				if other.Code != q.Code {
					q.Answers[i].Marks.Asked = append(q.Answers[i].Marks.Asked, string(other.Code))
				}
			}
		}
	}
}

// asked puts a question into words. Its answers are told by where they put what they
// differ in; one that marks the same as another is no answer of its own.
func (o Outlined) asked(q outline.Question) Question {
	all := []charts.Marks{o.spread(*o.Marks)}
	for _, a := range q.Answers {
		all = append(all, o.spread(a.Marks))
	}
	patch, row := doubtful(q, all)
	out := Question{Code: q.Code, Analytes: q.Analytes, Text: words.OutlineQuestion(q, o.Chart, patch, row)}
	for i, a := range q.Answers {
		m := o.whole(a.Marks)
		at := lie(q, all[i+1], o.Chart, patch)
		at.Row = row
		text := words.OutlineAnswer(q.Code, a.Choice, at)
		if a.Choice == outline.ChoiceNone {
			out.Answers = append(out.Answers, Answer{a.Choice, text, m})
			continue
		}
		if text, ok := o.apart(out, text, all[i+1]); ok {
			out.Answers = append(out.Answers, Answer{a.Choice, text, m})
		}
	}
	return out
}

// apart adds, to the words of an answer that has those of another, where it puts the
// first patch that the other puts elsewhere; ok is false where there is none.
func (o Outlined) apart(q Question, text string, m charts.Marks) (_ string, ok bool) {
	out := text
	for _, a := range q.Answers {
		if a.Choice == outline.ChoiceNone {
			continue
		}
		other := o.spread(a.Marks)
		patch := elsewhere(m, other)
		switch {
		case patch == nil && elsewhere(other, m) == nil:
			return "", false
		case patch != nil && a.Text == text && out == text:
			at := patch.Region.Centroid()
			out += words.OutlinePatch(*patch, o.Chart, at.X, at.Y)
		}
	}
	return out, true
}

// spread are marks with every swatch as a region, where corners stand for them.
func (o Outlined) spread(m charts.Marks) charts.Marks {
	if cells, err := m.Cells(o.Chart, o.Photo.Width, o.Photo.Height); err == nil {
		m.Regions = slices.Concat(m.Regions, cells)
	}
	return m
}

// whole completes marks. The regions are new ones, so that the finder's own stay.
func (o Outlined) whole(m charts.Marks) charts.Marks {
	m.Format, m.Photo, m.Chart, m.Unchecked, m.Looked = 1, o.Photo, o.Chart.Name, true, nil
	regions := make([]charts.Mark, len(m.Regions))
	for i, r := range m.Regions {
		r.Region.Points, r.Region.Radius = tenths(r.Region.Points), tenth(r.Region.Radius)
		regions[i] = r
	}
	m.Regions, m.Corners = regions, tenths(m.Corners)
	return m
}

// tenth rounds to a tenth of a pixel, because files hold no finer figure.
func tenth(v float64) float64 { return math.Round(10*v) / 10 }

// tenths are places with rounded figures.
func tenths(points []colorimetry.Point) (out []colorimetry.Point) {
	for _, p := range points {
		out = append(out, colorimetry.Point{X: tenth(p.X), Y: tenth(p.Y)})
	}
	return out
}

// WithSample gives all marks what a person has said of the sample before.
func (o Outlined) WithSample(s charts.SampleInfo) Outlined {
	if o.Marks != nil {
		m := *o.Marks
		m.Sample = s
		o.Marks = &m
	}
	asked := make([]Question, len(o.Questions))
	for i, q := range o.Questions {
		answers := make([]Answer, len(q.Answers))
		for k, a := range q.Answers {
			a.Marks.Sample = s
			answers[k] = a
		}
		q.Answers = answers
		asked[i] = q
	}
	o.Questions = asked
	return o
}
