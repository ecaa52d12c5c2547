package outlined

import (
	"encoding/json"
	"image"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

const demo = "../../../../testdata/demo/"

// trueMarks are where the demonstration's pads, swatches and whites are, each as a
// region, and its chart.
func trueMarks(t *testing.T) (charts.Marks, charts.Chart) {
	t.Helper()
	c, ok := charts.Find("orchard-well")
	require.True(t, ok)
	data, err := os.ReadFile(demo + "kitchen.marks.json")
	require.NoError(t, err)
	m, err := charts.ParseMarks(data)
	require.NoError(t, err)
	cells, err := m.Cells(c, m.Photo.Width, m.Photo.Height)
	require.NoError(t, err)
	require.NotEmpty(t, cells)
	return charts.Marks{Regions: slices.Concat(m.Regions, cells)}, c
}

// moved are marks with other outlines: those that other names for them.
func moved(m charts.Marks, other func(charts.Mark) (charts.Mark, bool)) charts.Marks {
	out := charts.Marks{}
	for _, r := range m.Regions {
		if n, keep := other(r); keep {
			out.Regions = append(out.Regions, n)
		}
	}
	return out
}

// turnedRow exchanges the values of a row end by end.
func turnedRow(m charts.Marks, c charts.Chart, analyte string) charts.Marks {
	a, _ := c.Analyte(analyte)
	return moved(m, func(r charts.Mark) (charts.Mark, bool) {
		if r.Role == charts.RoleSwatch && r.Analyte == analyte {
			i := slices.IndexFunc(a.Swatches, func(s charts.Swatch) bool { return s.Value == r.Value })
			r.Value = a.Swatches[len(a.Swatches)-1-i].Value
		}
		return r, true
	})
}

// exchanged gives the marks of one role of two analytes to each other.
func exchanged(m charts.Marks, role charts.Role, a, b string) charts.Marks {
	return moved(m, func(r charts.Mark) (charts.Mark, bool) {
		switch {
		case r.Role != role:
		case r.Analyte == a:
			r.Analyte = b
		case r.Analyte == b:
			r.Analyte = a
		}
		return r, true
	})
}

// texts are a question's answers.
func texts(q Question) (out []string) {
	for _, a := range q.Answers {
		out = append(out, a.Text)
	}
	return out
}

// A photo's outlines name the photo, the chart and that nobody has looked; the finder
// sees a picture made small, and the photo's own size.
func TestPhotoOfTheDemo(t *testing.T) {
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	marks, chart := trueMarks(t)
	marks.Regions[0].Region.Points[0].X += 0.04
	o, err := Photo(data, photo.Limits{}, chart, func(seen image.Image, width, height int, c charts.Chart) outline.Outline {
		assert.Equal(t, chart, c)
		assert.Equal(t, []int{2016, 1512}, []int{width, height})
		assert.GreaterOrEqual(t, max(seen.Bounds().Dx(), seen.Bounds().Dy()), outline.Longest)
		assert.Less(t, seen.Bounds().Dx(), 2016, "the photo is not decoded whole")
		return outline.Outline{Marks: &marks}
	})
	require.NoError(t, err)
	assert.True(t, o.Sure())
	require.NotNil(t, o.Marks)
	assert.True(t, o.Marks.Unchecked)
	assert.Equal(t, "orchard-well", o.Marks.Chart)
	assert.NoError(t, o.Marks.CheckPhoto(2016, 1512, "54ed5e82673607ec2203c7a06a7cdf6a11e5944c22525c6f97d4fead5676f36f"))
	placed, err := o.Marks.Place(chart, 2016, 1512)
	require.NoError(t, err)
	assert.Len(t, placed.Pads, 3)
	assert.Equal(t, 334.8, o.Marks.Regions[0].Region.Points[0].X, "a tenth of a pixel")
	assert.NotEqual(t, 334.8, marks.Regions[0].Region.Points[0].X, "the finder's own stay")
	assert.Equal(t, charts.PhotoRef{}, marks.Photo)

	_, err = Photo(data[:5000], photo.Limits{}, chart, nil)
	assert.Error(t, err)
}

// What is asked names what differs, by the sides of the photo. The places were worked out
// from the marks file and the chart's layout by a program of its own.
func TestQuestionsTellTheirAnswersApart(t *testing.T) {
	m, c := trueMarks(t)
	without := func(v float64) charts.Marks {
		return moved(m, func(r charts.Mark) (charts.Mark, bool) {
			return r, r.Role != charts.RoleSwatch || r.Analyte != "nitrate" || r.Value != v
		})
	}
	bare := moved(m, func(r charts.Mark) (charts.Mark, bool) { return r, r.Role != charts.RolePad })
	aside := moved(m, func(r charts.Mark) (charts.Mark, bool) {
		r.Region = r.Region.Map(func(p colorimetry.Point) colorimetry.Point { return colorimetry.Point{X: p.X - 100, Y: p.Y + 10} })
		return r, true
	})
	stripTurned := exchanged(m, charts.RolePad, "nitrate", "pH")
	for _, k := range []struct {
		code     outline.Code
		analytes []string
		answers  []outline.Answer
		text     string
		want     []string
	}{
		{outline.AskDirection, []string{"nitrate"}, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m},
			{Choice: outline.ChoiceTurned, Marks: turnedRow(m, c, "nitrate")}, {Choice: outline.ChoiceNone, Marks: m}},
			"Which end of the row of nitrate is 0?", []string{"The left end", "The right end", "None of these: it is to be marked by hand"}},
		{outline.AskDirection, nil, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned,
			Marks: turnedRow(m, c, "nitrate")}}, "Which end of all rows is the lowest value?", []string{"The left end", "The right end"}},
		{outline.AskRows, nil, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceOther,
			Marks: exchanged(m, charts.RoleSwatch, "pH", "total hardness")}}, "Which row of the chart, and which pad, is of what?",
			[]string{"The rows from the top are of nitrate, total hardness and pH; the pads from the top are of nitrate, total hardness and pH",
				"The rows from the top are of nitrate, pH and total hardness; the pads from the top are of nitrate, total hardness and pH"}},
		{outline.AskStripEnd, nil, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned,
			Marks: stripTurned}}, "Which end of the strip is its tip, the end that was dipped?",
			[]string{"The top end: from there come nitrate, total hardness and pH", "The bottom end: from there come nitrate, total hardness and pH"}},
		{outline.AskStrip, nil, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: bare}, {Choice: outline.ChoiceOther, Marks: m}},
			"No strip was found. Is there one in the photo?", []string{"No, the photo shows the chart alone", "Yes at x 373, y 672"}},
		{outline.AskPatch, []string{"nitrate"}, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceWithout,
			Marks: without(3)}}, "The swatch for 3 of nitrate was not seen: it may be nearly white. Is it where it is marked?",
			[]string{"Yes at x 1114, y 530", "No, the photo does not show it"}},
		{outline.AskPatch, []string{"nitrate"}, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceOther,
			Marks: turnedRow(m, c, "nitrate")}}, "Not all patches of the row of nitrate were seen. Where is the swatch for 0 of nitrate?",
			[]string{"At x 811, y 539", "At x 1569, y 517"}},
		{outline.AskPlace, nil, []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceOther, Marks: aside}},
			"More than one group of patches could be the chart. Which one is it?", []string{"The one at x 1194, y 764", "The one at x 1094, y 774"}},
	} {
		best := k.answers[0].Marks
		o := Of(outline.Outline{Marks: &best, Questions: []outline.Question{{Code: k.code, Analytes: k.analytes, Answers: k.answers}}},
			charts.PhotoRef{Width: 2016, Height: 1512}, c)
		require.Len(t, o.Questions, 1)
		assert.False(t, o.Sure())
		assert.Equal(t, k.text, o.Questions[0].Text)
		assert.Equal(t, k.want, texts(o.Questions[0]), k.code)
		for i, a := range o.Questions[0].Answers {
			assert.True(t, a.Marks.Unchecked)
			assert.Len(t, a.Marks.Regions, len(k.answers[i].Marks.Regions))
		}
	}
}

// Answers that mark the same are one, and a question with one answer is none; answers
// that say the same by their sides are told by a patch. "None of these" is never the same.
func TestAnswersAreApart(t *testing.T) {
	m, c := trueMarks(t)
	moves := func(by float64, role charts.Role) charts.Marks {
		return moved(m, func(r charts.Mark) (charts.Mark, bool) {
			if r.Role == role {
				r.Region = r.Region.Map(func(p colorimetry.Point) colorimetry.Point { return colorimetry.Point{X: p.X, Y: p.Y + by} })
			}
			return r, true
		})
	}
	asks := func(answers ...outline.Answer) []Question {
		answers = append([]outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}}, answers...)
		return Of(outline.Outline{Marks: &m, Questions: []outline.Question{{Code: outline.AskStripEnd, Answers: answers}}},
			charts.PhotoRef{}, c).Questions
	}
	turned := outline.ChoiceTurned
	assert.Empty(t, asks(outline.Answer{Choice: turned, Marks: m}))
	assert.Empty(t, asks(outline.Answer{Choice: turned, Marks: moves(5, charts.RolePad)}), "a pad is 75 pixels wide")
	assert.Empty(t, asks(outline.Answer{Choice: turned, Marks: moves(300, charts.RoleWhite)}), "white is white")
	const top = "The top end: from there come nitrate, total hardness and pH"
	far := asks(outline.Answer{Choice: turned, Marks: moves(200, charts.RolePad)}, outline.Answer{Choice: turned, Marks: m})
	require.Len(t, far, 1)
	assert.Equal(t, []string{top, top + ", with the pad of nitrate at x 372, y 657"}, texts(far[0]))
	assert.Len(t, asks(), 1, "a doubt without another answer stays a doubt")
	none := asks(outline.Answer{Choice: outline.ChoiceNone, Marks: m})
	require.Len(t, none, 1)
	assert.Equal(t, []string{top, "None of these: it is to be marked by hand"}, texts(none[0]))
}

// A chart with columns is told from the left, and pads by the chart's own order.
func TestColumnsAndStripOrder(t *testing.T) {
	m, c := trueMarks(t)
	on := moved(m, func(r charts.Mark) (charts.Mark, bool) {
		r.Region = r.Region.Map(func(p colorimetry.Point) colorimetry.Point { return colorimetry.Point{X: p.Y, Y: p.X} })
		return r, true
	})
	c.Strip = []string{"pH", "nitrate", "total hardness"}
	q := outline.Question{Code: outline.AskRows}
	at := lie(q, on, c, nil)
	assert.Equal(t, "left", at.From)
	assert.Equal(t, []string{"nitrate", "total hardness", "pH"}, at.Rows)
	assert.Equal(t, "top", at.Low)
	assert.Equal(t, "left", at.First)
	q.Code = outline.AskStripEnd
	assert.Equal(t, c.Strip, lie(q, on, c, nil).Pads)
	assert.Empty(t, lie(q, charts.Marks{}, c, nil))
}

// asked is what a test finds in the demonstration: one question.
func asked(t *testing.T) Outlined {
	t.Helper()
	m, c := trueMarks(t)
	return Of(outline.Outline{Marks: &m, Questions: []outline.Question{{Code: outline.AskDirection, Analytes: []string{"nitrate"},
		Answers: []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned, Marks: turnedRow(m, c, "nitrate")}}}}},
		charts.PhotoRef{Width: 2016, Height: 1512}, c)
}

// What a person has said of the sample is in all marks.
func TestSampleIsInAllMarks(t *testing.T) {
	plain := asked(t)
	o := plain.WithSample(charts.SampleInfo{Place: "shed"})
	assert.Equal(t, "shed", o.Marks.Sample.Place)
	for _, a := range o.Questions[0].Answers {
		assert.Equal(t, "shed", a.Marks.Sample.Place)
	}
	assert.Empty(t, plain.Marks.Sample.Place)
	assert.Empty(t, plain.Questions[0].Answers[0].Marks.Sample.Place)
	assert.Nil(t, Outlined{}.WithSample(charts.SampleInfo{Place: "shed"}).Marks)
}

// The JSON is on one line; each of its marks is a marks file.
func TestJSON(t *testing.T) {
	data, err := asked(t).JSON("kitchen.jpg")
	require.NoError(t, err)
	assert.NotContains(t, string(data), "\n")
	var doc struct {
		Format    int
		Photo     struct{ File string }
		Chart     string
		Marks     json.RawMessage
		Questions []struct {
			Code, Text string
			Analytes   []string
			Answers    []struct {
				Code, Text string
				Marks      json.RawMessage
			}
		}
		WhyNot *string `json:"why_not"`
		Why    map[string]any
	}
	require.NoError(t, json.Unmarshal(data, &doc))
	assert.Equal(t, []any{1, "kitchen.jpg", "orchard-well"}, []any{doc.Format, doc.Photo.File, doc.Chart})
	require.NotNil(t, doc.WhyNot)
	assert.Empty(t, *doc.WhyNot)
	assert.Nil(t, doc.Why)
	require.Len(t, doc.Questions, 1)
	q := doc.Questions[0]
	assert.Equal(t, []any{"direction", "Which end of the row of nitrate is 0?", []string{"nitrate"}}, []any{q.Code, q.Text, q.Analytes})
	require.Len(t, q.Answers, 2)
	assert.Equal(t, []string{"as-shown", "turned"}, []string{q.Answers[0].Code, q.Answers[1].Code})
	for _, marks := range []json.RawMessage{doc.Marks, q.Answers[0].Marks, q.Answers[1].Marks} {
		m, err := charts.ParseMarks(marks)
		require.NoError(t, err)
		assert.True(t, m.Unchecked)
		assert.Len(t, m.Regions, 24)
	}
	assert.NotEqual(t, string(doc.Marks), string(q.Answers[1].Marks))

	_, c := trueMarks(t)
	data, err = Of(outline.Outline{Why: outline.Why{Code: outline.WhyRows, Found: 1, Wanted: 3}}, charts.PhotoRef{}, c).JSON("x.jpg")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &doc))
	assert.Equal(t, "null", string(doc.Marks))
	assert.Empty(t, doc.Questions)
	assert.Equal(t, "1 row was found, and the chart has 3.", *doc.WhyNot)
	assert.Equal(t, "rows", doc.Why["code"])
	assert.Contains(t, string(data), `"questions":[]`)
}

func TestText(t *testing.T) {
	assert.Equal(t, `kitchen.jpg, outlined as "Orchard well, three pads"
  Found: 3 of 3 pads, 18 of 18 swatches and 3 white areas.
  ? Which end of the row of nitrate is 0?
    - The left end (marked so now).
    - The right end.
`, asked(t).Text("kitchen.jpg"))
	m, c := trueMarks(t)
	c.Title = ""
	bare := moved(m, func(r charts.Mark) (charts.Mark, bool) { return r, r.Role != charts.RolePad })
	assert.Equal(t, `x.jpg, outlined as "orchard-well"
  Found: 0 of 3 pads, 18 of 18 swatches and 3 white areas.
  The chart was found, and no strip.
`, Of(outline.Outline{Marks: &bare, Why: outline.Why{Code: outline.WhyNoStrip}}, charts.PhotoRef{}, c).Text("x.jpg"))
}

// Whatever a chart is called, no line is over 80 columns and nothing steers the terminal.
func TestTextKeepsToTheColumns(t *testing.T) {
	o := asked(t)
	long := strings.Repeat("word ", 40) + strings.Repeat("x", 200) + "\x1b[2J"
	o.Chart.Title, o.Questions[0].Text, o.Questions[0].Answers[0].Text = long, long, long
	text := o.Text(long)
	assert.NotContains(t, text, "\x1b")
	for _, l := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(l)), 80, l)
	}
}

// All marks say which questions are open; those of an answer leave out its own.
func TestMarksNameTheOpenQuestions(t *testing.T) {
	marks, chart := trueMarks(t)
	other := exchanged(marks, charts.RolePad, "nitrate", "pH")
	rows := exchanged(marks, charts.RoleSwatch, "nitrate", "pH")
	ask := func(code outline.Code, second charts.Marks) outline.Question {
		return outline.Question{Code: code, Answers: []outline.Answer{
			{Choice: outline.ChoiceAsShown, Marks: marks}, {Choice: outline.ChoiceOther, Marks: second},
		}}
	}
	o := Of(outline.Outline{Marks: &marks, Questions: []outline.Question{ask(outline.AskStripEnd, other), ask(outline.AskRows, rows)}}, charts.PhotoRef{}, chart)
	assert.Equal(t, []string{"strip-end", "rows"}, o.Marks.Asked)
	require.Len(t, o.Questions, 2)
	for _, a := range o.Questions[0].Answers {
		assert.Equal(t, []string{"rows"}, a.Marks.Asked)
	}
	for _, a := range o.Questions[1].Answers {
		assert.Equal(t, []string{"strip-end"}, a.Marks.Asked)
	}
	file, err := o.Marks.Encode()
	require.NoError(t, err)
	back, err := charts.ParseMarks(file)
	require.NoError(t, err)
	assert.Equal(t, o.Marks.Asked, back.Asked)
}
