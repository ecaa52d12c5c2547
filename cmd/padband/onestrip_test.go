package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
)

// shots are photos of the demonstration in one folder, taken at other times: each is
// called by its name, and its marks are changed. The dip was at 08:40:18.
type shots struct {
	t   *testing.T
	dir string
}

// put writes a photo of the demonstration as if taken at a clock time such as 08:41:00.
// The file holds its time twice, as Exif has it (DateTime and DateTimeOriginal); a time
// of blanks is not known (Exif 2.3; from memory).
func (s shots) put(name, of, clock string, change func(*charts.Marks)) string {
	s.t.Helper()
	data, err := os.ReadFile(filepath.Join(demo, of+".jpg"))
	require.NoError(s.t, err)
	was := []byte("2026:11:14 " + map[string]string{"kitchen": "08:41:10", "cellar": "09:12:35"}[of])
	require.Equal(s.t, 2, bytes.Count(data, was))
	now := "2026:11:14 " + clock
	if clock == "" {
		now = "    :  :     :  :  "
	}
	data = bytes.ReplaceAll(data, was, []byte(now))
	file := filepath.Join(s.dir, name)
	write(s.t, file, data)
	text, err := os.ReadFile(filepath.Join(demo, of+".marks.json"))
	require.NoError(s.t, err)
	m, err := charts.ParseMarks(text)
	require.NoError(s.t, err)
	sum := sha256.Sum256(data)
	m.Photo.SHA256, m.Sample.Taken = hex.EncodeToString(sum[:]), ""
	if change != nil {
		change(&m)
	}
	text, err = m.Encode()
	require.NoError(s.t, err)
	write(s.t, strings.TrimSuffix(file, ".jpg")+".marks.json", text)
	return file
}

// undipped takes the time of the dip from the marks.
func undipped(m *charts.Marks) { m.Sample.Dipped = "" }

// stripAnswer is what a test looks at of the one object.
type stripAnswer struct {
	OneStrip []struct {
		File  string  `json:"file"`
		After float64 `json:"after_dip_s"`
	} `json:"one_strip"`
	Readings []struct {
		Analyte  string                  `json:"analyte"`
		Value    float64                 `json:"value"`
		Photo    string                  `json:"photo"`
		InTime   bool                    `json:"in_time"`
		Warnings []struct{ Code string } `json:"warnings"`
	} `json:"readings"`
}

// Nitrate is read at 45 to 75 s, hardness and pH at 30 to 60 s. The photos, of two
// samples in truth, are told apart by what they show.
func TestReadOneStrip(t *testing.T) {
	s := shots{t, t.TempDir()}
	a := s.put("a.jpg", "cellar", "08:41:00", undipped) // 42 s
	b := s.put("b.jpg", "kitchen", "08:41:22", nil)     // 64 s
	value := func(of, analyte string) float64 {
		code, out, errOut := call("read", "--json", "--analyte", analyte, filepath.Join(demo, of+".jpg"))
		require.Equal(t, exitOK, code, errOut)
		var r stripAnswer
		require.NoError(t, json.Unmarshal([]byte(out), &r))
		return r.Readings[0].Value
	}
	code, out, errOut := call("read", "--one-strip", "--json", b, a)
	require.Equal(t, exitOK, code, errOut)
	assert.Empty(t, errOut)
	require.Equal(t, 1, strings.Count(out, "\n"))
	var r stripAnswer
	require.NoError(t, json.Unmarshal([]byte(out), &r))
	require.Len(t, r.OneStrip, 2)
	assert.Equal(t, "a.jpg", r.OneStrip[0].File)
	assert.InDelta(t, 42, r.OneStrip[0].After, 1e-9)
	assert.InDelta(t, 64, r.OneStrip[1].After, 1e-9)
	require.Len(t, r.Readings, 3)
	for i, want := range []struct{ analyte, photo, of string }{
		{"nitrate", "b.jpg", "kitchen"}, {"total hardness", "a.jpg", "cellar"}, {"pH", "a.jpg", "cellar"},
	} {
		x := r.Readings[i]
		assert.Equal(t, want.photo, x.Photo, want.analyte)
		assert.InDelta(t, value(want.of, want.analyte), x.Value, 1e-9, want.analyte)
		assert.True(t, x.InTime)
	}
	_, turned, _ := call("read", "--one-strip", "--json", a, b)
	assert.Equal(t, out, turned)

	code, text, errOut := call("read", "--one-strip", a, b)
	require.Equal(t, exitOK, code, errOut)
	assert.True(t, strings.HasPrefix(text, "2 photos of one strip, read against"), text)
	assert.Contains(t, text, "\n  From b.jpg, taken 64 s after the dip; this pad is read at 45 to 75 s.\n")
	assert.Contains(t, text, "\nThe photo a.jpg\n")
	assert.Contains(t, text, "certified laboratory")
	for _, l := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(l)), 80, l)
	}
}

// Where no photo is in time the nearest is taken, and its reading tells so; past twice
// its time a pad is of no use.
func TestReadOneStripOutOfTime(t *testing.T) {
	s := shots{t, t.TempDir()}
	a := s.put("a.jpg", "kitchen", "08:40:28", nil)      // 10 s
	b := s.put("b.jpg", "kitchen", "08:43:00", undipped) // 162 s
	code, out, errOut := call("read", "--one-strip", "--json", a, b)
	require.Equal(t, exitOK, code, errOut)
	var r stripAnswer
	require.NoError(t, json.Unmarshal([]byte(out), &r))
	for _, x := range r.Readings {
		assert.Equal(t, "a.jpg", x.Photo)
		assert.False(t, x.InTime)
		require.NotEmpty(t, x.Warnings)
		assert.Equal(t, "early", x.Warnings[0].Code)
	}
	_, text, _ := call("read", "--one-strip", a, b)
	assert.Contains(t, strings.Join(strings.Fields(text), " "),
		"No photo is in time for this pad, which is read at 45 to 75 s. From the nearest: a.jpg, taken 10 s after the dip.")
	c := s.put("c.jpg", "kitchen", "08:44:00", undipped)
	other := s.put("d.jpg", "kitchen", "08:45:00", nil)
	code, _, _ = call("read", "--one-strip", "--strict", c, other)
	assert.Equal(t, exitUnreliable, code) // 222 s: more than twice the 75 s
	code, _, _ = call("read", "--one-strip", "--strict", a, b)
	assert.Equal(t, exitOK, code)
}

// Each slip is one line on standard error, and nothing is printed.
func TestReadOneStripSlips(t *testing.T) {
	s := shots{t, t.TempDir()}
	a := s.put("a.jpg", "kitchen", "08:41:00", nil)
	b := s.put("b.jpg", "cellar", "08:41:22", undipped)
	bare := s.put("bare.jpg", "kitchen", "08:41:30", undipped)
	timeless := s.put("timeless.jpg", "kitchen", "", undipped)
	dipped := s.put("dipped.jpg", "kitchen", "08:41:40", func(m *charts.Marks) { m.Sample.Dipped = "2026-11-14T08:40:28-05:00" })
	lot := s.put("lot.jpg", "kitchen", "08:41:45", func(m *charts.Marks) { m.Sample.Kit.Lot = "OW-1" })
	apart := shots{t, t.TempDir()} // a chart file beside a photo is the chart of all photos there
	other := apart.put("other.jpg", "kitchen", "08:41:50", nil)
	file, err := os.ReadFile("../../charts/bundled/orchard-well.chart.json")
	require.NoError(t, err)
	write(t, filepath.Join(apart.dir, "other.chart.json"), bytes.Replace(file, []byte(`"version": "3"`), []byte(`"version": "4"`), 1))
	for want, photos := range map[string][]string{
		"the same photo; name each photo once":                                     {a, b, a},
		`a.jpg and other.jpg show different charts, "orchard-well 3" and "orchard`: {a, other},
		"when the strip was dipped is not known":                                   {b, bare},
		"when timeless.jpg was taken is not known":                                 {a, timeless},
		"the marks of a.jpg and dipped.jpg give the time of the dip (sample.dip":   {a, dipped},
		"the marks of a.jpg and lot.jpg give the kit's lot (sample.kit.lot)":       {a, lot},
		"none.jpg: there is no such file":                                          {a, filepath.Join(s.dir, "none.jpg")},
	} {
		assert.Contains(t, refused(t, append([]string{"read", "--one-strip"}, photos...)...), want)
	}
	for want, args := range map[string][]string{
		"--one-strip takes two photos or more":                  {a},
		"--one-strip takes each pad from one photo, and --pool": {"--pool", a, b},
		"--analyte does not go with --one-strip":                {"--analyte", "pH", a, b},
	} {
		code, out, errOut := call(append([]string{"read", "--one-strip"}, args...)...)
		assert.Equal(t, exitUsage, code, want)
		assert.Empty(t, out)
		assert.Contains(t, errOut, want)
	}
}

// A photo without marks is read on what is found in it, by the chart of the others, and
// its readings say that nobody looked; where something is asked nothing is read. Nothing
// is written beside the photos.
func TestReadOneStripOutlines(t *testing.T) {
	s := shots{t, t.TempDir()}
	a := s.put("a.jpg", "kitchen", "08:41:00", nil)
	b := s.put("b.jpg", "kitchen", "08:41:22", nil)
	require.NoError(t, os.Remove(filepath.Join(s.dir, "b.marks.json")))
	m := demoOutline(t)
	code, out, errOut := callFinding(finds(outline.Outline{Marks: &m}), "read", "--one-strip", "--json", b, a)
	require.Equal(t, exitOK, code, errOut)
	var r stripAnswer
	require.NoError(t, json.Unmarshal([]byte(out), &r))
	require.Len(t, r.Readings, 3)
	for i, want := range []struct {
		photo     string
		unchecked bool
	}{{"b.jpg", true}, {"a.jpg", false}, {"a.jpg", false}} {
		codes := ""
		for _, w := range r.Readings[i].Warnings {
			codes += w.Code + " "
		}
		assert.Equal(t, want.photo, r.Readings[i].Photo)
		assert.Equal(t, want.unchecked, strings.Contains(codes, "marks-unchecked"), codes)
	}
	assert.Equal(t, 1, strings.Count(out, `"marks_unchecked":true`))
	left, err := os.ReadDir(s.dir)
	require.NoError(t, err)
	assert.Len(t, left, 3, "two photos and the marks of one")

	asked := outline.Outline{Marks: &m, Questions: []outline.Question{{Code: outline.AskStripEnd, Answers: []outline.Answer{
		{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceNone, Marks: m}}}}}
	code, out, errOut = callFinding(finds(asked), "read", "--one-strip", a, b)
	assert.Equal(t, exitError, code)
	assert.Empty(t, out)
	assert.Contains(t, errOut, "b.jpg: its outlines are to be looked at first, with padband mark ")

	require.NoError(t, os.Remove(filepath.Join(s.dir, "a.marks.json")))
	code, out, errOut = callFinding(finds(outline.Outline{Marks: &m}), "read", "--one-strip", a, b)
	assert.Equal(t, exitError, code)
	assert.Empty(t, out)
	assert.Contains(t, errOut, "a.jpg: which chart it shows is not known")
}

// The outlines of a photo without marks are carried from the photo that somebody looked
// at; marks that nobody looked at, or that leave something open, tell nothing of it.
func TestReadOneStripCarriesMarks(t *testing.T) {
	m := demoOutline(t)
	for name, c := range map[string]struct {
		change  func(*charts.Marks)
		carried int
	}{
		"looked at": {nil, 1},
		"unchecked": {func(m *charts.Marks) { m.Unchecked = true }, 0},
		"open":      {func(m *charts.Marks) { m.Asked = []string{"direction"} }, 0},
	} {
		s := shots{t, t.TempDir()}
		a := s.put("a.jpg", "kitchen", "08:41:00", c.change)
		b := s.put("b.jpg", "kitchen", "08:41:22", nil)
		require.NoError(t, os.Remove(filepath.Join(s.dir, "b.marks.json")))
		found, carried := 0, 0
		var out, errOut bytes.Buffer
		e := env{in: strings.NewReader(""), out: &out, err: &errOut}
		e.finder = func(image.Image, int, int, charts.Chart) outline.Outline {
			found++
			return outline.Outline{Marks: &m}
		}
		e.carry = func(seen image.Image, width, height int, chart charts.Chart, earlier outline.Earlier) outline.Outline {
			carried++
			assert.Equal(t, seen.Bounds(), earlier.Seen.Bounds())
			assert.Equal(t, []int{width, height}, []int{earlier.Width, earlier.Height})
			assert.Len(t, earlier.Marks.Corners, 4)
			assert.Equal(t, "orchard-well", chart.Name)
			return outline.Outline{Marks: &m}
		}
		require.Equal(t, exitOK, e.dispatch([]string{"read", "--one-strip", "--json", b, a}), errOut.String())
		assert.Equal(t, []int{c.carried, 1 - c.carried}, []int{carried, found}, name)
		assert.Contains(t, out.String(), `"marks_unchecked":true`)
	}
}
