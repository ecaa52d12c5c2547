package paper

import (
	"crypto/sha256"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// Every sheet says which of how many it is, and of what it is one.
func TestEverySheetHasAHead(t *testing.T) {
	for name, in := range map[string]Input{"worst": WorstPaper(t), "many": ManyPads(t)} {
		all := paperTree(t, in)
		sheets := reporttest.With(all, "paper-sheet")
		require.Greater(t, len(sheets), 1)
		heads := reporttest.With(all, "paper-head")
		require.Len(t, heads, len(sheets), name)
		for i, h := range heads {
			text := reporttest.Flat(h.Text)
			assert.Contains(t, text, in.Subject)
			assert.Contains(t, text, fmt.Sprintf("Sheet %d of %d", i+1, len(sheets)))
			if in.Seal != nil {
				assert.Contains(t, text, "Fingerprint "+in.Seal.Fingerprint)
				continue
			}
			assert.Contains(t, text, "SHA-256 of the photo begins "+short(in.Photo.SHA256)+" Fingerprint Sheet",
				"with a line to write it on")
		}
	}
	in := WorstPaper(t)
	in.Subject, in.Photo.SHA256 = "", "ab"
	text := reporttest.Flat(reporttest.With(paperTree(t, in), "paper-head")[1].Text)
	assert.True(t, strings.HasPrefix(text, "Water-test strip read from a photo SHA-256 of the photo begins ab "), text)
	assert.Equal(t, "0123 4567 89ab cdef 0123", short(hash))
}

// Nothing is lost or said twice where a page goes on over more sheets.
func TestManyPadsAreAllShown(t *testing.T) {
	in := ManyPads(t)
	all := paperTree(t, in)
	assert.Len(t, reporttest.With(all, "paper-answer"), len(in.Readings))
	assert.Len(t, reporttest.With(all, "paper-part"), len(in.Readings))
	assert.Len(t, reporttest.With(all, "reading-colours"), len(in.Readings))
	assert.Len(t, reporttest.With(all, "paper-view"), 1)
	assert.Len(t, reporttest.With(all, "paper-day"), 1)
	text := reporttest.Body(all)
	for _, f := range in.Facts {
		assert.Contains(t, text, reporttest.Flat(f.Value))
	}
	assert.Equal(t, 60, strings.Count(text, "Fault: data/attached/label.jpg"))
	assert.Contains(t, text, "Sample and kit, further")
}

// The bytes of a report's sheets are what the form's number stands for: a record
// made before is known by its number, and then its page is not compared.
func TestSheetFormRises(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("another processor may round a drawing's lengths in its own way")
	}
	const form, hashed = 4, "3fc954d28c750f57272cbd2a32bdb9779e1d2f999932911623999eac7f0cbac2"
	in := Invented()
	in.Readings, in.Facts, in.Missing, in.Hashes = reporttest.Forms(), []words.Entry{{Label: "Place", Value: "kitchen"}},
		[]string{"tester"}, []words.Entry{{Label: "photo", Value: hash}}
	one, err := Page(in)
	require.NoError(t, err)
	two, err := Page((&Filler{Text: "x"}).Around((&Filler{Text: "y"}).Paper()))
	require.NoError(t, err)
	sum := fmt.Sprintf("%x", sha256.Sum256(append(one, two...)))
	assert.Equal(t, form, Form)
	assert.Equal(t, hashed, sum, "the sheets have other bytes: raise Form, and put the new number and hash here")
}
