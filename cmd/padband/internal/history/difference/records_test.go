package difference

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/calib/strip"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report"
	"padband/colorimetry/photo"
)

// sheetOf is a record's sheet with its photo, when it was taken, and readings.
func sheetOf(sum, taken string, analytes ...string) record.Sheet {
	var s record.Sheet
	s.Source.Photo.SHA256, s.Source.Photo.Taken = sum, taken
	for _, name := range analytes {
		r := calib.Reading{}
		r.Analyte.Name = name
		s.Readings = append(s.Readings, r)
	}
	return s
}

const (
	morning = "2026-11-14T08:41:10-05:00"
	noon    = "2026-11-14T12:00:00-05:00"
)

// What makes a comparison doubtful is said, and nothing else is.
func TestDoubtsOfAComparison(t *testing.T) {
	same := "Both records are of one and the same photo."
	exchanged := "The photo named after was taken before the one named before: are the two exchanged?"
	for _, c := range []struct {
		before, after record.Sheet
		want          []string
	}{
		{sheetOf("a", morning), sheetOf("b", noon), nil},
		{sheetOf("a", morning), sheetOf("a", morning), []string{same}},
		{sheetOf("a", noon), sheetOf("b", morning), []string{exchanged}},
		{sheetOf("a", "2026-11-14T14:00:00Z"), sheetOf("b", "2026-11-14T08:41:10-05:00"), []string{exchanged}}, // 13:41:10Z
		{sheetOf("a", noon), sheetOf("b", "2026-11-14T08:41:10"), nil},                                         // no offset, no point in time
	} {
		assert.Equal(t, c.want, Of(c.before, c.after, "").Doubts, "%v %v", c.before.Source.Photo, c.after.Source.Photo)
	}
	forged := sheetOf("b", noon)
	forged.Result.Findings = []bag.Finding{
		bag.Remark("bag-info.txt", "is a remark"), bag.Fault("data/photo/x.jpg", "is not as listed"), bag.Fault("data/y", "is new"),
	}
	doubts := Of(sheetOf("a", morning), forged, "").Doubts
	if assert.Len(t, doubts, 1) {
		assert.Contains(t, doubts[0], "The record after is not as it was made (data/photo/x.jpg: is not as listed")
	}
}

// An analyte that one side has alone is named with its side.
func TestWhatOneSideReadAlone(t *testing.T) {
	in := Of(sheetOf("a", morning, "nitrate"), sheetOf("b", noon, "pH"), "a filter")
	assert.Equal(t, []string{"nitrate was read before alone.", "pH was read after alone."}, in.NotCompared)
	assert.Empty(t, in.Pairs)
	assert.Equal(t, "a filter", in.Subject)
}

// A record of several photos that shares one with another record is of the same strip;
// two that share none are not taken for one photo.
func TestPhotoInCommon(t *testing.T) {
	of := func(sums ...string) (s record.Sheet) {
		var j strip.Joined
		for _, sum := range sums {
			j.Photos = append(j.Photos, strip.Timed{Result: &strip.Result{Photo: &photo.Photo{Facts: photo.Facts{SHA256: sum}}}})
		}
		s.Source = report.OfStrip(report.OneStripSource{Joined: &j, Files: sums})
		return s
	}
	common := []string{"The two records have a photo in common, so that both are of one strip."}
	assert.Equal(t, common, Of(of("a", "b"), of("b", "c"), "").Doubts)
	assert.Equal(t, common, Of(of("a", "b"), sheetOf("b", noon), "").Doubts)
	assert.Empty(t, Of(of("a", "b"), of("c", "d"), "").Doubts)
}
