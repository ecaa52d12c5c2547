package page_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// placesShown asks for the place of each warning that has one, and finds that
// mark lit and no other: a pad, a white area of the photo's light, and a swatch.
func placesShown(t *testing.T, b *browser) {
	folder := newFolder(t, "cellar.jpg", "cellar.marks.json", "kitchen.jpg", "kitchen.marks.json")
	overAnEdge(t, filepath.Join(folder, "kitchen.marks.json"))
	p := b.open(t, b.serve(t, folder, "cellar.jpg"), laptop)
	p.next("All is marked")
	p.shows(p.reading(), "nitrate", "total hardness", "pH")
	p.lights("glare", "pad", "nitrate")
	p.lights("shadow", "white", "white")
	const whole = `[...document.querySelectorAll('#reading li[data-where]')].filter((li) => JSON.parse(li.dataset.where).every((q) => q.kind === 'photo'))`
	assert.Equal(t, 0, eval[int](p, `(`+whole+`).filter((li) => li.querySelector('button.where')).length`), "the whole photo is not shown on the photo")
	assert.Positive(t, eval[int](p, `(`+whole+`).length`))

	p = b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.lights("mark-on-edge", "swatch", "12")
}

// overAnEdge marks the nitrate swatch for 12 by hand so that half of it lies beside it.
func overAnEdge(t *testing.T, marks string) {
	t.Helper()
	var file map[string]any
	require.NoError(t, json.Unmarshal([]byte(fileText(t, marks)), &file))
	file["regions"] = append(file["regions"].([]any), map[string]any{
		"role": "swatch", "analyte": "nitrate", "value": 12, "part": 1, "rect": []int{1425, 470, 100, 100},
	})
	data, err := json.Marshal(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(marks, data, 0o644))
}

// lights asks for the place of the first warning of a code that is on a mark of a role,
// and finds this one mark lit, with some words beside it.
func (p *tab) lights(code, role, told string) {
	p.t.Helper()
	const lit = `[...document.querySelectorAll('#overlay .lit.line')].map((e) => [...e.classList].filter((c) => ['pad', 'swatch', 'white'].includes(c)).join(' '))`
	const item = `[...document.querySelectorAll('#reading li[data-where]')].filter((li) => li.dataset.code === %%s && li.querySelector('button.where') &&
		JSON.parse(li.dataset.where).some((q) => q.kind === %q))`
	p.pushFound(fmt.Sprintf("("+item+")[0]?.querySelector('button.where')", role), code)
	p.until(`(` + lit + `).length === 1`)
	assert.Equal(p.t, []string{role}, eval[[]string](p, lit), code)
	assert.Contains(p.t, eval[[]string](p, `[...document.querySelectorAll('#overlay .mark-label')].map((e) => e.textContent)`), told)
}
