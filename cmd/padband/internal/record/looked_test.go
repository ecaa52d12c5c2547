package record

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip"
	"padband/charts"
)

func TestLookedFact(t *testing.T) {
	many := strings.Split("a b c d e f g", " ")
	for want, l := range map[string]*charts.Looked{
		"": nil,
		"by A. Reader, 2026-11-14T09:02:00-05:00; moved: none":    {By: "A. Reader", At: "2026-11-14T09:02:00-05:00"},
		"by a person who gave no name, T; moved: pad pH, corners": {At: "T", Moved: []string{"pad pH", "corners"}},
		"by A, T; moved: a, b, c, d, e, f":                        {By: "A", At: "T", Moved: many[:6]},
		"by A, T; moved: 7 outlines, which the marks name":        {By: "A", At: "T", Moved: many},
		"by A, T; moved: " + strings.Repeat("x", 300):             {By: "A", At: "T", Moved: []string{strings.Repeat("x", 300)}},
	} {
		assert.Equal(t, want, lookedFact(l))
	}
}

// outlinedKitchen is the demonstration photo with marks that say so of a look.
func outlinedKitchen(t *testing.T, unchecked bool, l *charts.Looked) Made {
	t.Helper()
	m := kitchen(t)
	marks := m.Result.Marks
	marks.Unchecked, marks.Looked = unchecked, l
	var err error
	m.Marks, err = marks.Encode()
	require.NoError(t, err)
	m.Result, err = strip.ReadPhoto(m.Result.Photo, m.Chart.Chart, marks, strip.Ask{})
	require.NoError(t, err)
	return m
}

// No record is made of outlines that nobody has looked at.
func TestNoRecordOfUncheckedMarks(t *testing.T) {
	files, err := outlinedKitchen(t, true, nil).Files()
	assert.ErrorIs(t, err, ErrUnchecked)
	assert.Empty(t, files)
}

// Who looked stands in the marks, in bag-info.txt and on the page; where these differ,
// all hashes made anew, it is a fault.
func TestWhoLookedIsChecked(t *testing.T) {
	files, err := outlinedKitchen(t, false, &charts.Looked{By: "A. Reader", At: "2026-11-14T09:02:00-05:00", Moved: []string{"pad pH"}}).Files()
	require.NoError(t, err)
	assert.Empty(t, faultsOf(checkReal(t, files, "9.9.9")))
	assert.Contains(t, string(fileOf(t, files, reportPath).Data), "by A. Reader, 2026-11-14T09:02:00-05:00; moved: pad pH")

	info := fileOf(t, files, "bag-info.txt")
	fact := []byte("Outlines-Looked-At: by A. Reader, 2026-11-14T09:02:00-05:00; moved: pad pH\n")
	require.True(t, bytes.Contains(info.Data, fact))
	honest := info.Data
	for _, forged := range [][]byte{nil, bytes.Replace(fact, []byte("A. Reader"), []byte("B. Writer"), 1)} {
		info.Data = bytes.Replace(honest, fact, forged, 1)
		faults := strings.Join(faultsOf(checkReal(t, sealed(files), "9.9.9")), "\n")
		assert.Contains(t, faults, "bag-info.txt: Outlines-Looked-At is ")
		assert.Contains(t, faults, `but the record's files say "by A. Reader, 2026-11-14T09:02:00-05:00; moved: pad pH"`)
	}
}
