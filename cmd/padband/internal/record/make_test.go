package record

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib/strip"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry/photo"
)

func TestFolderNameIsPlain(t *testing.T) {
	assert.Equal(t, "2026-11-14-kitchen-tap-54ed5e82", FolderName("2026-11-14T08:41:10-05:00", "Kitchen tap", "54ed5e826736"))
	assert.Equal(t, "54ed5e82", FolderName("", "", "54ed5e826736"))
	assert.Equal(t, "2026-1-4-54ed5e82", FolderName("2026/1/4", "", "54ed5e826736"))
}

// The day is the photo's where it is known and else the day of keeping.
func TestFolderNameOfWhatWasMade(t *testing.T) {
	m := Made{Result: &strip.Result{Photo: &photo.Photo{Facts: photo.Facts{SHA256: "54ed5e826736"}}}, Day: "2026-11-20"}
	assert.Equal(t, "2026-11-20-54ed5e82", m.FolderName())
	m.Facts = []bag.Fact{
		{Label: "Photo-Taken", Value: "2026-11-14T08:41:10-05:00"},
		{Label: "Place", Value: "Mill Lane 7"}, {Label: "Sampling-Point", Value: "Tap"},
	}
	assert.Equal(t, "2026-11-14-mill-lane-7-tap-54ed5e82", m.FolderName())
}

// A fact is either told or named as missing.
func TestFactsAreToldOrMissing(t *testing.T) {
	told, missing := entries([]bag.Fact{
		{Label: "Place", Value: "Mill Lane 7"}, {Label: "Note", Value: ""},
		{Label: labelProgram, Value: "padband 1"}, {Label: labelMethod, Value: "2"}, {Label: labelGo, Value: "go1"},
	})
	by := map[string]string{}
	for _, e := range told {
		by[e.Label] = e.Value
	}
	for _, a := range Sample {
		if a.Label == "Place" {
			assert.Equal(t, "Mill Lane 7", by[a.Words])
			assert.NotContains(t, missing, a.Words)
			continue
		}
		assert.NotContains(t, by, a.Words)
		if a.Optional() {
			assert.NotContains(t, missing, a.Words)
			continue
		}
		assert.Contains(t, missing, a.Words)
	}
	assert.Len(t, missing, len(Sample)-3, "light and water are often not there to be told")
	assert.Contains(t, told, words.Entry{Label: bag.Info(known).Get(labelProgram), Value: "padband 1, method 2, go1"})
}

// The words for light and water are written out on a sheet, and need not be told.
func TestLightAndWaterInWords(t *testing.T) {
	told, _ := entries([]bag.Fact{{Label: "Light", Value: "tube"}, {Label: "Water-Look", Value: "tint"}})
	assert.Contains(t, told, words.Entry{Label: "Light of the photo", Value: "under a tube"})
	assert.Contains(t, told, words.Entry{Label: "Look of the water", Value: "tint, like weak tea"})
	info := Content{Facts: []bag.Fact{{Label: "Place"}, {Label: "Light"}, {Label: "Water-Look"}}}.info(nil)
	assert.Equal(t, "Place", info.Get(labelMissing))
}
