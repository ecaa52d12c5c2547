package report

import (
	"crypto/sha256"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// Pieces stay in order and whole, and a sheet ends where the next has no room.
func TestSpread(t *testing.T) {
	list := func(highs ...float64) (out []item[[]float64]) {
		for _, h := range highs {
			out = append(out, item[[]float64]{h, func(s *[]float64) { *s = append(*s, h) }})
		}
		return out
	}
	for _, c := range []struct {
		highs []float64
		want  [][]float64
	}{
		{nil, [][]float64{nil}},
		{[]float64{100, 100}, [][]float64{{100, 100}}},
		{[]float64{200, sheetHigh - 210.5, 1}, [][]float64{{200, sheetHigh - 210.5}, {1}}},
		{[]float64{200, sheetHigh - 209, 1}, [][]float64{{200}, {sheetHigh - 209, 1}}},
		{[]float64{2 * sheetHigh, 1, 2 * sheetHigh}, [][]float64{{2 * sheetHigh}, {1}, {2 * sheetHigh}}},
		{[]float64{sheetHigh - 10, sheetHigh - 5, sheetHigh - 5}, [][]float64{{sheetHigh - 10}, {sheetHigh - 5}, {sheetHigh - 5}}},
	} {
		assert.Equal(t, c.want, spread(10, 5, list(c.highs...)), "%v", c.highs)
	}
}

// The room for text grows with it, is never less than its letters need, and does
// not depend on how it is broken up.
func TestTextMeasure(t *testing.T) {
	f := plainFace(10, 50)
	assert.Zero(t, f.below(0, ""))
	assert.Zero(t, f.below(0, " \n "))
	one := f.below(0, "a")
	assert.InDelta(t, 10*leading*25.4/72, one, 1e-9)
	em := 10 * 25.4 / 72
	fits := int(50 / (0.635 * em))
	assert.InDelta(t, one, f.below(0, strings.Repeat("a", fits)), 1e-9)
	assert.InDelta(t, 2*one, f.below(0, strings.Repeat("a", fits+1)), 1e-9, "a word too long for a line is broken")
	assert.InDelta(t, 2*one, f.below(0, strings.Repeat("a", fits)+" a"), 1e-9)
	assert.InDelta(t, 3*one+2, f.high(1, "a", strings.Repeat("a", fits+1)), 1e-9)
	assert.Greater(t, boldFace(10, 50).below(0, strings.Repeat("a", fits)), one)
	narrow := face{em, one, func(y float64) float64 { return max(1, 50-40*(1-y)) }}
	assert.Greater(t, narrow.below(0, strings.Repeat("aa ", 9)), f.below(0, strings.Repeat("aa ", 9)))
}

// Every sheet says which of how many it is, and of what it is one.
func TestEverySheetHasAHead(t *testing.T) {
	for name, in := range map[string]PaperInput{"worst": worstPaper(t), "many": manyPads(t)} {
		all := paperTree(t, in)
		sheets := with(all, "paper-sheet")
		require.Greater(t, len(sheets), 1)
		heads := with(all, "paper-head")
		require.Len(t, heads, len(sheets), name)
		for i, h := range heads {
			text := flat(h.text)
			assert.Contains(t, text, in.Subject)
			assert.Contains(t, text, fmt.Sprintf("Sheet %d of %d", i+1, len(sheets)))
			if in.Seal != nil {
				assert.Contains(t, text, "Fingerprint "+in.Seal.Fingerprint)
				continue
			}
			assert.Contains(t, text, "SHA-256 of the photo begins "+short(in.Photo.SHA256)+" Fingerprint Sheet", "with a line to write it on")
		}
	}
	in := worstPaper(t)
	in.Subject, in.Photo.SHA256 = "", "ab"
	text := flat(with(paperTree(t, in), "paper-head")[1].text)
	assert.True(t, strings.HasPrefix(text, "Water-test strip read from a photo SHA-256 of the photo begins ab "), text)
	assert.Equal(t, "0123 4567 89ab cdef 0123", short(hash))
}

// Nothing is lost or said twice where a page goes on over more sheets.
func TestManyPadsAreAllShown(t *testing.T) {
	in := manyPads(t)
	all := paperTree(t, in)
	assert.Len(t, with(all, "paper-answer"), len(in.Readings))
	assert.Len(t, with(all, "paper-part"), len(in.Readings))
	assert.Len(t, with(all, "reading-colours"), len(in.Readings))
	assert.Len(t, with(all, "paper-view"), 1)
	assert.Len(t, with(all, "paper-day"), 1)
	text := body(all)
	for _, f := range in.Facts {
		assert.Contains(t, text, flat(f.Value))
	}
	assert.Equal(t, 60, strings.Count(text, "Fault: data/attached/label.jpg"))
	assert.Contains(t, text, "Sample and kit, further")
}

// A plan of a chart with many words goes on over more sheets.
func TestLongPlan(t *testing.T) {
	c := readDemo(t, "kitchen").Chart
	for range 60 {
		c.Handling = append(c.Handling, "Hold the strip level while the colour comes up, and do not let it touch the card or your hand.")
	}
	p := newPlan(c, "1")
	require.Greater(t, len(p.Sheets), 1)
	assert.Equal(t, len(p.Sheets), p.Sheets[0].Of)
	assert.Equal(t, 2, p.Sheets[1].Number)
	assert.Contains(t, PlanText(c, "1"), "\nAfter\n")
	assert.Len(t, newPlan(charts.Chart{}, "1").Sheets, 1)
}

// The bytes of a report's sheets are what the form's number stands for: a record
// made before is known by its number, and then its page is not compared.
func TestSheetFormRises(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("another processor may round a drawing's lengths in its own way")
	}
	const form, hashed = 2, "6a890de190857d6f9dd750febcd3e2b91a0b5860f8427a7e973ff768281c240a"
	in := invented()
	in.Readings, in.Facts, in.Missing, in.Hashes = forms(), []Entry{{"Place", "kitchen"}}, []string{"tester"}, []Entry{{"photo", hash}}
	one, err := Paper(in)
	require.NoError(t, err)
	two, err := Paper((&filler{text: "x"}).around((&filler{text: "y"}).paper()))
	require.NoError(t, err)
	sum := fmt.Sprintf("%x", sha256.Sum256(append(one, two...)))
	assert.Equal(t, form, SheetForm)
	assert.Equal(t, hashed, sum, "the sheets have other bytes: raise SheetForm, and put the new number and hash here")
}
