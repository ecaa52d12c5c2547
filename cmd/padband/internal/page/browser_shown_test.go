package page_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// placesShown asks for the place of each warning that has one, and finds that
// mark lit and no other: a pad, a swatch, and a white area of the photo's light.
func placesShown(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "cellar.jpg", "cellar.marks.json"), "cellar.jpg"), laptop)
	p.next("All is marked")
	p.shows(p.reading(), "nitrate", "total hardness", "pH")
	const lit = `[...document.querySelectorAll('#overlay .lit.line')].map((e) => [...e.classList].filter((c) => ['pad', 'swatch', 'white'].includes(c)).join(' '))`
	const item = `[...document.querySelectorAll('#reading li[data-where]')].filter((li) => li.dataset.code === %s && li.querySelector('button.where'))`
	for _, one := range []struct {
		code string
		nth  int
		want string
		told string // the words beside the lit mark
	}{
		{"glare", 0, "pad", "nitrate"},
		{"shadow", 0, "swatch", "0"},   // of nitrate
		{"shadow", 1, "swatch", "5.8"}, // of pH
		{"shadow", 2, "white", "white"},
	} {
		p.pushFound(fmt.Sprintf(`(%s)[%d]?.querySelector('button.where')`, item, one.nth), one.code)
		p.until(`(` + lit + `).length === 1`)
		assert.Equal(t, []string{one.want}, eval[[]string](p, lit), one.code)
		assert.Contains(t, eval[[]string](p, `[...document.querySelectorAll('#overlay .mark-label')].map((e) => e.textContent)`), one.told)
	}
	const whole = `[...document.querySelectorAll('#reading li[data-where]')].filter((li) => JSON.parse(li.dataset.where).every((q) => q.kind === 'photo'))`
	assert.Equal(t, 0, eval[int](p, `(`+whole+`).filter((li) => li.querySelector('button.where')).length`), "the whole photo is not shown on the photo")
	assert.Positive(t, eval[int](p, `(`+whole+`).length`))
}
