package page_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
)

// previews waits until the pictures of the answers are there, and looks.
func (p *tab) previews() {
	p.t.Helper()
	p.until(`[...document.querySelectorAll('#found-answers .preview img')].every((i) => i.complete && i.naturalWidth > 0)`)
	p.quiet()
	p.shot("previews")
}

// previewed is where each answer's picture has its words, from the left, in percent.
func (p *tab) previewed() []map[string]float64 {
	return eval[[]map[string]float64](p, `[...document.querySelectorAll('#found-answers .preview')].map((e) =>
		Object.fromEntries([...e.querySelectorAll('.preview-note')].map((n) => [n.textContent, parseFloat(n.dataset.across)])))`)
}

// foundUpsideDown finds a chart by its layout, which might lie the other way up: each
// answer's picture has the chart's corners, and the number of the first of them.
func foundUpsideDown(t *testing.T, b *browser) {
	data, err := os.ReadFile(filepath.Join(demoFolder, "kitchen.marks.json"))
	require.NoError(t, err)
	m, err := charts.ParseMarks(data)
	require.NoError(t, err)
	m.Sample = charts.SampleInfo{}
	require.Len(t, m.Corners, 4)
	turned := m
	turned.Corners = append(slices.Clone(m.Corners[2:]), m.Corners[:2]...)
	p, _ := foundIn(t, b, phone, outline.Outline{Marks: &m, Questions: []outline.Question{{
		Code: outline.AskDirection, Answers: []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceTurned, Marks: turned}},
	}}}, 21)
	p.previews()
	ends := p.previewed()
	require.Len(t, ends, 2)
	assert.Less(t, ends[0]["1"], 25.0)
	assert.Greater(t, ends[1]["1"], 75.0)
	p.answer("#found-answer-0")
	p.answer("#found-yes")
	p.next("All is marked")
	p.holdsTruth(p.reading(), "kitchen")
}
