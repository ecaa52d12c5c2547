package page_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// backwards taps a row the other way round. The page shows it in the order that was
// marked, the person turns it, and the chart keeps which end is pale.
func backwards(t *testing.T, b *browser) {
	for _, s := range []screen{phone, wide} {
		n := newBench(t)
		p := n.start(t, b, s)
		n.until(p, `iron: .*swatch for 0$`)
		row := n.rows["iron1"]
		for _, at := range []spot{row[4], row[0]} { // for 0 and for 5
			p.reach(at)
			p.poke(p.on(at))
			p.quiet()
		}
		p.until(`document.getElementById('order').open`)
		assert.Equal(t, "iron: do these run from 0 to 5 in this order?", p.text("#order-title"))
		assert.Contains(t, p.text("#order-why"), "The pale end is called the highest here.")
		p.cutOuts(5)
		p.shot("reversed")
		p.answer("#order-turn")
		p.quiet()
		p.shot("turned")
		assert.NotContains(t, p.text("#order-why"), "The pale end")
		p.answer("#order-yes")
		p.next("All is marked")
		got := p.regions()
		atSpot(t, got, "swatch iron 0 1", row[0])
		atSpot(t, got, "swatch iron 1 1", row[1])
		atSpot(t, got, "swatch iron 5 1", row[4])
		assert.Equal(t, map[string]string{"pH": "neither", "nitrate": "lowest", "iron": "lowest"}, p.palest())
		assert.False(t, eval[bool](p, `document.getElementById('order').open`), "it is told once")
	}
}

// cutOuts checks that so many pictures from the photo are shown, each with its value.
func (p *tab) cutOuts(n int) {
	p.t.Helper()
	p.until(`[...document.querySelectorAll('#order img')].every((i) => i.complete && i.naturalWidth > 0)`)
	assert.Equal(p.t, n, eval[int](p, `document.querySelectorAll('#order img').length`))
	p.fingersOnly()
}

// palest is what the chart that was last sent says of its rows.
func (p *tab) palest() map[string]string {
	p.t.Helper()
	out := map[string]string{}
	for _, a := range sent[struct {
		Chart struct {
			Analytes []struct{ Name, Palest string }
		}
	}](p, "/reading").Chart.Analytes {
		out[a.Name] = a.Palest
	}
	return out
}

// contradicted taps a row the other way round whose chart says which end is pale: it is
// asked about, and of the others only those with colour at both ends.
func contradicted(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg"), "kitchen.jpg"), wide)
	p.choose("orchard-well")
	kitchen := demo(t, "kitchen")
	turned := map[float64]spot{0: kitchen.rows["nitrate"][25], 25: kitchen.rows["nitrate"][0]}
	asked, both := 0, []string(nil)
	p.follow(kitchen, false, func(kind string, at spot) {
		for v, other := range turned {
			if kind == "swatch" && at == kitchen.rows["nitrate"][v] {
				at = other
				defer delete(turned, v)
				break
			}
		}
		p.withMouse(kind, at)
		p.quiet()
		if eval[bool](p, `document.getElementById('order').open`) {
			if title := p.text("#order-title"); !strings.HasPrefix(title, "nitrate") {
				both = append(both, strings.SplitN(title, ":", 2)[0])
				p.answer("#order-yes")
				return
			}
			asked++
			assert.Contains(t, p.text("#order-title"), "nitrate: do these run from 0 to 25")
			assert.False(t, eval[bool](p, `Boolean(document.getElementById('order-yes'))`), "what contradicts its chart is not agreed to")
			assert.Contains(t, p.text("#order-why"), "This row contradicts its chart")
			p.cutOuts(6)
			p.shot("contradicts")
			p.answer("#order-turn")
			p.answer("#order-yes")
		}
	})
	assert.Equal(t, 1, asked, "only what contradicts the chart is asked about")
	assert.Equal(t, []string{"total hardness", "pH"}, both, "but where both ends have colour a person looks")
	p.holdsTruth(p.reading(), "kitchen")
	p.placedAt(sent[work](p, "/reading").Marks.Regions, kitchen, 15)
}

// exchanged taps the row of nitrate as that of hardness and the other way round. The
// page says that the row is another one's, and nobody can agree to it.
func exchanged(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg"), "kitchen.jpg"), wide)
	p.choose("orchard-well")
	kitchen, other := demo(t, "kitchen"), map[string]string{"nitrate": "total hardness", "total hardness": "nitrate"}
	said := map[string]string{}
	p.follow(kitchen, false, func(kind string, at spot) {
		p.withMouse(kind, swapped(kitchen, other, at))
		p.quiet()
		for eval[bool](p, `document.getElementById('order').open`) {
			analyte := strings.SplitN(p.text("#order-title"), ":", 2)[0]
			if other[analyte] == "" {
				p.answer("#order-yes")
				p.quiet()
				continue
			}
			said[analyte] = p.text("#order-why")
			assert.False(t, eval[bool](p, `Boolean(document.getElementById('order-yes'))`), analyte)
			p.shot("exchanged")
			p.answer("#order-later")
			p.quiet()
		}
	})
	assert.Contains(t, said["nitrate"], "the row of another analyte is marked")
	assert.Contains(t, said["total hardness"], "the row of another analyte is marked")
}

// swapped is the swatch that stands at the same number in the other row.
func swapped(d scene, other map[string]string, at spot) spot {
	for name, with := range other {
		from, to := inOrder(d.rows[name]), inOrder(d.rows[with])
		for i := range from {
			if at == from[i] {
				return to[i]
			}
		}
	}
	return at
}

// inOrder are the places of a row from its lowest value up.
func inOrder(row map[float64]spot) (out []spot) {
	for _, v := range slices.Sorted(maps.Keys(row)) {
		out = append(out, row[v])
	}
	return out
}

// putOff closes the question without an answer: it comes again when all is marked, and
// what is read until then is not lost.
func putOff(t *testing.T, b *browser) {
	n := newBench(t)
	p := n.start(t, b, wide)
	n.until(p, `nitrate: .*swatch for 0$`)
	for _, i := range []int{0, 4} {
		p.poke(p.on(n.rows["nitrate1"][i]))
		p.quiet()
	}
	p.answer("#order-later")
	p.quiet()
	assert.False(t, eval[bool](p, `document.getElementById('order').open`))
	assert.Empty(t, p.palest()["nitrate"])
	n.until(p, `never`)
	p.quiet()
	p.ordered()
	assert.Equal(t, "lowest", p.palest()["nitrate"])
	var got struct{ Readings []struct{ Analyte string } }
	require.NoError(t, json.Unmarshal([]byte(p.reading().JSON), &got))
	assert.Len(t, got.Readings, 3)
}
