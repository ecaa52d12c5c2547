package record

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record/bag"
	"padband/colorimetry/photo"
)

// shotOf is a photo of the demonstration as if taken at a clock time; the dip was at
// 08:40:18. Its file holds the time as Exif has it (Exif 2.3; from memory).
func shotOf(t testing.TB, name, of, clock string, change func(*charts.Marks)) (Shot, *strip.Result, input.ChartFile) {
	t.Helper()
	from := filepath.Join(filepath.Dir(demoPhoto), of+".jpg")
	data, err := os.ReadFile(from)
	require.NoError(t, err)
	was := map[string]string{"kitchen": "08:41:10", "cellar": "09:12:35"}[of]
	require.Equal(t, 2, bytes.Count(data, []byte("2026:11:14 "+was)))
	data = bytes.ReplaceAll(data, []byte("2026:11:14 "+was), []byte("2026:11:14 "+clock))
	m, _, err := input.Marks(from, "")
	require.NoError(t, err)
	m.Photo.SHA256, m.Sample.Taken, m.Sample.Place, m.Sample.Point = bag.Sum("sha256", data), "", "Mill Lane 7", ""
	if change != nil {
		change(&m)
	}
	text, err := m.Encode()
	require.NoError(t, err)
	chart, err := input.Chart(from, "", m)
	require.NoError(t, err)
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart.Chart, Marks: m, Whole: true})
	require.NoError(t, err)
	return Shot{Name: name, Photo: data, Marks: text, Received: FromFile}, r, chart
}

// undipped takes the time of the dip from marks.
func undipped(m *charts.Marks) { m.Sample.Dipped = "" }

// oneStrip is a record of three photos of one strip, two of them of one name. Nitrate is
// read at 45 to 75 s, hardness and pH at 30 to 60 s, so that the third is read by none.
func oneStrip(t testing.TB, changes ...func(*charts.Marks)) (m Made, results []*strip.Result) {
	t.Helper()
	changes = append(changes, nil, nil, nil)
	for i, of := range []struct{ name, of, clock string }{
		{"IMG 1.jpg", "cellar", "08:41:00"}, {"img_2.jpg", "kitchen", "08:41:22"}, {"IMG 1.jpg", "kitchen", "08:42:22"}, // 42, 64, 124 s
	} {
		shot, r, chart := shotOf(t, of.name, of.of, of.clock, changes[i])
		m.Shots, results, m.Chart = append(m.Shots, shot), append(results, r), chart
	}
	j, err := strip.OneStrip(results, strip.Ask{})
	require.NoError(t, err)
	m.Joined, m.Facts, m.Version, m.Day = j, FactsOfStrip(j, map[string]string{"note": "three"}), "9.9.9", "2026-11-14"
	return m, results
}

func TestRecordOfOneStrip(t *testing.T) {
	m, results := oneStrip(t, undipped)
	files, err := m.Files()
	require.NoError(t, err)
	for name, want := range map[string][]byte{
		"data/photo/IMG-1.jpg": m.Shots[0].Photo, "data/photo/img_2.jpg": m.Shots[1].Photo, "data/photo/2-IMG-1.jpg": m.Shots[2].Photo,
		"data/marks/IMG-1.marks.json": m.Shots[0].Marks, "data/marks/img_2.marks.json": m.Shots[1].Marks,
		"data/marks/2-IMG-1.marks.json": m.Shots[2].Marks,
	} {
		assert.Equal(t, want, fileOf(t, files, name).Data, name)
	}
	res := checkReal(t, files, m.Version)
	assert.Empty(t, faultsOf(res))
	assert.Contains(t, lines(res.Findings), "data/reading.json: the photos were read again and joined again: the same")
	assert.Contains(t, lines(res.Findings), "data/report.html: made again from the record: the same")
	assert.Equal(t, "2026-11-14-mill-lane-7-"+bag.Sum("sha256", m.Shots[0].Photo)[:8], m.FolderName())

	f, err := reading.Parse(fileOf(t, files, readingPath).Data)
	require.NoError(t, err)
	assert.Equal(t, []string{"img_2.jpg", "IMG 1.jpg", "IMG 1.jpg"}, []string{f.Readings[0].Photo, f.Readings[1].Photo, f.Readings[2].Photo})
	page := string(fileOf(t, files, reportPath).Data)
	for _, want := range []string{"read from 3 photos", "Photo 3 of 3", "2-IMG 1.jpg", "From img_2.jpg, taken 64 s after the dip"} {
		assert.Contains(t, page, want)
	}
	assert.Equal(t, 3, strings.Count(page, "The photo, upright, made smaller"))

	// The order in which the photos came makes no difference.
	turned := m
	turned.Shots = []Shot{m.Shots[2], m.Shots[0], m.Shots[1]}
	turned.Joined, err = strip.OneStrip([]*strip.Result{results[2], results[0], results[1]}, strip.Ask{})
	require.NoError(t, err)
	again, err := turned.Files()
	require.NoError(t, err)
	assert.True(t, slices.EqualFunc(files, again, func(a, b bag.File) bool { return a.Name == b.Name && bytes.Equal(a.Data, b.Data) }))

	s, err := Options{Limits: photo.Limits{}}.Sheet(bag.Memory(files), m.Version)
	require.NoError(t, err)
	assert.Zero(t, s.Result.Faults())
	assert.Len(t, s.Shots, 3)
}

// leftOut leaves out files of a record.
func leftOut(files []bag.File, names ...string) []bag.File {
	return slices.DeleteFunc(slices.Clone(files), func(f bag.File) bool { return slices.Contains(names, f.Name) })
}

// Whoever knows the form changes a record of one strip and writes all manifests anew: it
// is a fault. In a signed record the signature fails.
func TestForgedRecordOfOneStrip(t *testing.T) {
	m, _ := oneStrip(t)
	m.Signer = testKey(t, "anna")
	files, err := m.Files()
	require.NoError(t, err)
	require.Empty(t, faultsOf(checkReal(t, files, m.Version)))
	exchanged := func(a, b string) func([]bag.File) []bag.File {
		return func(files []bag.File) []bag.File {
			x, y := fileOf(t, files, a), fileOf(t, files, b)
			x.Data, y.Data = y.Data, x.Data
			return files
		}
	}
	edited := func(name, old, now string) func([]bag.File) []bag.File {
		return func(files []bag.File) []bag.File {
			replaced(name, old, now)(t, files)
			return files
		}
	}
	other, _, _ := shotOf(t, "x.jpg", "kitchen", "08:41:25", nil)
	first, second, third := "data/photo/IMG-1.jpg", "data/photo/img_2.jpg", "data/photo/2-IMG-1.jpg"
	for name, f := range map[string]struct {
		change func([]bag.File) []bag.File
		want   string
	}{
		"a value": {edited(readingPath, `"value":9.9`, `"value":4.7`), "is not what the photos give when read again: readings[0].value was 4.7"},
		"the photo of a reading": {edited(readingPath, `"photo":"img_2.jpg","after_dip_s":64`, `"photo":"IMG 1.jpg","after_dip_s":64`),
			`readings[0].photo was "IMG 1.jpg", is "img_2.jpg"`},
		"the time of a reading": {edited(readingPath, `"photo":"img_2.jpg","after_dip_s":64`, `"photo":"img_2.jpg","after_dip_s":60`),
			"readings[0].after_dip_s was 60, is 64"},
		"in time":             {edited(readingPath, `"in_time":true`, `"in_time":false`), "readings[0].in_time was false, is true"},
		"a photo's hash":      {edited(readingPath, `"file":"img_2.jpg","sha256":"`, `"file":"img_2.jpg","sha256":"0`), "one_strip[1].sha256 was"},
		"a photo's name":      {edited(readingPath, `"file":"2-IMG 1.jpg"`, `"file":"3-IMG 1.jpg"`), `one_strip[2].file was "3-IMG 1.jpg"`},
		"photos exchanged":    {exchanged(first, third), "these marks are for another photo"},
		"a pad of a photo":    {edited("data/marks/img_2.marks.json", `"analyte": "nitrate"`, `"analyte": "pH"`), "cannot be read again: data/photo/img_2.jpg: "},
		"marks of the unread": {edited("data/marks/2-IMG-1.marks.json", "[[334.8, 423]", "[[336.8, 425]"), "data/report.html: is not the page"},
		"a photo taken out":   {func(files []bag.File) []bag.File { return leftOut(files, third) }, "data/marks/2-IMG-1.marks.json: is an extra file: the record has no photo"},
		"its marks taken out": {func(files []bag.File) []bag.File { return leftOut(files, "data/marks/2-IMG-1.marks.json") }, "is missing: each photo of a strip has its marks"},
		"both taken out":      {func(files []bag.File) []bag.File { return leftOut(files, third, "data/marks/2-IMG-1.marks.json") }, "is not what the photos give when read again: one_strip was"},
		"all but one": {func(files []bag.File) []bag.File {
			return leftOut(files, second, "data/marks/img_2.marks.json", third, "data/marks/2-IMG-1.marks.json")
		}, "data/photo/: holds 1 of the photos of one strip"},
		"marks of one photo": {func(files []bag.File) []bag.File {
			return append(files, bag.File{Name: marksPath, Data: m.Shots[0].Marks})
		}, "data/marks.json: is an extra file"},
		"another photo":         {replacedShot(t, second, "data/marks/img_2.marks.json", other), "one_strip[1].after_dip_s was 64, is 67 (and 3 more)"},
		"one photo twice":       {replacedShot(t, third, "data/marks/2-IMG-1.marks.json", m.Shots[1]), "are the same photo"},
		"a hash in words":       {edited("bag-info.txt", "  img_2.jpg", "  img_3.jpg"), "bag-info.txt: Photo-SHA-256 is"},
		"a time in words":       {edited("bag-info.txt", "img_2.jpg, 64 s", "img_2.jpg, 60 s"), `bag-info.txt: Photo-Of-Strip is "img_2.jpg, 60 s after the dip"`},
		"a photo more in words": {edited("bag-info.txt", "Photo-Position:", "Photo-Of-Strip: x.jpg, 5 s after the dip\nPhoto-Position:"), "of which the record's files say nothing"},
		"the page":              {edited(reportPath, "reads 10.0", "reads 4.7"), "data/report.html: is not the page"},
	} {
		t.Run(name, func(t *testing.T) {
			forged := sealed(f.change(copied(files)))
			got := strings.Join(faultsOf(checkReal(t, forged, m.Version)), "\n")
			assert.Contains(t, got, f.want)
			assert.Contains(t, got, SignaturePath+": does not fit")
		})
	}
}

// replacedShot puts another photo with its marks in the place of one.
func replacedShot(t *testing.T, photo, marks string, by Shot) func([]bag.File) []bag.File {
	return func(files []bag.File) []bag.File {
		fileOf(t, files, photo).Data, fileOf(t, files, marks).Data = by.Photo, by.Marks
		return files
	}
}

// Outlines of one photo that nobody has looked at keep the whole from being a record; who
// looked is said once where it is the same of all, and is checked.
func TestOneStripIsLookedAt(t *testing.T) {
	m, _ := oneStrip(t, nil, nil, func(m *charts.Marks) { m.Unchecked = true })
	files, err := m.Files()
	assert.ErrorIs(t, err, ErrUnchecked)
	assert.Empty(t, files)
	by := func(name string) func(*charts.Marks) {
		return func(m *charts.Marks) { m.Looked = &charts.Looked{By: name, At: "2026-11-14T09:02:00-05:00"} }
	}
	for want, changes := range map[string][]func(*charts.Marks){
		"by Ann, 2026-11-14T09:02:00-05:00; moved: none":                                                                       {by("Ann"), by("Ann"), by("Ann")},
		"IMG-1.jpg by Ann, 2026-11-14T09:02:00-05:00; moved: none; 2-IMG-1.jpg by Bob, 2026-11-14T09:02:00-05:00; moved: none": {by("Ann"), nil, by("Bob")},
	} {
		m, _ = oneStrip(t, changes...)
		files, err = m.Files()
		require.NoError(t, err)
		assert.Contains(t, string(fileOf(t, files, "bag-info.txt").Data), "\n"+labelLooked+": "+want+"\n")
		assert.Empty(t, faultsOf(checkReal(t, files, m.Version)))
		replaced("bag-info.txt", "by Ann", "by Eve")(t, files)
		assert.Contains(t, strings.Join(faultsOf(checkReal(t, sealed(files), m.Version)), "\n"), labelLooked+" is ")
	}
}

// What a person says of the strip holds for all photos and is read again; the light of
// one photo is not said of the others.
func TestOneStripIsDated(t *testing.T) {
	lamp := func(m *charts.Marks) { m.Sample.Light = charts.LampDaylight }
	m, results := oneStrip(t, lamp)
	assert.Empty(t, bag.Info(m.Facts).Get(labelLight))
	before := m.Shots
	require.NoError(t, m.DateStrip(results, strip.Ask{}))
	assert.Equal(t, before, m.Shots, "nothing new was said")

	m.Facts = FactsOfStrip(m.Joined, map[string]string{"dipped": "2026-11-14T08:40:08-05:00", "expires": "2026-01", "taken": "noon"})
	require.NoError(t, m.DateStrip(results, strip.Ask{}))
	assert.InDelta(t, 52, m.Joined.Photos[0].Seconds, 1e-9)
	for i, s := range m.Shots {
		marks, err := charts.ParseMarks(s.Marks)
		require.NoError(t, err)
		assert.Equal(t, "2026-11-14T08:40:08-05:00", marks.Sample.Dipped)
		assert.Equal(t, i == 0, marks.Sample.Light == charts.LampDaylight)
	}
	files, err := m.Files()
	require.NoError(t, err)
	assert.Empty(t, faultsOf(checkReal(t, files, m.Version)))
	assert.Contains(t, string(fileOf(t, files, readingPath).Data), `"expired"`)
	assert.Contains(t, string(fileOf(t, files, "bag-info.txt").Data), "\nPhoto-Taken: 2026-11-14T08:41:00-05:00\n")

	m.Facts = FactsOfStrip(m.Joined, map[string]string{"dipped": "2026-11-14T08:42:00-05:00"})
	assert.ErrorContains(t, m.DateStrip(results, strip.Ask{}), "before the dip")
}

// Two places of one strip are refused until somebody says which it is.
func TestOneStripHasOnePlace(t *testing.T) {
	m, _ := oneStrip(t, nil, func(m *charts.Marks) { m.Sample.Place = "Mill Lane 8" })
	_, err := m.Files()
	assert.EqualError(t, err, `the marks of the photos give the place as "Mill Lane 7" and as "Mill Lane 8", and one strip has one`)
	m.Facts = FactsOfStrip(m.Joined, map[string]string{"place": "Mill Lane 8"})
	_, err = m.Files()
	assert.NoError(t, err)
}

func TestTooManyPhotosOfOneStrip(t *testing.T) {
	assert.NoError(t, checkShots(MostShots, mostPixels))
	assert.EqualError(t, checkShots(MostShots+1, 0), "13 photos of one strip are too many; a record holds 12 at most")
	assert.EqualError(t, checkShots(2, mostPixels+1_000_000),
		"the photos have 201 megapixels together, and those of one record 200 at most; keep fewer of them")
}

// Names that would have one place, or marks of one place, are made distinct.
func TestNamesOfShots(t *testing.T) {
	assert.Equal(t, []string{"a.jpg", "2-A.JPG", "3-a.png", "b.jpg", "2-2-a.jpg"},
		distinct([]string{"a.jpg", "A.JPG", "a.png", "b.jpg", "2-a.jpg"}))
}

// A look over many records gives each reading the hash and the time of its own photo,
// also where only the marks know the time.
func TestSummaryOfOneStrip(t *testing.T) {
	m, _ := oneStrip(t)
	files, err := m.Files()
	require.NoError(t, err)
	s, err := summarise(bag.Memory(files))
	require.NoError(t, err)
	assert.Equal(t, "2026-11-14T08:41:00-05:00", s.Taken)
	require.Len(t, s.Readings, 3)
	for i, want := range []struct{ shot, taken string }{{"1", "2026-11-14T08:41:22-05:00"}, {"0", "2026-11-14T08:41:00-05:00"}} {
		one := s.For(s.Readings[i])
		assert.Equal(t, want.taken, one.Taken)
		assert.Equal(t, bag.Sum("sha256", m.Shots[int(want.shot[0]-'0')].Photo), one.Photo)
	}
	for i := range s.Strip {
		s.Strip[i].Taken = nil
	}
	assert.Equal(t, "2026-11-14T08:41:22-05:00", s.For(s.Readings[0]).Taken)

	_, err = HeldIn(bag.Memory(files), true)
	assert.ErrorContains(t, err, "3 photos of one strip are in it")
}
