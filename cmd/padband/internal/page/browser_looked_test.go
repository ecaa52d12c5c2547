package page_test

import (
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
)

// sentWork is what the page sends of outlines that were found.
type sentWork struct {
	Marks struct {
		Checked *bool
		Looked  *struct {
			By, At string
			Moved  []string
		}
		Regions []mark
	}
	Chart struct{ Strip []string }
}

// turnedRow is a copy of marks with the values of a row exchanged, the first with the
// last and so on.
func turnedRow(m charts.Marks, analyte string) charts.Marks {
	m.Regions = slices.Clone(m.Regions)
	var values []float64
	for _, r := range m.Regions {
		if r.Role == charts.RoleSwatch && r.Analyte == analyte {
			values = append(values, r.Value)
		}
	}
	slices.Sort(values)
	for i, r := range m.Regions {
		if r.Role == charts.RoleSwatch && r.Analyte == analyte {
			m.Regions[i].Value = values[len(values)-1-slices.Index(values, r.Value)]
		}
	}
	return m
}

// exchangedPads is a copy of marks with the pads of two analytes exchanged.
func exchangedPads(m charts.Marks, a, b string) charts.Marks {
	m.Regions = slices.Clone(m.Regions)
	for i, r := range m.Regions {
		switch {
		case r.Role != charts.RolePad:
		case r.Analyte == a:
			m.Regions[i].Analyte = b
		case r.Analyte == b:
			m.Regions[i].Analyte = a
		}
	}
	return m
}

// foundIn opens the kitchen's photo with outlines that stand there to be looked at.
func foundIn(t *testing.T, b *browser, on screen, o outline.Outline, pictures int) (p *tab, folder string) {
	t.Helper()
	folder = newFolder(t, "kitchen.jpg")
	p = b.open(t, finding(t, folder, "kitchen.jpg", finds(o)), on)
	p.push(`[data-chart="orchard-well"]`)
	p.looksAt(3, pictures)
	return p, folder
}

// foundTurned finds a row the wrong way round, and says that it contradicts the chart.
// One tap turns it.
func foundTurned(t *testing.T, b *browser) {
	m := turnedRow(trueMarks(t, "kitchen"), "nitrate")
	p, _ := foundIn(t, b, phone, outline.Outline{Marks: &m}, 21)
	line := `[data-analyte="nitrate"]`
	p.until(`document.querySelector('#found-rows ` + line + ` .found-against')`)
	assert.Contains(t, p.text(line+" .found-against"), "contradicts its chart")
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('.found-against').length`))
	p.fingerSized("looking")
	p.push(`[data-act="turn nitrate"]`)
	p.until(`!document.querySelector('.found-against')`)
	p.quiet()
	p.shot("turned")
	p.answer("#found-yes")
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
	w := sent[sentWork](p, "/api/photos/1/reading")
	assert.Nil(t, w.Marks.Checked)
	require.NotNil(t, w.Marks.Looked)
	assert.Empty(t, w.Marks.Looked.Moved, "a turned row has moved no outline")
	at, err := time.Parse(time.RFC3339, w.Marks.Looked.At)
	require.NoError(t, err)
	assert.InDelta(t, 0, time.Since(at).Seconds(), 60)
}

// foundAsked answers a question after a pad was moved: the answer turns the rows, and
// leaves the pad where the person put it.
func foundAsked(t *testing.T, b *browser) {
	right := trueMarks(t, "kitchen")
	m := turnedRow(right, "nitrate")
	p, folder := foundIn(t, b, laptop, outline.Outline{Marks: &m, Questions: []outline.Question{{
		Code: outline.AskDirection, Analytes: []string{"nitrate"},
		Answers: []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned, Marks: right}, {Choice: outline.ChoiceNone, Marks: m}},
	}}}, 21)
	assert.Equal(t, "Which end of the row of nitrate is 0?", p.text("#found-title"))
	assert.Equal(t, []string{"The right end", "The left end", "By hand"},
		eval[[]string](p, `[...document.querySelectorAll('#found-answers button')].map((b) => b.lastChild.textContent)`))
	p.previews()
	ends := p.previewed()
	require.Len(t, ends, 2)
	for i, low := range []string{"right", "left"} { // each answer's picture has the 0 where its words say
		assert.Equal(t, low == "right", ends[i]["0"] > ends[i]["25"], "%s: %v", low, ends[i])
	}
	was := demo(t, "kitchen").pads["pH"]
	p.click(p.on(was))
	p.push("#stage")
	p.click(p.on(was))
	for range 9 {
		p.key(kb.ArrowRight)
	}
	p.quiet()
	b.audit(p, "asked")

	p.anew() // and the question is still there
	p.ready()
	p.until(`document.getElementById('found-title').textContent.startsWith('Which end')`)
	p.answer("#found-answer-1")
	p.until(`document.getElementById('found-yes')`)
	assert.Equal(t, "found-title", eval[string](p, `document.activeElement.id`))
	p.quiet()
	b.audit(p, "answered")
	p.answer("#found-yes")
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
	w := sent[sentWork](p, "/api/photos/1/reading")
	assert.Equal(t, []string{"nitrate", "total hardness", "pH"}, w.Chart.Strip, "the order of the pads is the chart's")
	require.NotNil(t, w.Marks.Looked)
	assert.Equal(t, []string{"pad pH"}, w.Marks.Looked.Moved)
	i := slices.IndexFunc(w.Marks.Regions, func(m mark) bool { return m.Role == "pad" && m.Analyte == "pH" })
	assert.InDelta(t, was.x+9, middleOf(w.Marks.Regions[i].Polygon).x, 1)

	p.push("#sample-part > summary")
	p.write(`[name="reader"]`, "A. Reader")
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	assert.NoFileExists(t, filepath.Join(folder, "kitchen.chart.json"), "the chart knew the order")
	saved, err := charts.ParseMarks([]byte(fileText(t, folder, "kitchen.marks.json")))
	require.NoError(t, err)
	assert.Equal(t, &charts.Looked{By: "A. Reader", At: w.Marks.Looked.At, Moved: []string{"pad pH"}}, saved.Looked)
	again := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	again.next("All is marked")
	assert.Equal(t, saved.Looked.Moved, sent[sentWork](again, "/api/photos/1/reading").Marks.Looked.Moved, "in a new run")
}

// foundExchanged finds two pads each beside the other's row. A person says whose they
// are by keys alone.
func foundExchanged(t *testing.T, b *browser) {
	m := exchangedPads(trueMarks(t, "kitchen"), "nitrate", "pH")
	p, folder := foundIn(t, b, laptop, outline.Outline{Marks: &m}, 21)
	p.tabTo(`[data-act="other nitrate"]`)
	p.key(kb.Enter)
	p.until(`document.querySelector('[data-act="other nitrate"]').getAttribute('aria-expanded') === 'true'`)
	p.quiet()
	p.shot("whose")
	p.tabTo(`[data-act="pad nitrate pH"]`)
	p.key(kb.Enter)
	p.quiet()
	assert.Equal(t, "found-title", eval[string](p, `document.activeElement.id`))
	p.tabTo("#found-yes")
	p.key(kb.Enter)
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
	assert.Equal(t, "result-title", eval[string](p, `document.activeElement.id`), "the focus goes on to the reading")
	assert.Equal(t, []string{"pH", "total hardness", "nitrate"}, sent[sentWork](p, "/api/photos/1/reading").Chart.Strip)
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	assert.Regexp(t, `"strip": \[\s*"pH",\s*"total hardness",\s*"nitrate"\s*\]`, fileText(t, folder, "kitchen.chart.json"), "which is not the bundled chart's")
}

// foundByHand takes the outlines away and marks by hand. Undo brings them back.
func foundByHand(t *testing.T, b *browser) {
	m := trueMarks(t, "kitchen")
	p, _ := foundIn(t, b, laptop, outline.Outline{Marks: &m}, 21)
	p.answer("#found-hand")
	p.next("bare white paper")
	assert.Zero(t, p.marks())
	p.push("#undo")
	p.until(`document.getElementById('found-part').checkVisibility()`)
	assert.Equal(t, len(m.Regions), p.marks())
	p.push("#redo")
	p.next("bare white paper")
	p.follow(demo(t, "kitchen"), false, p.withMouse)
	p.holdsTruth(p.reading(), "kitchen")
	assert.Nil(t, sent[sentWork](p, "/api/photos/1/reading").Marks.Looked)
	assert.Equal(t, 1, len(p.calls.list("1/outline")), "once for a photo and its chart")
}

// foundNothing says so, and all is marked by hand.
func foundNothing(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	why := outline.Why{Code: outline.WhyRows, Found: 1, Wanted: 3, FoundEach: 6, WantedEach: 6}
	p := b.open(t, finding(t, folder, "kitchen.jpg", finds(outline.Outline{Why: why})), laptop)
	p.push(`[data-chart="orchard-well"]`)
	p.until(`document.getElementById('hint').textContent.includes('1 row was found, and the chart has 3. Mark by hand; if it is another chart')`)
	p.next("bare white paper")
	p.follow(demo(t, "kitchen"), false, p.withMouse)
	p.holdsTruth(p.reading(), "kitchen")
}

// foundBefore opens a photo with a marks file that nobody has looked at: nothing is read
// before a person has, and what is saved then says who and when.
func foundBefore(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	m := trueMarks(t, "kitchen")
	m.Unchecked, m.Asked = true, []string{"direction"}
	data, err := m.Encode()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), data, 0o600))
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.until(`document.getElementById('found-part').checkVisibility()`)
	p.quiet()
	assert.Empty(t, p.calls.list("1/reading"))
	assert.Equal(t, "The program was not sure which end of a row is the lowest. Is each outline on its patch, each pad beside its own row, "+
		"and each row in order?", p.text("#found-title"), "what nobody has answered is told")
	assert.False(t, eval[bool](p, `document.getElementById('save-part').checkVisibility() || document.getElementById('result-part').checkVisibility()`))
	p.answer("#found-yes")
	p.next("All is marked")
	r := p.reading()
	p.holdsTruth(r, "kitchen")
	p.push("#save")
	p.push("#ask-yes") // over the marks that nobody had looked at
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "kitchen", r)
	var saved map[string]json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(fileText(t, folder, "kitchen.marks.json")), &saved))
	assert.NotContains(t, saved, "checked")
	assert.NotContains(t, saved, "asked")
	assert.Contains(t, string(saved["looked"]), `"at"`)

	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), data, 0o600))
	m.Unchecked, m.Asked = false, nil
	turned := turnedRow(m, "nitrate")
	again := b.open(t, finding(t, folder, "kitchen.jpg", finds(outline.Outline{Marks: &m, Questions: []outline.Question{{
		Code: outline.AskDirection, Analytes: []string{"nitrate"},
		Answers: []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned, Marks: turned}},
	}}})), laptop)
	again.until(`document.getElementById('found-title').textContent.startsWith('Which end of the row of nitrate is 0')`)
	again.answer("#found-answer-0")
	again.until(`document.getElementById('found-yes')`)
	assert.NotContains(t, again.text("#found-title"), "not sure")
}

// foundOpen opens marks that somebody looked at and whose questions nobody answered: what
// is read of them stays doubtful until they are looked at again.
func foundOpen(t *testing.T, b *browser) {
	folder, m := newFolder(t, "kitchen.jpg"), trueMarks(t, "kitchen")
	m.Looked, m.Asked = &charts.Looked{At: "2025-05-04T10:00:00Z"}, []string{"direction"}
	data, err := m.Encode()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), data, 0o600))
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), phone)
	p.next("All is marked")
	p.until(`document.querySelector('#reading section[data-analyte]')`)
	p.quiet()
	assert.Regexp(t, notClear, p.text(`#reading section[data-analyte="nitrate"]`))
	p.push("#look-again")
	p.until(`document.getElementById('found-title').textContent.startsWith('The program was not sure')`)
	p.answer("#found-yes")
	p.next("All is marked")
	p.quiet()
	assert.NotRegexp(t, notClear, p.text(`#reading section[data-analyte="nitrate"]`))
}

// foundWithoutStrip finds the chart alone: what is not found is said, and the pads are
// marked by hand once a person has looked at the rest.
func foundWithoutStrip(t *testing.T, b *browser) {
	m := trueMarks(t, "kitchen")
	m.Regions = slices.DeleteFunc(m.Regions, func(r charts.Mark) bool { return r.Role == charts.RolePad })
	p, _ := foundIn(t, b, laptop, outline.Outline{Marks: &m, Why: outline.Why{Code: outline.WhyNoStrip}}, 18)
	assert.Contains(t, p.text("#found-why"), "no strip")
	assert.Contains(t, p.text("#found-said"), "Found: no pads, 18 swatches")
	assert.Equal(t, 3, eval[int](p, `document.querySelectorAll('#found-rows .crop.none').length`))
	p.shot("no-strip")
	p.answer("#found-yes")
	p.next("nitrate: mark the wet pad")
	p.follow(demo(t, "kitchen"), false, p.withMouse)
	p.holdsTruth(p.reading(), "kitchen")
	assert.Equal(t, []string{"pad nitrate", "pad total hardness", "pad pH"}, sent[sentWork](p, "1/reading").Marks.Looked.Moved)
}

// foundByAnother finds outlines by a chart that is not the photo's. With the right one it
// looks again, and nothing of the first stays.
func foundByAnother(t *testing.T, b *browser) {
	m, folder, asked := trueMarks(t, "kitchen"), newFolder(t, "kitchen.jpg"), []string(nil)
	p := b.open(t, finding(t, folder, "kitchen.jpg", func(_ image.Image, _, _ int, c charts.Chart) outline.Outline {
		asked = append(asked, c.Name)
		if c.Name == "orchard-well" {
			return outline.Outline{Marks: &m}
		}
		wrong := charts.Marks{Regions: []charts.Mark{{Role: charts.RoleWhite, Region: m.Regions[0].Region}, m.Regions[len(m.Regions)-1]}}
		wrong.Regions[1].Analyte, wrong.Regions[1].Value = "free chlorine", 0
		return outline.Outline{Marks: &wrong, Why: outline.Why{Code: outline.WhyNoStrip}}
	}), laptop)
	p.push(`[data-chart="mill-spring"]`)
	p.until(`document.getElementById('found-part').checkVisibility()`)
	p.quiet()
	assert.Equal(t, 2, p.marks())
	p.push("#marks-part > summary")
	p.push("#other-chart")
	p.quiet()
	p.push(`[data-chart="orchard-well"]`)
	p.looksAt(3, 21)
	p.answer("#found-yes")
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
	assert.Equal(t, []string{"mill-spring", "orchard-well"}, asked)
}

// foundSeveral answers three questions, one after another. Each answer has the best guess
// for the other doubts, and yet what was answered before stays.
func foundSeveral(t *testing.T, b *browser) {
	right := trueMarks(t, "kitchen")
	strip, row := exchangedPads(right, "nitrate", "pH"), turnedRow(right, "nitrate")
	m := turnedRow(strip, "nitrate")
	without := m
	without.Regions = slices.DeleteFunc(slices.Clone(m.Regions), func(r charts.Mark) bool {
		return r.Role == charts.RoleSwatch && r.Analyte == "nitrate" && r.Value == 0
	})
	shown := outline.Answer{Choice: outline.ChoiceAsShown, Marks: m}
	p, _ := foundIn(t, b, phone, outline.Outline{Marks: &m, Questions: []outline.Question{
		{Code: outline.AskStripEnd, Answers: []outline.Answer{shown, {Choice: outline.ChoiceTurned, Marks: row}}},
		{Code: outline.AskDirection, Analytes: []string{"nitrate"}, Answers: []outline.Answer{shown, {Choice: outline.ChoiceTurned, Marks: strip}}},
		{Code: outline.AskPatch, Analytes: []string{"nitrate"}, Answers: []outline.Answer{shown, {Choice: outline.ChoiceWithout, Marks: without}}},
	}}, 21)
	assert.Equal(t, "Which end of the strip is its tip, the end that was dipped?", p.text("#found-title"))
	p.fingerSized("asked")
	p.previews()
	assert.Equal(t, 2, eval[int](p, `document.querySelectorAll('#found-answers .preview img').length`))
	tips := p.previewed()
	assert.Equal(t, tips[0]["pH"], tips[1]["nitrate"], "the answers name each other's ends")
	p.answer("#found-answer-1")
	p.until(`document.getElementById('found-title').textContent.startsWith('Which end of the row of nitrate')`)
	p.answer("#found-answer-1")
	p.until(`document.getElementById('found-title').textContent.startsWith('The swatch for 0 of nitrate was not seen')`)
	p.quiet()
	p.shot("patch")
	const framed = `[...document.querySelectorAll('.found-asked')].map((e) => e.textContent)`
	assert.Equal(t, []string{"0"}, eval[[]string](p, framed))
	p.push("#undo") // the row is as it was, and asked about again
	p.until(`document.getElementById('found-title').textContent.startsWith('Which end of the row of nitrate')`)
	p.answer("#found-answer-1")
	p.until(`document.getElementById('found-title').textContent.startsWith('The swatch for 0 of nitrate was not seen')`)
	p.answer("#found-answer-0")
	p.answer("#found-yes")
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
	w := sent[sentWork](p, "1/reading")
	assert.Equal(t, []string{"nitrate", "total hardness", "pH"}, w.Chart.Strip)
	assert.Empty(t, w.Marks.Looked.Moved)
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('#found-said[role="status"]').length`))
}

const notClear = `Doubtful reading|Do not use this reading`

// foundOnlyYes says yes to outlines that are wrong, as a person does who does not look:
// what is read of them is not clear, and a row that contradicts its chart is asked about
// once more, without a yes.
func foundOnlyYes(t *testing.T, b *browser) {
	right := trueMarks(t, "kitchen")
	for name, m := range map[string]charts.Marks{
		"turned": turnedRow(right, "nitrate"), "exchanged pads": exchangedPads(right, "nitrate", "pH"),
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := foundIn(t, b, phone, outline.Outline{Marks: &m}, 21)
			p.answer("#found-yes")
			p.until(`document.querySelector('#reading section[data-analyte]')`)
			p.quiet()
			assert.Regexp(t, notClear, p.text(`#reading section[data-analyte="nitrate"]`))
			if name == "turned" {
				assert.True(t, eval[bool](p, `document.getElementById('order').open && !document.getElementById('order-yes')`))
				return
			}
			assert.Regexp(t, notClear, p.text(`#reading section[data-analyte="pH"]`))
		})
	}
}
