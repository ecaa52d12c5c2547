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

// gridMarks marks a pad of four parts and a presence pad, with their swatches, in
// squares over the kitchen's photo: a colour is not what is looked at here.
func gridMarks(t *testing.T) []byte {
	t.Helper()
	var regions []map[string]any
	add := func(role, analyte string, part int, value float64) {
		n := len(regions)
		m := map[string]any{"role": role, "analyte": analyte, "part": part, "rect": []int{100 + 120*(n%15), 100 + 200*(n/15), 80, 80}}
		if role == "swatch" {
			m["value"] = value
		}
		regions = append(regions, m)
	}
	for part := 1; part <= 4; part++ {
		add("pad", "pH", part, 0)
		for _, v := range []float64{4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.6} {
			add("swatch", "pH", part, v)
		}
	}
	add("pad", "nitrite", 1, 0)
	add("swatch", "nitrite", 1, 0)
	add("swatch", "nitrite", 1, 0.4)
	data, err := json.Marshal(map[string]any{"chart": "mill-spring", "regions": regions})
	require.NoError(t, err)
	return data
}

// blindParts calls a pad of four parts and one that is present or not.
func blindParts(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), gridMarks(t), 0o644))
	for _, on := range []screen{phone, laptop} {
		file := filepath.Join(t.TempDir(), "calls.csv")
		p := b.tab(t, b.run(t, "blind", folder, "--reader", "R", "--no-browser", "--out", file, "--seed", "1"), on)
		p.until(`document.getElementById('start-part') && !document.getElementById('start-part').hidden`)
		p.push("#begin")
		for n := 1; n <= 2; n++ {
			p.padNow(n, 2)
			assert.Zero(t, eval[int](p, `document.documentElement.scrollWidth - innerWidth`), "nothing lies beside the screen")
			if p.text("#pad-title") == "pH" {
				assert.Equal(t, 4*8, eval[int](p, `document.querySelectorAll('#bench img, #scale img').length`))
				p.chooseCall("6.3 to 7.1, between the two")
				assert.Equal(t, 4*3, eval[int](p, `document.querySelectorAll('#facing img').length`))
			} else {
				assert.Equal(t, 3, eval[int](p, `document.querySelectorAll('input[name=call]').length`), "no, yes, and not at all")
				p.chooseCall("yes")
				assert.Equal(t, "Your call: yes.", p.text("#yours"))
			}
			b.audit(p, fmt.Sprintf("%dx%d %s", on.width, on.height, p.text("#pad-title")))
			p.push("#give")
		}
		p.until(`!document.getElementById('end-part').hidden`)
		rows := rowsOf(t, file)
		assert.ElementsMatch(t, []string{"6.3-7.1", "0.4"}, []string{rows[0]["value"], rows[1]["value"]})
	}
}

// blindUnshown passes over a pad whose photo is not the one that was marked.
func blindUnshown(t *testing.T, b *browser) {
	folder := newFolder(t, "cellar.jpg", "kitchen.marks.json")
	require.NoError(t, os.Rename(filepath.Join(folder, "cellar.jpg"), filepath.Join(folder, "kitchen.jpg")))
	file := filepath.Join(t.TempDir(), "calls.csv")
	p := b.tab(t, b.run(t, "blind", folder, "--reader", "R", "--no-browser", "--out", file, "--analyte", "pH"), phone)
	p.until(`document.getElementById('start-part') && !document.getElementById('start-part').hidden`)
	p.push("#begin")
	p.padNow(1, 1)
	assert.Equal(t, "This pad cannot be shown", p.text("#legend"))
	assert.True(t, eval[bool](p, `document.getElementById('whole-open').hidden`))
	b.audit(p, "not shown")
	assert.Contains(t, p.text("#yours"), "Your call: cannot be called, it cannot be shown: photo.sha256")
	p.push("#give")
	p.until(`!document.getElementById('end-part').hidden`)
	assert.Equal(t, "1 call is made", p.text("#end-title"))
	assert.Contains(t, rowsOf(t, file)[0]["why"], "these marks are for another photo")
}

// blindAccessible looks at each state with the accessibility checker.
func blindAccessible(t *testing.T, b *browser) {
	for name, on := range map[string]screen{
		"laptop":      {width: 1440, height: 900, ratio: 1},
		"laptop dark": {width: 1440, height: 900, ratio: 1, dark: true},
		"phone":       phone,
		"phone dark":  {width: 390, height: 844, ratio: 3, touch: true, dark: true},
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := b.blind(t, on, "--analyte", "nitrate")
			b.audit(p, "start")
			p.push("#begin")
			p.padNow(1, 2)
			b.audit(p, "pad")
			p.push("#give")
			p.chooseCall("3 to 7, between the two")
			b.audit(p, "chosen")
			p.push("#whole-open")
			p.until(`document.getElementById('whole-photo').naturalWidth > 0`)
			b.audit(p, "whole photo")
			p.push("#whole-close")
			p.push("#give")
			p.padNow(2, 2)
			p.chooseCall("above 25")
			p.push("#give")
			p.until(`!document.getElementById('end-part').hidden`)
			b.audit(p, "end")
		})
	}
}
