package record

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
)

// oneReading is reading.json as the file format has it, with one reading.
const oneReading = `{"format":1,"photo":{"sha256":"ab","taken":"2026-11-14T08:41:10-05:00"},
"chart":{"name":"orchard-well","version":"2","sha256":"cd"},
"readings":[{"analyte":"nitrate","unit":"mg/L","as":"N","value":25,"band":{"low":21,"high":null},"water_band":{"low":18.5,"high":null},
"range":"above","reliability":"caution","warnings":[{"code":"glare","text":"..."}],"later":"ignored"}],"program":{"method":2}}`

// keepSummed writes a record with this reading and these facts, and returns its folder.
func keepSummed(t testing.TB, parent, name, reading string, facts ...bag.Fact) string {
	t.Helper()
	c := content()
	c.Reading, c.Facts, c.Attached = []byte(reading), facts, nil
	files, err := Make(c, nil)
	require.NoError(t, err)
	require.NoError(t, inFolder(parent, name, files))
	require.NoError(t, inZipFile(parent, name, files))
	return filepath.Join(parent, name)
}

func TestSummaryHasFactsAndFigures(t *testing.T) {
	dir := keepSummed(t, t.TempDir(), "rec", oneReading, bag.Fact{Label: "Place", Value: "Mill Lane 7"}, bag.Fact{Label: "Sampling-Point", Value: "raw"}, bag.Fact{Label: "Tester", Value: "A. Reader"},
		bag.Fact{Label: "Photo-Taken", Value: "2026-11-14T08:41:10 (no offset)"}, bag.Fact{Label: "Dipped", Value: "2026-11-14T08:40:12"}, bag.Fact{Label: "Kit-Lot", Value: "OW-2418"}, bag.Fact{Label: "Kit-Expires", Value: "2027-05"})
	for _, name := range []string{dir, dir + ".zip"} {
		s, err := Summarise(name)
		require.NoError(t, err)
		assert.Equal(t, Summary{
			Path: name, Place: "Mill Lane 7", Point: "raw", Tester: "A. Reader", Taken: "2026-11-14T08:41:10 (no offset)", Dipped: "2026-11-14T08:40:12",
			Lot: "OW-2418", Expires: "2027-05", Photo: "ab", Chart: reading.Chart{Name: "orchard-well", Version: "2", SHA256: "cd"}, Readings: s.Readings,
		}, s)
		require.Len(t, s.Readings, 1)
		r := s.Readings[0]
		low, high := r.WaterBand.Ends()
		assert.Equal(t, []float64{18.5, math.Inf(1)}, []float64{low, high})
		assert.Equal(t, []string{"nitrate", "mg/L", "N", "above", "caution", "glare"},
			[]string{r.Analyte, r.Unit, r.As, string(r.Range), string(r.Reliability), string(r.Warnings[0].Code)})
		assert.Equal(t, reading.Figure(25), r.Value)
	}
	s, err := Summarise(keepSummed(t, t.TempDir(), "bare", oneReading))
	require.NoError(t, err)
	assert.Equal(t, "2026-11-14T08:41:10-05:00", s.Taken, "the reading's own time where the facts have none")
	assert.Empty(t, s.Place)
}

// Neither the photo nor anything else of a record is opened.
func TestSummaryReadsTwoFilesAlone(t *testing.T) {
	dir := keepSummed(t, t.TempDir(), "rec", oneReading)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "data", "photo")))
	require.NoError(t, os.Symlink("/nowhere", filepath.Join(dir, "manifest-sha512.txt")+"x"))
	_, err := Summarise(dir)
	assert.NoError(t, err)
}

func TestBrokenRecordIsSaidInALine(t *testing.T) {
	for want, change := range map[string]func(dir string) error{
		"bag-info.txt: is not there":                     func(d string) error { return os.Remove(filepath.Join(d, "bag-info.txt")) },
		"data/reading.json: is not there":                func(d string) error { return os.RemoveAll(filepath.Join(d, "data")) },
		"bag-info.txt: line 1 is not of the form":        func(d string) error { return put(d, "bag-info.txt", "no label") },
		"data/reading.json: is no JSON":                  func(d string) error { return put(d, readingPath, "{") },
		"is of format 3, and this program knows up to 2": func(d string) error { return put(d, readingPath, `{"format":3}`) },
		"holds 201 readings":                             func(d string) error { return put(d, readingPath, `{"readings":[`+strings.Repeat("{},", 200)+"{}]}") },
		"readings[0]: names no analyte":                  func(d string) error { return put(d, readingPath, `{"readings":[{}]}`) },
		"readings[0]: has a band whose low end":          func(d string) error { return alter(d, `"low":21,"high":null`, `"low":21,"high":20`) },
		`readings[0]: has the range "beyond"`:            func(d string) error { return alter(d, `"above"`, `"beyond"`) },
		`readings[0]: has the reliability "perfect"`:     func(d string) error { return alter(d, `"caution"`, `"perfect"`) },
		"is over the limit of 4 MB":                      func(d string) error { return put(d, readingPath, strings.Repeat(" ", bag.TagBytes+1)) },
		"data/reading.json is a link":                    func(d string) error { return link(d, readingPath) },
		"bag-info.txt is a link":                         func(d string) error { return link(d, "bag-info.txt") },
		"bagit.txt is a link":                            func(d string) error { return link(d, "bagit.txt") },
	} {
		dir := keepSummed(t, t.TempDir(), "rec", oneReading)
		require.NoError(t, change(dir))
		_, err := Summarise(dir)
		require.ErrorContains(t, err, want)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func put(dir, name, data string) error {
	return os.WriteFile(filepath.Join(dir, name), []byte(data), 0o644)
}

func alter(dir, old, now string) error {
	return put(dir, readingPath, strings.Replace(oneReading, old, now, 1))
}

func link(dir, name string) error {
	full := filepath.Join(dir, name)
	if err := os.Rename(full, filepath.Join(dir, "aside")); err != nil {
		return err
	}
	return os.Symlink(filepath.Join(dir, "aside"), full)
}

func TestTimesAsRecordsHoldThem(t *testing.T) {
	for _, c := range []struct {
		text, utc  string
		offset, ok bool
	}{
		{"2026-11-14T08:41:10-05:00", "2026-11-14T13:41:10Z", true, true},
		{"2026-11-14T08:41:10.25Z", "2026-11-14T08:41:10.25Z", true, true},
		{"2026-11-14T08:41:10 (no offset)", "2026-11-14T08:41:10Z", false, true},
		{"2026-11-14 08:41", "2026-11-14T08:41:00Z", false, true},
		{"2026-11-14 08:41 +01:00", "2026-11-14T07:41:00Z", true, true},
		{" 2026-11-14 ", "2026-11-14T00:00:00Z", false, true},
		{"14 November", "", false, false}, {"2026-02-30", "", false, false}, {"", "", false, false}, {"2026-11-14Z", "", false, false},
	} {
		at, offset, ok := ParseTime(c.text)
		assert.Equal(t, c.ok, ok, c.text)
		assert.Equal(t, c.offset, offset, c.text)
		if ok {
			assert.Equal(t, c.utc, at.UTC().Format(time.RFC3339Nano), c.text)
		}
	}
}
