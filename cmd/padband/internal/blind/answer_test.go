package blind

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// A whole run: every kind of call, timed by the server's clock, in a file that
// can be read as a table of calls.
func TestCallsAreKept(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	value := func(v float64) *float64 { return &v }
	calls := map[string][]call{
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
		next := ok[state](t, status, body)
		assert.Equal(t, k+1, next.At)
		p := r.page.pads[k]
		why := ""
		if want[a][0] == "" {
			why = "a drop lies on it"
		}
		text += fmt.Sprintf("%s,A. Reader,%s,%s,%s,%s,,,screen,%.1f,%s\n", p.Sample, want[a][0], a, p.analyte.Unit, p.analyte.As, float64(k+1)*1.25, why)
		assert.Equal(t, text, r.text(), "each is kept at once, and the ones before are left")
		calls[a], want[a] = calls[a][1:], want[a][1:]
	}
	end := r.state()
	assert.Equal(t, state{Reader: "A. Reader", At: 6, Of: 6, Back: true, Begun: true, File: "calls.csv"}, end, "nothing but the number")
	assert.True(t, strings.HasPrefix(text[strings.Index(text, "\n")+1:], "sample,reader,value,analyte,unit,as,strip,seconds,source,call_seconds,why\n"))
	status, body := r.send(6, call{Kind: "none", Text: "x"})
	refused(t, http.StatusConflict, status, body)
}

// No call is taken twice, too early, for another pad, or of a kind that the pad
// does not have; nothing is written then.
func TestCallsThatAreRefused(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	before := r.text()
	v, odd := r.state().Pad.Swatches[0].Value, 1e9
	good := call{Kind: "swatch", Value: &v}
	status, body := r.send(0, good)
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "not on the screen yet")
	r.show(0, time.Second)
	for _, at := range []int{1, 2, -1, 99} {
		status, body = r.send(at, good)
		refused(t, http.StatusConflict, status, body)
	}
	for _, c := range []call{
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
func TestPressesAtOnce(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	v := r.state().Pad.Swatches[0].Value
	r.show(0, time.Second)
	taken := make(chan int, 16)
	for range cap(taken) {
		go func() {
			w := httptest.NewRecorder()
			q := httptest.NewRequest("POST", r.url("api/pads/0/call"), strings.NewReader(fmt.Sprintf(`{"kind":"swatch","value":%g}`, v)))
			r.host.ServeHTTP(w, q)
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
func TestPresence(t *testing.T) {
	a := charts.Analyte{Name: "nitrite", Kind: charts.KindPresence, Swatches: []charts.Swatch{{Value: 0, Label: "no"}, {Value: 0.4, Label: "yes"}}}
	zero := 0.0
	for _, c := range []call{{Kind: "between", Value: &zero}, {Kind: "number", Text: "0.2"}, {Kind: "above"}, {Kind: "below"}} {
		_, _, err := c.take(a)
		assert.ErrorIs(t, err, errOddCall, c.Kind)
	}
	v, _, err := call{Kind: "swatch", Value: &a.Swatches[1].Value}.take(a)
	require.NoError(t, err)
	assert.Equal(t, "0.4", v)
	assert.Equal(t, []swatch{{0, "no"}, {0.4, "yes"}}, viewOf(a).Swatches)
	assert.Equal(t, []swatch{{3, "3"}, {7, "7 (6-9)"}, {12, "12, high"}}, viewOf(charts.Analyte{Swatches: []charts.Swatch{{Value: 3}, {Value: 7, Label: "7 (6-9)"}, {Value: 12, Label: "high"}}}).Swatches)
}

// Below a chart that begins at 0 there is nothing to call.
func TestBelowZero(t *testing.T) {
	a := charts.Analyte{Name: "nitrate", Kind: charts.KindScale, Swatches: []charts.Swatch{{Value: 0}, {Value: 1}}}
	_, _, err := call{Kind: "below"}.take(a)
	assert.ErrorIs(t, err, errOddCall)
	one := 1.0
	_, _, err = call{Kind: "between", Value: &one}.take(a)
	assert.ErrorIs(t, err, errOddCall, "nothing lies beyond the last")
}

// The last call can be taken back, once, and its time goes on.
func TestBack(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	status, body := r.post("api/back", struct{}{})
	refused(t, http.StatusConflict, status, body)
	r.make(0)
	one := r.text()
	r.make(1)
	status, body = r.post("api/back", struct{}{})
	s := ok[state](t, status, body)
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
func TestClockGoesOnWhenThePageIsLoadedAgain(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	assert.False(t, r.state().Begun)
	r.show(0, 3*time.Second)
	assert.True(t, r.state().Begun)
	r.make(0)
	assert.Regexp(t, `,screen,5\.0,\n$`, r.text())
}
