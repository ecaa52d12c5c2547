package page

import (
	"bytes"
	"encoding/json"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip"
	"padband/charts"
)

// demoTaken are the times of the demonstration's photos, as their files hold them.
var demoTaken = map[string]string{"kitchen": "2026:11:14 08:41:10", "cellar": "2026:11:14 09:12:35"}

// Retimed is a photo of the demonstration as if taken at another time, which its file
// holds twice (DateTime and DateTimeOriginal); a time of blanks is not known (Exif 2.3;
// from memory).
func Retimed(t *testing.T, data []byte, of, when string) []byte {
	t.Helper()
	if when == "" {
		when = "    :  :     :  :  "
	}
	was := []byte(demoTaken[of])
	require.Equal(t, 2, bytes.Count(data, was))
	return bytes.ReplaceAll(data, was, []byte(when))
}

// shot uploads a photo of the demonstration, taken at a clock time on the day of the dip,
// and gives its work without the photo's hash.
func (r *run) shot(name, of, clock, with string) shotWork {
	r.t.Helper()
	when := ""
	if clock != "" {
		when = "2026:11:14 " + clock
	}
	status, body := r.post("api/photos?name="+name+"&of="+with, Retimed(r.t, demoFile(r.t, of+".jpg"), of, when))
	info := ok[PhotoInfo](r.t, status, body)
	marks := changed(r.t, demoFile(r.t, of+".marks.json"), func(m map[string]any) {
		delete(m, "photo")
		m["sample"] = map[string]any{"dipped": "2026-11-14T08:40:18-05:00"}
	})
	return shotWork{info.ID, marks}
}

// joined is the work of the first photo of a strip.
func (r *run) joined(shots ...shotWork) work {
	return work{Marks: shots[0].Marks, Chart: r.kitchen().Chart, Strip: shots}
}

func (r *run) told(now string, shots ...shotWork) stripAnswer {
	r.t.Helper()
	status, body := r.post("api/strip", stripWork{shots, r.kitchen().Chart, "2026-11-14T08:40:18-05:00", now})
	return ok[stripAnswer](r.t, status, body)
}

// Nitrate is read at 45 to 75 s, hardness and pH at 30 to 60 s after the dip at 08:40:18.
// The photos, of two samples in truth, are told apart by what they show.
func TestOneAnswerOfAStrip(t *testing.T) {
	r := start(t)
	a := r.shot("image.jpg", "cellar", "08:41:00", "")    // 42 s
	b := r.shot("image.jpg", "kitchen", "08:41:22", a.ID) // 64 s
	status, body := r.post("api/photos/"+b.ID+"/reading", work{Marks: b.Marks, Chart: r.kitchen().Chart, Strip: []shotWork{a, b}})
	got := ok[readingAnswer](t, status, body)
	assert.True(t, got.Complete)
	assert.Equal(t, []string{a.ID, b.ID}, got.Photos)
	assert.Contains(t, got.HTML, "From photo 2, taken 64 s after the dip; this pad is read at 45 to 75 s.")
	assert.Equal(t, 2, strings.Count(got.HTML, "From photo 1, taken 42 s after the dip; this pad is read at 30 to 60 s."))
	for i := range 3 {
		assert.Equal(t, 1, strings.Count(got.HTML, ` id="reading-`+string(rune('1'+i))+`"`))
	}
	assert.Contains(t, got.HTML, `src="api/photos/`+a.ID+`/part`)
	assert.Contains(t, got.HTML, `src="api/photos/`+b.ID+`/part`)
	var one struct {
		Readings []struct {
			Analyte, Photo string
			Value          float64
		}
	}
	require.NoError(t, json.Unmarshal([]byte(got.JSON), &one))
	require.Len(t, one.Readings, 3)
	assert.Equal(t, []string{"image-2.jpg", "image.jpg", "image.jpg"},
		[]string{one.Readings[0].Photo, one.Readings[1].Photo, one.Readings[2].Photo}, "phones name all photos alike")
	for i, of := range []shotWork{b, a, a} {
		status, body := r.post("api/photos/"+of.ID+"/reading", work{Marks: of.Marks, Chart: r.kitchen().Chart})
		var alone struct{ Readings []struct{ Value float64 } }
		require.NoError(t, json.Unmarshal([]byte(ok[readingAnswer](t, status, body).JSON), &alone))
		assert.InDelta(t, alone.Readings[i].Value, one.Readings[i].Value, 1e-9, one.Readings[i].Analyte)
	}

	status, body = r.post("api/photos/"+a.ID+"/shown", r.joined(a, b))
	text := ok[struct{ Text string }](t, status, body).Text
	assert.Contains(t, text, "Photo 2 (image-2.jpg), taken 2026-11-14 08:41:22")
	assert.Contains(t, text, "From photo 2, taken 64 s after the dip")
	assert.Contains(t, text, `src="data:image/`)
	assert.NotContains(t, text, "api/photos")

	status, body = r.post("api/photos/"+a.ID+"/save", r.joined(a, b))
	assert.Equal(t, []string{"image.marks.json", "image-2.marks.json", "image.strip.reading.json", "image.jpg", "image-2.jpg"},
		ok[struct{ Files []string }](t, status, body).Files)
	assert.Equal(t, got.JSON+"\n", string(read(t, r.folder, "image.strip.reading.json")))
	saved, err := charts.ParseMarks(read(t, r.folder, "image-2.marks.json"))
	require.NoError(t, err)
	assert.Equal(t, "2026-11-14T08:40:18-05:00", saved.Sample.Dipped)
}

// A photo that nobody has looked at, or that is not marked, is left out of the answer and
// named. With one photo left the answer is that photo's own.
func TestAStripWithPhotosThatAreNotReady(t *testing.T) {
	r := start(t)
	a, b := r.shot("a.jpg", "cellar", "08:41:00", ""), r.shot("b.jpg", "kitchen", "08:41:22", "1")
	bare := r.shot("c.jpg", "kitchen", "08:41:30", "1,2")
	bare.Marks = regionsOf(t, bare.Marks, func(string, string) bool { return false })
	status, body := r.post("api/photos/1/reading", r.joined(a, b, bare))
	got := ok[readingAnswer](t, status, body)
	assert.Equal(t, []string{"No pad is marked whole in photo 3 yet: it is left out of this answer."}, got.Left)
	assert.False(t, got.Complete)
	assert.Len(t, got.Photos, 2)

	b.Marks = changed(t, b.Marks, func(m map[string]any) { m["checked"] = false })
	status, body = r.post("api/photos/1/reading", r.joined(a, b))
	got = ok[readingAnswer](t, status, body)
	assert.Equal(t, []string{"Nobody has looked at the outlines of photo 2 yet: it is left out of this answer."}, got.Left)
	assert.Empty(t, got.Photos)
	assert.NotContains(t, got.HTML, "From photo")
	assert.Contains(t, got.HTML, `data-analyte="nitrate"`)
}

// An analyte whose pad is marked in one photo alone is not asked for in the other.
func TestAPadOfOnePhotoIsNotPendingInAnother(t *testing.T) {
	r := start(t)
	a, b := r.shot("a.jpg", "cellar", "08:41:00", ""), r.shot("b.jpg", "kitchen", "08:41:22", "1")
	a.Marks = regionsOf(t, a.Marks, func(_, analyte string) bool { return analyte != "nitrate" })
	status, body := r.post("api/photos/1/reading", r.joined(a, b))
	got := ok[readingAnswer](t, status, body)
	assert.Empty(t, got.Pending)
	assert.Contains(t, got.HTML, "From photo 2, taken 64 s")
}

// What cannot be of one strip is refused in the command's words, with the photos'
// numbers.
func TestPhotosThatAreNotOfOneStrip(t *testing.T) {
	r := start(t)
	now := "2026-11-14T08:42:00-05:00"
	a := r.shot("a.jpg", "cellar", "08:41:00", "")
	for want, of := range map[string]func() shotWork{
		"photo 1 (a.jpg) and photo 2 (again.jpg) are the same photo; name each photo once":                         func() shotWork { return r.shot("again.jpg", "cellar", "08:41:00", a.ID) },
		"photo 2 (early.jpg) was taken 18 s before the dip that the marks give; correct the time of the dip":       func() shotWork { return r.shot("early.jpg", "kitchen", "08:40:00", a.ID) },
		"when photo 2 (none.jpg) was taken is not known: the photo holds no time; give it in its marks":            func() shotWork { return r.shot("none.jpg", "kitchen", "", a.ID) },
		`photo 1 (a.jpg) and photo 2 (mill.jpg) show different charts, "orchard-well 3" and "mill-spring 1"; name`: func() shotWork { return otherChart(t, r.shot("mill.jpg", "kitchen", "08:41:22", a.ID)) },
	} {
		b := of()
		got := r.told(now, a, b)
		assert.Contains(t, got.Why, want)
		if got.Fault != strip.OtherChart { // whose marks the page cannot show
			status, body := r.post("api/photos/"+a.ID+"/reading", r.joined(a, b))
			assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, want)
		}
	}
	status, body := r.post("api/photos?name=x.jpg&of=1,2,3,4", demoFile(t, "kitchen.jpg"))
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "at most 4 photos")
	status, body = r.post("api/photos/"+a.ID+"/reading", r.joined(a, shotWork{"99", a.Marks}))
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer open")
}

func otherChart(t *testing.T, s shotWork) shotWork {
	t.Helper()
	s.Marks = changed(t, s.Marks, func(m map[string]any) { m["chart"], m["regions"] = "mill-spring", []any{} })
	return s
}

// The page tells by the clock which photos are still to be taken, and nothing of what is
// past.
func TestDuePhotosOfAStrip(t *testing.T) {
	r := start(t)
	none := r.told("2026-11-14T08:40:20-05:00")
	assert.Equal(t, []string{"Take a photo from 08:41:03 to 08:41:18, for nitrate, total hardness and pH."}, none.Due)
	assert.Equal(t, "2026-11-14T08:41:19-05:00", none.Until)
	a := r.shot("a.jpg", "cellar", "08:41:00", "")
	one := r.told("2026-11-14T08:41:10-05:00", a)
	assert.Equal(t, []string{"taken 08:41:00, 42 s after the dip"}, one.Photos)
	assert.Equal(t, []string{"Take a photo from 08:41:03 to 08:41:33, for nitrate."}, one.Due)
	late := r.told("2026-11-14T08:41:40-05:00", a)
	assert.Empty(t, late.Due)
	assert.False(t, late.InTime)
	assert.True(t, r.told("2026-11-14T08:41:40-05:00", a, r.shot("b.jpg", "kitchen", "08:41:22", a.ID)).InTime)
}

// The photos of a strip stay open while further ones are added to it; an older photo of
// another strip makes way.
func TestPhotosOfAStripStayOpen(t *testing.T) {
	r := start(t, "kitchen.jpg")
	var with []string
	for i := range photosKept {
		with = append(with, r.shot("image.jpg", "cellar", "08:41:0"+string(rune('0'+i)), strings.Join(with, ",")).ID)
		if i == 0 {
			r.shot("other.jpg", "kitchen", "08:50:00", "") // of another strip, and younger
		}
	}
	for _, other := range []string{"1", "3"} {
		status, _ := r.get("api/photos/" + other)
		assert.Equal(t, http.StatusNotFound, status)
	}
	var names []string
	for _, id := range with {
		status, body := r.get("api/photos/" + id)
		names = append(names, ok[PhotoInfo](t, status, body).Name)
	}
	assert.Equal(t, []string{"image.jpg", "image-2.jpg", "image-3.jpg", "image-4.jpg"}, names)
}

// All photos of a strip and the one answer from them are kept as one record, which
// verifies; outlines that nobody has looked at are no evidence.
func TestAStripIsKeptWhole(t *testing.T) {
	r := start(t)
	a, b := r.shot("image.jpg", "cellar", "08:41:00", ""), r.shot("image.jpg", "kitchen", "08:41:22", "1")
	w := keepWork{work: r.joined(a, b), Facts: map[string]string{"handling": "shaken off"}}
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, w))
	got := ok[keptAnswer](t, status, body)
	assert.Regexp(t, `^2026-11-14-[0-9a-f]{8}$`, got.Name)
	result, _ := verified(t, filepath.Join(r.folder, got.Name))
	assert.Zero(t, result.Faults())
	photos, err := filepath.Glob(filepath.Join(r.folder, got.Name, "data", "photo", "*"))
	require.NoError(t, err)
	require.Len(t, photos, 2)
	assert.Equal(t, Retimed(t, demoFile(t, "cellar.jpg"), "cellar", "2026:11:14 08:41:00"), read(t, r.folder, got.Name, "data", "photo", "image.jpg"))
	status, page := r.get(got.Report)
	require.Equal(t, http.StatusOK, status)
	assert.Contains(t, string(page), "image-2.jpg")

	b.Marks = changed(t, b.Marks, func(m map[string]any) { m["checked"] = false })
	w.work = r.joined(a, b)
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, w))
	refused(t, http.StatusUnprocessableEntity, status, body)
}
