package blind

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// state is all that the page is told of the run.
type state struct {
	Reader  string `json:"reader"`
	At      int    `json:"at"` // how many calls are made
	Of      int    `json:"of"`
	Back    bool   `json:"back"`  // the last call may be taken back
	Begun   bool   `json:"begun"` // a pad was shown in this run
	Pad     *view  `json:"pad"`   // none when all calls are made
	File    string `json:"file"`  // the name of the file of calls, given when all are made
	Problem string `json:"problem,omitempty"`
}

// view is one pad with its chart.
type view struct {
	Analyte  string   `json:"analyte"`
	Unit     string   `json:"unit"`
	As       string   `json:"as"`
	Presence bool     `json:"presence"`
	Parts    int      `json:"parts"`
	Swatches []swatch `json:"swatches"`
}

// swatch is a choice: a swatch's value and how it is printed.
type swatch struct {
	Value float64 `json:"value"`
	Text  string  `json:"text"`
}

// state answers how far the run has come.
func (b *Page) state(context.Context, hosted.Call) hosted.Answer {
	b.mu.Lock()
	defer b.mu.Unlock()
	return hosted.JSON(b.stateNow())
}

// stateNow is the state of the run; the caller holds the lock.
func (b *Page) stateNow() state {
	at := len(b.calls.rows)
	s := state{Reader: b.calls.head.reader, At: at, Of: len(b.pads), Back: b.back, Begun: b.begun}
	if at == len(b.pads) {
		s.File = input.Shown(b.calls.name)
		return s
	}
	s.Pad = viewOf(b.pads[at].analyte)
	s.Problem = b.ready.get(at).problem
	return s
}

// viewOf is what a reader may know of the pad: its analyte and the values to choose
// from.
func viewOf(a charts.Analyte) *view {
	v := &view{Analyte: a.Name, Unit: a.Unit, As: a.As, Presence: a.Kind == charts.KindPresence, Parts: a.Parts}
	for _, s := range a.Swatches {
		v.Swatches = append(v.Swatches, swatch{s.Value, besideSwatch(s, a)})
	}
	return v
}

// errNotNow is the error of a call for another pad than the one whose turn it is. It
// comes from a second press, or from another tab.
var errNotNow = hosted.Failf(hosted.Conflict, "this pad was called already; here is the next")

// current checks that a call is for the pad whose turn it is; the caller holds the
// lock.
func (b *Page) current(c hosted.Call) (at int, err error) {
	at = len(b.calls.rows)
	if c.Value("at") == strconv.Itoa(at) && at < len(b.pads) {
		return at, nil
	}
	return 0, errNotNow
}

// shown starts the clock of the pad that is shown.
func (b *Page) shown(_ context.Context, c hosted.Call) hosted.Answer {
	b.mu.Lock()
	defer b.mu.Unlock()
	at, err := b.current(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	b.clock.start(at, b.now())
	b.begun = true
	b.ready.ahead(at)
	return hosted.JSON(struct{}{})
}

// call takes a reader's call, keeps it, and answers with the next pad.
func (b *Page) call(_ context.Context, c hosted.Call) hosted.Answer {
	var made call
	if err := c.Take(&made); err != nil {
		return hosted.Refuse(err)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	at, err := b.current(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	res, err := b.result(at, made)
	if err != nil {
		return hosted.Refuse(err)
	}
	if err := b.calls.add(b.calls.row(b.pads[at], res)); err != nil {
		return hosted.Refuse(hosted.Fail(hosted.Failed, b.calls.told(err)))
	}
	b.back, b.clock = true, stopwatch{}
	return hosted.JSON(b.stateNow())
}

// told names the file of calls without its folder, because the page needs no more.
func (f *callFile) told(err error) error {
	return fmt.Errorf("%s: %w", input.Shown(f.name), err)
}

// result checks a call for a pad that is shown, and times it.
func (b *Page) result(at int, c call) (r result, err error) {
	if !b.clock.running(at) {
		return r, errors.New("this pad is not on the screen yet; wait for its pictures, or reload the page")
	}
	p := b.ready.get(at)
	if p.problem != "" && c.Kind != "none" {
		return r, errors.New("this pad cannot be shown, and so not be called; give the reason and go on")
	}
	r.value, r.why, err = c.take(b.pads[at].analyte)
	r.seconds, r.took = p.seconds, b.clock.took(b.now())
	return r, err
}

// takeBack takes the last call of this run back, once.
func (b *Page) takeBack(context.Context, hosted.Call) hosted.Answer {
	b.mu.Lock()
	defer b.mu.Unlock()
	if !b.back {
		return hosted.Refuse(hosted.Failf(hosted.Conflict, "only the last call can be taken back, and only once"))
	}
	row, err := b.calls.drop()
	if err != nil {
		return hosted.Refuse(hosted.Fail(hosted.Failed, b.calls.told(err)))
	}
	b.back = false
	b.clock.again(len(b.calls.rows), row[9])
	return hosted.JSON(b.stateNow())
}

// pictures are the pictures of the pad whose turn it is; there are none of any other
// pad.
func (b *Page) pictures(c hosted.Call) (prepared, error) {
	b.mu.Lock()
	at, err := b.current(c)
	b.mu.Unlock()
	if err != nil {
		return prepared{}, err
	}
	return b.ready.get(at), nil
}

// padPicture answers with the picture of the pad alone, cut from its photo.
func (b *Page) padPicture(_ context.Context, c hosted.Call) hosted.Answer {
	p, err := b.pictures(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	return onePart(c, p.pad)
}

// swatchPicture answers with the picture of one swatch of that photo.
func (b *Page) swatchPicture(_ context.Context, c hosted.Call) hosted.Answer {
	p, err := b.pictures(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	i, err := strconv.Atoi(c.Value("swatch"))
	if err != nil || i < 0 || i >= len(p.swatches) {
		return hosted.Nothing()
	}
	return onePart(c, p.swatches[i])
}

// onePart answers with the picture of the part that is asked for; parts count from 1.
func onePart(c hosted.Call, parts [][]byte) hosted.Answer {
	k, err := strconv.Atoi(c.Value("part"))
	if err != nil || k < 1 || k > len(parts) {
		return hosted.Nothing()
	}
	return hosted.Picture(parts[k-1])
}

// wholePicture answers with the whole photo, for a pad that nobody can tell when it is
// shown alone.
func (b *Page) wholePicture(_ context.Context, c hosted.Call) hosted.Answer {
	p, err := b.pictures(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	if p.whole == nil {
		return hosted.Nothing()
	}
	data, err := p.whole()
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.Picture(data)
}
