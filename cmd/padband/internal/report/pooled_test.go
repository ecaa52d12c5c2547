package report

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/cmd/padband/internal/report/reporttest"
)

// The photos are listed once, and again only with a reading that lacks some.
func TestPooledNamesItsPhotosOnce(t *testing.T) {
	all := []string{"a.jpg", "b.jpg", "c.jpg"}
	s := PooledSource{Files: all, Hashes: []string{"1", "2", "3"}, Readings: []PooledReading{
		{Reading: reporttest.Nitrate(), Scatter: 0.123, Photos: all},
		{Reading: reporttest.Nitrate(), Scatter: 0.2, Photos: all[:2], LeftOut: []LeftOut{{File: "c.jpg", Code: "late", Why: "too late"}}},
	}}
	text := PooledText(s)
	assert.True(t, strings.HasPrefix(text, "Pooled from 3 photos of one strip\n  a.jpg, b.jpg, c.jpg\n\nNitrate"), text)
	assert.Equal(t, 1, strings.Count(text, "a.jpg, b.jpg, c.jpg"))
	assert.Contains(t, text, "\n  - The photos scatter by 0.12 of a step beyond their own errors.\n")
	assert.Contains(t, text, "\n  - From a.jpg, b.jpg: they scatter by 0.20 of a step beyond their own errors.\n  - Left "+
		"out: c.jpg, too late. [late]\n")
	assert.NotContains(t, text, "The photos\n")
	s.Readings[0].Undated, s.Notes = true, []string{"copper: not in all photos"}
	assert.Contains(t, PooledText(s), "\n\nThe photos\n  - No dip time stands")
	assert.Contains(t, PooledText(s), "\n  - copper: not in all photos\n")
}

// What makes a pooled reading doubtful reaches the text and the file.
func TestPooledTellsItsWarnings(t *testing.T) {
	r := PooledReading{Reading: reporttest.Nitrate(), Photos: []string{"a.jpg", "b.jpg"}}
	r.Add(calib.Warning{Code: calib.CodeMarksUnchecked, Weight: calib.Caution, Seen: "Nobody has looked."})
	s := PooledSource{Files: r.Photos, Hashes: []string{"1", "2"}, Readings: []PooledReading{r}}
	assert.Contains(t, PooledText(s), "\n  - Nobody has looked. [marks-unchecked]\n")
	data, err := json.Marshal(NewPooled(s))
	assert.NoError(t, err)
	assert.Contains(t, string(data), `"warnings":[{"code":"marks-unchecked","text":"Nobody has looked."`)
}
