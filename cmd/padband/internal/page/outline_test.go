package page

import (
	"encoding/json"
	"image"
	"image/color"
	"net/http"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/host"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// outlineAnswer is what the page gets of the outlines of a photo.
type outlineAnswer struct {
	Marks     json.RawMessage
	Questions []struct {
		Code, Text string
		Answers    []struct {
			Code, Text string
			Marks      json.RawMessage
		}
	}
	WhyNot string `json:"why_not"`
}

// seeing runs a page whose finder notes what it is shown, and gives one answer.
func seeing(t *testing.T, o outline.Outline) (r *run, seen *image.Image) {
	t.Helper()
	seen = new(image.Image)
	r = startWith(t, Config{Store: &host.Memory{}, Find: func(m image.Image, w, h int, c charts.Chart) outline.Outline {
		*seen = m
		assert.Equal(t, [2]int{2016, 1512}, [2]int{w, h})
		assert.Equal(t, "orchard-well", c.Name)
		return o
	}})
	return r, seen
}

// The finder is shown the small picture that the photo came with, upright. The photo is
// not decoded for it.
func TestOutlinesAreLookedForInTheSmallPicture(t *testing.T) {
	patch := colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: 100.123, Y: 50}, {X: 20, Y: 20}}}
	m := charts.Marks{Regions: []charts.Mark{{Role: charts.RolePad, Analyte: "nitrate", Part: 1, Region: patch}}}
	question := outline.Question{Code: outline.AskStripEnd, Answers: []outline.Answer{
		{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceWithout},
	}}
	r, seen := seeing(t, outline.Outline{Marks: &m, Questions: []outline.Question{question}})
	status, body := r.post("api/photos?name=kitchen.jpg", demoFile(t, "kitchen.jpg"))
	i := ok[PhotoInfo](t, status, body)
	o, found := r.page.photos.find(i.ID)
	require.True(t, found)
	whole := 0
	decode := o.whole
	o.whole = func() (*photo.Photo, error) { whole++; return decode() }
	status, body = r.post("api/photos/"+i.ID+"/outline", map[string]any{"chart": r.kitchen().Chart})
	got := ok[outlineAnswer](t, status, body)
	assert.Zero(t, whole, "the photo was decoded")
	require.NotNil(t, *seen)
	size := (*seen).Bounds()
	assert.LessOrEqual(t, size.Dx()*size.Dy(), foundPixels)
	assert.GreaterOrEqual(t, size.Dx(), 800)
	assert.InDelta(t, 4.0/3, float64(size.Dx())/float64(size.Dy()), 0.01)

	back, err := charts.ParseMarks(got.Marks)
	require.NoError(t, err)
	assert.True(t, back.Unchecked)
	assert.Nil(t, back.Looked)
	assert.Equal(t, charts.PhotoRef{Width: 2016, Height: 1512, SHA256: o.photo.Facts.SHA256}, back.Photo)
	assert.Equal(t, 100.1, back.Regions[0].Region.Points[0].X, "to a tenth of a pixel")
	assert.Equal(t, 100.123, patch.Points[0].X, "the finder's own stays")
	require.Len(t, got.Questions, 1)
	assert.NotEmpty(t, got.Questions[0].Text)
	require.Len(t, got.Questions[0].Answers, 2)
	assert.Equal(t, []string{"as-shown", "without"}, []string{got.Questions[0].Answers[0].Code, got.Questions[0].Answers[1].Code})
	first, err := charts.ParseMarks(got.Questions[0].Answers[0].Marks)
	require.NoError(t, err)
	assert.Equal(t, []string{"strip-end"}, back.Asked)
	assert.Empty(t, first.Asked, "the answer answers it")
	back.Asked = nil
	assert.Equal(t, back, first)
	assert.Empty(t, got.WhyNot)
}

// A photo whose every pixel was read is shown to the finder small.
func TestOutlinesOfALargePNG(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 2400, 1800))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	m.Set(10, 10, color.RGBA{200, 30, 30, 255})
	v := shown{picture: m, width: 2400, height: 1800}
	v.keep(true)
	assert.LessOrEqual(t, v.picture.Bounds().Dx()*v.picture.Bounds().Dy(), foundPixels)
	assert.Greater(t, v.picture.Bounds().Dx()*v.picture.Bounds().Dy(), foundPixels*9/10)
	v.keep(false)
	assert.Nil(t, v.picture)
}

// A page without a finder says so, keeps no picture for it, and finds nothing.
func TestNoOutlinesAreLookedFor(t *testing.T) {
	r := start(t, "kitchen.jpg")
	_, body := r.get("api/start")
	assert.Contains(t, string(body), `"finds":false`)
	o := r.page.photos.first()
	assert.Nil(t, o.preview.picture)
	status, body := r.post("api/photos/"+o.id+"/outline", map[string]any{"chart": r.kitchen().Chart})
	got := ok[outlineAnswer](t, status, body)
	assert.Equal(t, "null", string(got.Marks))
	assert.Empty(t, got.Questions)
}

// Why nothing was found is said, and a call that is wrong is refused in one line.
func TestWhyThereAreNoOutlines(t *testing.T) {
	r, _ := seeing(t, outline.Outline{Why: outline.Why{Code: outline.WhyRows, Found: 1, Wanted: 3}})
	status, body := r.post("api/photos?name=kitchen.jpg", demoFile(t, "kitchen.jpg"))
	at := "api/photos/" + ok[PhotoInfo](t, status, body).ID + "/outline"
	_, body = r.get("api/start")
	assert.Contains(t, string(body), `"finds":true`)
	status, body = r.post(at, map[string]any{"chart": r.kitchen().Chart})
	got := ok[outlineAnswer](t, status, body)
	assert.Equal(t, "null", string(got.Marks))
	assert.Contains(t, got.WhyNot, "1 row was found, and the chart has 3")
	status, body = r.post("api/photos/77/outline", map[string]any{"chart": r.kitchen().Chart})
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer open")
	for _, wrong := range []string{`{}`, `{"chart": {"chart": "x"}}`} {
		status, body = r.post(at, []byte(wrong))
		refused(t, http.StatusUnprocessableEntity, status, body)
	}
	r.works()
}

// Outlines that nobody has looked at are kept in no record. Once somebody has, the record
// says who and when.
func TestOnlyOutlinesThatWereLookedAtAreKept(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.keeping()
	marks := w.Marks
	w.Marks = changed(t, marks, func(m map[string]any) { m["checked"] = false })
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, w))
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "nobody has looked at the outlines")
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	w.Marks = changed(t, marks, func(m map[string]any) {
		m["looked"] = map[string]any{"by": "A. Reader", "at": "2026-11-14T09:00:00-05:00", "moved": []string{"pad pH"}}
	})
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, w))
	res, _ := verified(t, filepath.Join(r.folder, ok[keptAnswer](t, status, body).Name))
	assert.Equal(t, "by A. Reader, 2026-11-14T09:00:00-05:00; moved: pad pH", res.Info.Get("Outlines-Looked-At"))
}

// A further photo of a strip is looked at with what an earlier one tells, when that is
// still open and the marks are its own.
func TestOutlinesAreCarriedFromAnEarlierPhoto(t *testing.T) {
	var carried []outline.Earlier
	found := 0
	r := startWith(t, Config{Store: &host.Memory{}, Find: func(image.Image, int, int, charts.Chart) outline.Outline {
		found++
		return outline.Outline{}
	}, Carry: func(seen image.Image, w, h int, c charts.Chart, earlier outline.Earlier) outline.Outline {
		assert.NotNil(t, seen)
		assert.NotSame(t, seen, earlier.Seen)
		carried = append(carried, earlier)
		return outline.Outline{}
	}})
	a, b := r.shot("a.jpg", "cellar", "08:41:00", ""), r.shot("b.jpg", "kitchen", "08:41:22", "1")
	look := func(earlier *shotWork) {
		status, body := r.post("api/photos/"+b.ID+"/outline", map[string]any{"chart": r.kitchen().Chart, "earlier": earlier})
		ok[outlineAnswer](t, status, body)
	}
	look(&a)
	require.Len(t, carried, 1)
	assert.Equal(t, [2]int{2016, 1512}, [2]int{carried[0].Width, carried[0].Height})
	assert.NotNil(t, carried[0].Seen)
	assert.Len(t, carried[0].Marks.Corners, 4)
	another := changed(t, a.Marks, func(m map[string]any) { m["photo"] = map[string]any{"width": 20, "height": 10} })
	for _, other := range []*shotWork{nil, {"99", a.Marks}, {a.ID, []byte(`{}`)}, {a.ID, another}} {
		look(other)
	}
	assert.Len(t, carried, 1)
	assert.Equal(t, 4, found, "otherwise it is looked at by itself")
}
