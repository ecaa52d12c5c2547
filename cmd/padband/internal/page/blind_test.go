package page

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// blindRun is a page of blind calls under test, with a clock of its own.
type blindRun struct {
	run
	blind *Blind
	clock time.Time
	file  string
}

// demoPhotos are the two demonstration photos.
func demoPhotos(t *testing.T) (out []BlindPhoto) {
	t.Helper()
	chart, ok := charts.Find("orchard-well")
	require.True(t, ok)
	for _, name := range []string{"cellar", "kitchen"} {
		m, err := charts.ParseMarks(demoFile(t, name+".marks.json"))
		require.NoError(t, err)
		out = append(out, BlindPhoto{Sample: name, Marks: m, Chart: chart, Read: func() ([]byte, error) { return os.ReadFile(demo + name + ".jpg") }})
	}
	return out
}

// blindConfig is that of the demonstration, in a fresh folder.
func blindConfig(t *testing.T) BlindConfig {
	return BlindConfig{Photos: demoPhotos(t), Reader: "A. Reader", File: filepath.Join(t.TempDir(), "calls.csv"), Seed: 7}
}

func startBlind(t *testing.T, c BlindConfig) *blindRun {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	c.Hosts = []string{server.Listener.Addr().String()}
	b, err := NewBlind(c)
	require.NoError(t, err)
	server.Config.Handler = b
	server.Start()
	t.Cleanup(server.Close)
	r := &blindRun{run: run{t, b.Server, server, filepath.Dir(c.File)}, blind: b, clock: time.Unix(1_800_000_000, 0), file: c.File}
	b.now = func() time.Time { return r.clock }
	return r
}

func (r *blindRun) state() blindState {
	r.t.Helper()
	status, body := r.get("api/pad")
	return ok[blindState](r.t, status, body)
}

// show says that the pad is on the screen, and lets time pass.
func (r *blindRun) show(at int, for_ time.Duration) {
	r.t.Helper()
	status, body := r.post(fmt.Sprintf("api/pads/%d/shown", at), struct{}{})
	require.Equal(r.t, http.StatusOK, status, "%s", body)
	r.clock = r.clock.Add(for_)
}

// send makes a call.
func (r *blindRun) send(at int, c blindCall) (int, []byte) {
	r.t.Helper()
	return r.post(fmt.Sprintf("api/pads/%d/call", at), c)
}

// withoutPictures makes a run quick that looks at none.
func (r *blindRun) withoutPictures() *blindRun {
	r.blind.ready.make = func(blindPad) prepared { return prepared{} }
	return r
}

// make shows the pad whose turn it is and calls the swatch of an index.
func (r *blindRun) make(swatch int) blindState {
	r.t.Helper()
	s := r.state()
	r.show(s.At, 2*time.Second)
	status, body := r.send(s.At, blindCall{Kind: "swatch", Value: &s.Pad.Swatches[swatch].Value})
	return ok[blindState](r.t, status, body)
}

func (r *blindRun) text() string {
	r.t.Helper()
	data, err := os.ReadFile(r.file)
	require.NoError(r.t, err)
	return string(data)
}

// The order is that of the hashes, worked out with another program:
// printf '7\000cellar\000nitrate' | sha256sum (GNU coreutils), and so on.
func TestBlindOrderIsThatOfTheSeed(t *testing.T) {
	pads, err := padsOf(demoPhotos(t), "")
	require.NoError(t, err)
	require.Len(t, pads, 6)
	named := func(seed uint64, pads []blindPad) (out []string) {
		for _, p := range shuffled(pads, seed) {
			out = append(out, p.Sample+" "+p.analyte.Name)
		}
		return out
	}
	want := []string{"kitchen total hardness", "cellar total hardness", "cellar pH", "kitchen nitrate", "cellar nitrate", "kitchen pH"}
	assert.Equal(t, want, named(7, pads))
	turned := []blindPad{pads[5], pads[3], pads[0], pads[4], pads[2], pads[1]}
	assert.Equal(t, want, named(7, turned), "whatever order the pads come in")
	assert.Equal(t, setOf(pads), setOf(turned))
	assert.NotEqual(t, want, named(8, pads))
	assert.NotEqual(t, setOf(pads), setOf(pads[1:]))
	assert.Equal(t, []string{"cellar nitrate", "cellar total hardness", "cellar pH"}, []string{
		pads[0].Sample + " " + pads[0].analyte.Name, pads[1].Sample + " " + pads[1].analyte.Name, pads[2].Sample + " " + pads[2].analyte.Name}, "they are left as they were")
}

// Every one of six orders of three comes about as often: no seed favours a pad.
// With 6,000 seeds a count has a standard deviation of sqrt(6000 x 1/6 x 5/6) = 29.
func TestBlindOrderFavoursNone(t *testing.T) {
	pads, err := padsOf(demoPhotos(t)[:1], "")
	require.NoError(t, err)
	count := map[string]int{}
	for seed := uint64(1); seed <= 6000; seed++ {
		o := shuffled(pads, seed)
		count[o[0].analyte.Name+o[1].analyte.Name]++
	}
	require.Len(t, count, 6)
	for name, n := range count {
		assert.InDelta(t, 1000, n, 5*29, name)
	}
}

// What a run with no seed draws is kept, and another run draws another.
func TestBlindSeedIsDrawnAndKept(t *testing.T) {
	seeds := map[string]bool{}
	for range 3 {
		c := blindConfig(t)
		c.Seed = 0
		r := startBlind(t, c)
		m := regexp.MustCompile(`^# padband blind calls, format 1, seed ([1-9][0-9]{0,8}), set [0-9a-f]{16}, from a screen, reader A\. Reader\n`).FindStringSubmatch(r.text())
		require.NotNil(t, m, r.text())
		seeds[m[1]] = true
		again := startBlind(t, c)
		assert.Equal(t, m[1], strconv.FormatUint(again.blind.calls.head.seed, 10))
	}
	assert.Greater(t, len(seeds), 1)
}

// A whole run: every kind of call, timed by the server's clock, in a file that
// can be read as a table of calls.
func TestBlindCallsAreKept(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	value := func(v float64) *float64 { return &v }
	calls := map[string][]blindCall{
		"nitrate":        {{Kind: "between", Value: value(7)}, {Kind: "above"}},
		"total hardness": {{Kind: "number", Text: " 62,5 "}, {Kind: "none", Text: "a drop\n lies on it"}},
		"pH":             {{Kind: "below"}, {Kind: "swatch", Value: value(7.6)}},
	}
	want := map[string][]string{
		"nitrate": {"7-12", ">25"}, "total hardness": {"62.5", ""}, "pH": {"<5.8", "7.6"},
	}
	text := r.text()
	for k := range 6 {
		s := r.state()
		require.NotNil(t, s.Pad)
		a := s.Pad.Analyte
		r.show(k, time.Duration(k+1)*1250*time.Millisecond)
		status, body := r.send(k, calls[a][0])
		next := ok[blindState](t, status, body)
		assert.Equal(t, k+1, next.At)
		p := r.blind.pads[k]
		why := map[bool]string{true: "a drop lies on it"}[want[a][0] == ""]
		text += fmt.Sprintf("%s,A. Reader,%s,%s,%s,%s,,,screen,%.1f,%s\n", p.Sample, want[a][0], a, p.analyte.Unit, p.analyte.As, float64(k+1)*1.25, why)
		assert.Equal(t, text, r.text(), "each is kept at once, and the ones before are left")
		calls[a], want[a] = calls[a][1:], want[a][1:]
	}
	end := r.state()
	assert.Equal(t, blindState{Reader: "A. Reader", At: 6, Of: 6, Back: true, Begun: true, File: "calls.csv"}, end, "nothing but the number")
	assert.True(t, strings.HasPrefix(text[strings.Index(text, "\n")+1:], "sample,reader,value,analyte,unit,as,strip,seconds,source,call_seconds,why\n"))
	status, body := r.send(6, blindCall{Kind: "none", Text: "x"})
	refused(t, http.StatusConflict, status, body)
}

// Seconds from the dip to the photo and the strip go along when the marks have them.
func TestBlindRowsHaveTheStripAndItsSeconds(t *testing.T) {
	c := blindConfig(t)
	c.Photos = c.Photos[1:]
	c.Photos[0].Marks.Sample.Dipped = "2026-11-14T08:40:15-05:00" // the photo was taken at 08:41:10
	c.Photos[0].Marks.Sample.Strip = "=12"
	c.Analyte = "PH"
	r := startBlind(t, c)
	r.make(0)
	assert.Contains(t, r.text(), "\nkitchen,A. Reader,5.8,pH,pH,,'=12,55,screen,2.0,\n")
}

// No call is taken twice, too early, for another pad, or of a kind that the pad
// does not have; nothing is written then.
func TestBlindCallsThatAreRefused(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	before := r.text()
	v, odd := r.state().Pad.Swatches[0].Value, 1e9
	good := blindCall{Kind: "swatch", Value: &v}
	status, body := r.send(0, good)
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "not on the screen yet")
	r.show(0, time.Second)
	for _, at := range []int{1, 2, -1, 99} {
		status, body = r.send(at, good)
		refused(t, http.StatusConflict, status, body)
	}
	for _, c := range []blindCall{
		{}, {Kind: "swatch"}, {Kind: "swatch", Value: &odd}, {Kind: "between", Value: &odd}, {Kind: "number"}, {Kind: "number", Text: "7 mg"}, {Kind: "number", Text: "-1"},
		{Kind: "number", Text: "1e1"}, {Kind: "number", Text: "99999"}, {Kind: "number", Text: "NaN"}, {Kind: "number", Text: "1,250"}, {Kind: "none"}, {Kind: "none", Text: " \n"}, {Kind: "none", Text: strings.Repeat("x", 151)}, {Kind: "answer"},
	} {
		status, body = r.send(0, c)
		refused(t, http.StatusUnprocessableEntity, status, body)
	}
	for _, text := range []string{"", "[]", `{"kind":"above","at":1}`, `{"kind":"above"} {}`} {
		status, body = r.post("api/pads/0/call", []byte(text))
		refused(t, http.StatusBadRequest, status, body)
	}
	assert.Equal(t, before, r.text())
	for i, want := range []int{http.StatusOK, http.StatusConflict, http.StatusConflict} {
		status, _ = r.send(0, good)
		assert.Equal(t, want, status, "press %d", i+1)
	}
	assert.Equal(t, strings.Count(before, "\n")+1, strings.Count(r.text(), "\n"), "one row for one call")
}

// Many presses at once make one row.
func TestBlindPressesAtOnce(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	v := r.state().Pad.Swatches[0].Value
	r.show(0, time.Second)
	taken := make(chan int, 16)
	for range cap(taken) {
		go func() {
			w := httptest.NewRecorder()
			q := httptest.NewRequest("POST", r.url("api/pads/0/call"), strings.NewReader(fmt.Sprintf(`{"kind":"swatch","value":%g}`, v)))
			r.blind.ServeHTTP(w, q)
			taken <- w.Code
		}()
	}
	codes := map[int]int{}
	for range cap(taken) {
		codes[<-taken]++
	}
	assert.Equal(t, map[int]int{http.StatusOK: 1, http.StatusConflict: 15}, codes)
	assert.Equal(t, 3, strings.Count(r.text(), "\n"))
}

// A presence pad takes its swatches or none.
func TestBlindPresence(t *testing.T) {
	a := charts.Analyte{Name: "nitrite", Kind: charts.KindPresence, Swatches: []charts.Swatch{{Value: 0, Label: "no"}, {Value: 0.4, Label: "yes"}}}
	zero := 0.0
	for _, c := range []blindCall{{Kind: "between", Value: &zero}, {Kind: "number", Text: "0.2"}, {Kind: "above"}, {Kind: "below"}} {
		_, _, err := c.take(a)
		assert.ErrorIs(t, err, errOddCall, c.Kind)
	}
	v, _, err := blindCall{Kind: "swatch", Value: &a.Swatches[1].Value}.take(a)
	require.NoError(t, err)
	assert.Equal(t, "0.4", v)
	assert.Equal(t, []blindSwatch{{0, "no"}, {0.4, "yes"}}, viewOf(a).Swatches)
	assert.Equal(t, []blindSwatch{{3, "3"}, {7, "7 (6-9)"}, {12, "12, high"}}, viewOf(charts.Analyte{Swatches: []charts.Swatch{{Value: 3}, {Value: 7, Label: "7 (6-9)"}, {Value: 12, Label: "high"}}}).Swatches)
}

// Below a chart that begins at 0 there is nothing to call.
func TestBlindBelowZero(t *testing.T) {
	a := charts.Analyte{Name: "nitrate", Kind: charts.KindScale, Swatches: []charts.Swatch{{Value: 0}, {Value: 1}}}
	_, _, err := blindCall{Kind: "below"}.take(a)
	assert.ErrorIs(t, err, errOddCall)
	one := 1.0
	_, _, err = blindCall{Kind: "between", Value: &one}.take(a)
	assert.ErrorIs(t, err, errOddCall, "nothing lies beyond the last")
}

// The last call can be taken back, once, and its time goes on.
func TestBlindBack(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	status, body := r.post("api/back", struct{}{})
	refused(t, http.StatusConflict, status, body)
	r.make(0)
	one := r.text()
	r.make(1)
	status, body = r.post("api/back", struct{}{})
	s := ok[blindState](t, status, body)
	assert.Equal(t, 1, s.At)
	assert.False(t, s.Back)
	assert.Equal(t, one, r.text())
	status, body = r.post("api/back", struct{}{})
	assert.Contains(t, refused(t, http.StatusConflict, status, body).Error, "only once")
	assert.Equal(t, one, r.text())
	r.clock = r.clock.Add(time.Hour) // not on the screen
	r.make(2)
	assert.Regexp(t, `,screen,4\.0,\n$`, r.text(), "2 seconds before and 2 after")
	r.make(0)
	assert.Regexp(t, `,screen,2\.0,\n$`, r.text())
}

// The time of a pad that is shown again, in a page loaded anew, goes on.
func TestBlindClockGoesOnWhenThePageIsLoadedAgain(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	assert.False(t, r.state().Begun)
	r.show(0, 3*time.Second)
	assert.True(t, r.state().Begun)
	r.make(0)
	assert.Regexp(t, `,screen,5\.0,\n$`, r.text())
}

var callTimes = regexp.MustCompile(`,screen,[0-9.]+,`)

// Ended after any call, the run goes on where it was: the file at the end is,
// but for times, that of a run that was never ended.
func TestBlindGoesOnAfterAKill(t *testing.T) {
	whole := startBlind(t, blindConfig(t)).withoutPictures()
	for k := range 6 {
		whole.make(k % 3)
	}
	want := callTimes.ReplaceAllString(whole.text(), ",screen,,")
	for kill := range 7 {
		c := blindConfig(t)
		r := startBlind(t, c).withoutPictures()
		for k := range kill {
			r.make(k % 3)
		}
		r.server.Close() // nothing is told to the run; what is not in the file is lost
		c.Seed = uint64(7 * (kill % 2))
		r = startBlind(t, c).withoutPictures()
		made, of := r.blind.Calls()
		assert.Equal(t, []int{kill, 6}, []int{made, of})
		for k := kill; k < 6; k++ {
			r.make(k % 3)
		}
		assert.Equal(t, want, callTimes.ReplaceAllString(r.text(), ",screen,,"), "ended after %d calls", kill)
		entries, err := os.ReadDir(filepath.Dir(c.File))
		require.NoError(t, err)
		assert.Len(t, entries, 1, "no passing file stays")
	}
}

// A file that is not of this run is left as it is, and one line says why.
func TestBlindFilesThatDoNotFit(t *testing.T) {
	c := blindConfig(t)
	r := startBlind(t, c).withoutPictures()
	r.make(0)
	r.make(1)
	good := r.text()
	lines := strings.SplitAfter(good, "\n")
	for want, change := range map[string]func(c *BlindConfig) string{
		"holds the calls of A. Reader, not of B":          func(c *BlindConfig) string { c.Reader = "B"; return good },
		"was begun with seed 7, not 8":                    func(c *BlindConfig) string { c.Seed = 8; return good },
		"was begun with other photos":                     func(c *BlindConfig) string { c.Photos = c.Photos[:1]; return good },
		"another --analyte":                               func(c *BlindConfig) string { c.Analyte = "pH"; return good },
		"is there already and is no file of blind calls":  func(*BlindConfig) string { return "sample,reader,value\n" },
		"the file is empty":                               func(*BlindConfig) string { return "" },
		"is of format 2, and this padband knows format 1": func(*BlindConfig) string { return strings.Replace(good, "format 1", "format 2", 1) },
		"line 1 is not as padband wrote it":               func(*BlindConfig) string { return strings.Replace(good, "seed 7", "seed -7", 1) },
		"line 2 does not name the columns":                func(*BlindConfig) string { return strings.Replace(good, "sample,reader", "reader,sample", 1) },
		"line 4 is not as padband wrote it":               func(*BlindConfig) string { return good[:len(good)-12] },
		"line 3 is not the call that was asked for there": func(*BlindConfig) string { return lines[0] + lines[1] + lines[3] + lines[2] },
		"line 5 is not the call that was asked for there": func(*BlindConfig) string { return good + lines[3] },
		"holds 7 calls, and there are 6 pads":             func(*BlindConfig) string { return good + strings.Repeat(lines[3], 5) },
	} {
		other := c
		text := change(&other)
		require.NoError(t, os.WriteFile(c.File, []byte(text), 0o600))
		_, err := NewBlind(other)
		require.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, c.File+": ")
		assert.NotContains(t, err.Error(), "\n")
		data, err := os.ReadFile(c.File)
		require.NoError(t, err)
		assert.Equal(t, text, string(data), "left as it was")
	}
	require.NoError(t, os.WriteFile(c.File, []byte(strings.ReplaceAll(good, "\n", "\r\n")), 0o600))
	_, err := NewBlind(c)
	assert.NoError(t, err, "another system's line ends are no matter")
}

// A file that something else wrote to meanwhile is not written over.
func TestBlindFileChangedMeanwhile(t *testing.T) {
	r := startBlind(t, blindConfig(t)).withoutPictures()
	other := startBlind(t, BlindConfig{Photos: demoPhotos(t), Reader: "A. Reader", File: r.file}).withoutPictures()
	other.make(0)
	text := r.text()
	v := r.state().Pad.Swatches[0].Value
	r.show(0, time.Second)
	status, body := r.send(0, blindCall{Kind: "swatch", Value: &v})
	told := refused(t, http.StatusInternalServerError, status, body).Error
	assert.Contains(t, told, "calls.csv: was changed since")
	assert.NotContains(t, told, r.folder, "the page is not told where")
	assert.Equal(t, text, r.text())
	assert.Zero(t, r.state().At, "the call is not counted")
	require.NoError(t, os.Remove(r.file))
	status, body = r.send(0, blindCall{Kind: "swatch", Value: &v})
	refused(t, http.StatusInternalServerError, status, body)
	assert.NoFileExists(t, r.file)
}

// A folder that is not there is told before a pad is shown.
func TestBlindFileThatCannotBeWritten(t *testing.T) {
	c := blindConfig(t)
	c.File = filepath.Join(t.TempDir(), "none", "calls.csv")
	_, err := NewBlind(c)
	assert.ErrorContains(t, err, "cannot be written")
}

func TestBlindReaders(t *testing.T) {
	for _, name := range []string{"", " A", "A ", "A\nB", "A\x1b[2J", "A  B", strings.Repeat("x", 101), "\xff"} {
		assert.Error(t, CheckReader(name), "%q", name)
	}
	assert.NoError(t, CheckReader("Zoë O'Hara, 2nd"))
}

func TestBlindWithoutPads(t *testing.T) {
	c := blindConfig(t)
	c.Analyte = "copper"
	_, err := NewBlind(c)
	assert.EqualError(t, err, `no pad is marked for "copper"; marked are nitrate, total hardness, pH`)
	c = blindConfig(t)
	c.Photos[1].Sample = "cellar"
	_, err = NewBlind(c)
	assert.ErrorContains(t, err, "two photos would be the sample cellar")
	c.Photos = nil
	_, err = NewBlind(c)
	assert.ErrorContains(t, err, "no pad is marked in these photos")
	assert.NoFileExists(t, c.File)
}

// What the page is sent tells neither the sample nor padband's own reading, and
// only the pad whose turn it is can be seen.
func TestBlindTellsNothing(t *testing.T) {
	c := blindConfig(t)
	for i := range c.Photos {
		c.Photos[i].Marks.Sample.Place = "secret place"
	}
	r := startBlind(t, c)
	for k := range 6 {
		s := r.state()
		bodies := map[string][]byte{}
		for _, path := range []string{"api/pad", fmt.Sprintf("api/pads/%d/pad/1", k), fmt.Sprintf("api/pads/%d/swatch/0/1", k), fmt.Sprintf("api/pads/%d/photo", k)} {
			status, body := r.get(path)
			require.Equal(t, http.StatusOK, status, path)
			bodies[path] = body
		}
		r.show(k, time.Second)
		status, body := r.send(k, blindCall{Kind: "swatch", Value: &s.Pad.Swatches[0].Value})
		require.Equal(t, http.StatusOK, status)
		bodies["call"] = body
		for what, body := range bodies {
			for _, bad := range []string{"kitchen", "cellar", "secret", "2026", "Exif", "raw", "band", "delta", "reliab", "bracket"} {
				assert.NotContains(t, string(body), bad, what)
			}
		}
		for _, path := range []string{"pad/1", "swatch/0/1", "photo"} {
			for _, at := range []int{k, k + 2, -1} {
				status, _ := r.get(fmt.Sprintf("api/pads/%d/%s", at, path))
				assert.Equal(t, http.StatusConflict, status, "%d %s", at, path)
			}
		}
	}
}

// The pictures are the pad and the swatches of the photo, as large as asked for,
// and there are no others.
func TestBlindPictures(t *testing.T) {
	c := blindConfig(t)
	c.Photos, c.Analyte = c.Photos[1:], "nitrate"
	r := startBlind(t, c)
	want := prepare(r.blind.pads[0])
	require.Empty(t, want.problem)
	require.Len(t, want.swatches, 6)
	_, pad := r.get("api/pads/0/pad/1")
	assert.True(t, bytes.Equal(want.pad[0], pad))
	for i := range 6 {
		m := r.picture(fmt.Sprintf("api/pads/0/swatch/%d/1", i))
		assert.Equal(t, cropWidth, m.Bounds().Dx())
		_, data := r.get(fmt.Sprintf("api/pads/0/swatch/%d/1", i))
		assert.True(t, bytes.Equal(want.swatches[i][0], data), "swatch %d", i)
	}
	for _, path := range []string{"pad/0", "pad/2", "pad/x", "swatch/6/1", "swatch/-1/1", "swatch/0/2", "swatch/0"} {
		status, _ := r.get("api/pads/0/" + path)
		assert.Equal(t, http.StatusNotFound, status, path)
	}
	pink := r.picture("api/pads/0/swatch/5/1")
	grey := r.picture("api/pads/0/swatch/0/1")
	_, g1, _, _ := pink.At(120, 120).RGBA()
	_, g0, _, _ := grey.At(120, 120).RGBA()
	assert.Less(t, g1>>8, uint32(160), "the highest swatch is pink")
	assert.Greater(t, g0>>8, uint32(215), "the lowest is nearly white")
}

// A photo that cannot be shown is no end of the run: it is passed over with the
// reason, and cannot be called.
func TestBlindPhotoThatCannotBeShown(t *testing.T) {
	for _, read := range []func() ([]byte, error){
		func() ([]byte, error) { return nil, fmt.Errorf("there is no such file") },
		func() ([]byte, error) { return []byte("hello"), nil },
		func() ([]byte, error) { return os.ReadFile(demo + "cellar.jpg") }, // another photo's
		func() ([]byte, error) { panic("index out of\nrange") },
	} {
		c := blindConfig(t)
		c.Photos, c.Analyte = c.Photos[1:], "nitrate"
		c.Photos[0].Read = read
		r := startBlind(t, c)
		s := r.state()
		require.NotEmpty(t, s.Problem)
		assert.NotContains(t, s.Problem, "\n")
		status, _ := r.get("api/pads/0/pad/1")
		assert.Equal(t, http.StatusNotFound, status)
		status, _ = r.get("api/pads/0/photo")
		assert.Equal(t, http.StatusNotFound, status)
		r.show(0, time.Second)
		status, body := r.send(0, blindCall{Kind: "swatch", Value: &s.Pad.Swatches[0].Value})
		assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "cannot be shown")
		status, body = r.send(0, blindCall{Kind: "none", Text: "it cannot be shown"})
		assert.Nil(t, ok[blindState](t, status, body).Pad)
		assert.Contains(t, r.text(), "\nkitchen,A. Reader,,nitrate,mg/L,N,,,screen,1.0,it cannot be shown\n")
	}
}

// The page is guarded as the marking page is, and has none of its calls.
func TestBlindIsGuarded(t *testing.T) {
	r := startBlind(t, blindConfig(t))
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.server.URL+"/", nil).StatusCode)
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.server.URL+"/api/pad", nil).StatusCode)
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.url("api/pad"), map[string]string{"Host": "evil.example"}).StatusCode)
	assert.Equal(t, http.StatusForbidden, r.ask("POST", r.url("api/pads/0/shown"), map[string]string{"Origin": "http://evil.example"}).StatusCode)
	assert.Equal(t, http.StatusForbidden, r.ask("GET", r.url("api/pads/0/pad/1"), map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}).StatusCode)
	assert.False(t, r.state().Begun)
	res := r.ask("GET", r.url(""), nil)
	_, body := whole(t, res)
	assert.Contains(t, string(body), "Call each pad by eye")
	assert.Equal(t, policy, res.Header.Get("Content-Security-Policy"))
	for _, name := range ownFiles {
		assert.Equal(t, http.StatusOK, r.ask("GET", r.url(name), nil).StatusCode, name)
	}
	for _, path := range []string{"api/start", "api/charts", "api/photos/1/preview", "app.js", "index.html", "x"} {
		assert.Equal(t, http.StatusNotFound, r.ask("GET", r.url(path), nil).StatusCode, path)
	}
	assert.Equal(t, http.StatusNotFound, r.ask("POST", r.url("api/photos"), nil).StatusCode)
}

// A file that appeared since it was looked for is not written over.
func TestBlindFileThatAppeared(t *testing.T) {
	name := filepath.Join(t.TempDir(), "calls.csv")
	require.NoError(t, os.WriteFile(name, []byte("other"), 0o600))
	assert.ErrorContains(t, (&callFile{name: name}).write(nil), "there already")
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "other", string(data))
}
