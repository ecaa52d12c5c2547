package record

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/words"
)

// The report names the checksums of photo, chart, marks and reading, and of
// nothing else that lies in the record.
func TestChecksumsOfWhatTheReadingRestsOn(t *testing.T) {
	all := []string{photoDir + "a.jpg", chartPath, marksPath, readingPath, "data/attached/label.png", "data/report.html", "bagit.txt"}
	var files []bag.File
	for _, p := range all {
		files = append(files, bag.File{Name: p, Data: []byte("hello\n")})
	}
	var want []words.Entry
	for _, p := range all[:4] { // the checksum of hello: sha256sum of coreutils
		want = append(want, words.Entry{Label: p, Value: "5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03"})
	}
	assert.ElementsMatch(t, want, rootHashes(bag.Memory(files)))
}

func TestSubjectIsPlaceAndPoint(t *testing.T) {
	subject := func(place, point string) string {
		return Subject([]bag.Fact{{Label: "Place", Value: place}, {Label: "Sampling-Point", Value: point}, {Label: "Note", Value: "x"}})
	}
	assert.Equal(t, "Mill Lane 7, tap", subject("Mill Lane 7", "tap"))
	assert.Equal(t, "Mill Lane 7", subject("Mill Lane 7", ""))
	assert.Equal(t, "tap", subject("", "tap"))
	assert.Empty(t, subject("", ""))
}

// Methods are counted from 1: the first is one, and none before it.
func TestMethodsAreCountedFromOne(t *testing.T) {
	of := func(method string) []byte {
		return []byte(strings.Replace(keptReading, `"method":2`, `"method":`+method, 1))
	}
	assert.Contains(t, lines(compareReadings(of("1"), of("1"))), "the photo was read again: the same")
	assert.Contains(t, lines(compareReadings(of("0"), of("1"))), "methods are counted from 1")
	assert.Contains(t, lines(compareReadings(of("1"), of("2"))), "was made by method 1 and read again by method 2: no value differs")
}
