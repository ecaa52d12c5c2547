package page

import (
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"strconv"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
)

// blindState is all that the page is told.
type blindState struct {
	Reader  string     `json:"reader"`
	At      int        `json:"at"` // how many calls are made
	Of      int        `json:"of"`
	Back    bool       `json:"back"`  // the last call may be taken back
	Begun   bool       `json:"begun"` // a pad was shown in this run
	Pad     *blindView `json:"pad"`   // none when all calls are made
	File    string     `json:"file"`  // then, where they are
	Problem string     `json:"problem,omitempty"`
}

// blindView is one pad with its chart.
type blindView struct {
	Analyte  string        `json:"analyte"`
	Unit     string        `json:"unit"`
	As       string        `json:"as"`
	Presence bool          `json:"presence"`
	Parts    int           `json:"parts"`
	Swatches []blindSwatch `json:"swatches"`
}

type blindSwatch struct {
	Value float64 `json:"value"`
	Text  string  `json:"text"`
}

func (b *Blind) state(w http.ResponseWriter, r *http.Request) {
	b.mu.Lock()
	defer b.mu.Unlock()
	answer(w, b.stateNow())
}

// stateNow is the state; the lock is held.
func (b *Blind) stateNow() blindState {
	at := len(b.calls.rows)
	s := blindState{Reader: b.calls.head.reader, At: at, Of: len(b.pads), Back: b.back, Begun: b.begun}
	if at == len(b.pads) {
		s.File = beside.Shown(filepath.Base(b.calls.name))
		return s
	}
	s.Pad = viewOf(b.pads[at].analyte)
	s.Problem = b.ready.get(at).problem
	return s
}

func viewOf(a charts.Analyte) *blindView {
	v := &blindView{Analyte: a.Name, Unit: a.Unit, As: a.As, Presence: a.Kind == charts.KindPresence, Parts: a.Parts}
	for _, s := range a.Swatches {
		v.Swatches = append(v.Swatches, blindSwatch{s.Value, besideSwatch(s, a)})
	}
	return v
}

// errNotNow is of a call for another pad than the one whose turn it is: a second
// press, or another tab.
var errNotNow = errors.New("this pad was called already; here is the next")

// current answers whether a call is for the pad whose turn it is; when not, the
// call is answered. The lock is held.
func (b *Blind) current(w http.ResponseWriter, r *http.Request) (at int, ok bool) {
	at = len(b.calls.rows)
	if r.PathValue("at") == strconv.Itoa(at) && at < len(b.pads) {
		return at, true
	}
	refuse(w, http.StatusConflict, errNotNow)
	return 0, false
}

// shown starts the pad's time.
func (b *Blind) shown(w http.ResponseWriter, r *http.Request) {
	b.mu.Lock()
	defer b.mu.Unlock()
	at, ok := b.current(w, r)
	if !ok {
		return
	}
	b.clock.start(at, b.now())
	b.begun = true
	b.ready.ahead(at)
	answer(w, struct{}{})
}

// call takes a call, keeps it, and answers with the next pad.
func (b *Blind) call(w http.ResponseWriter, r *http.Request) {
	var c blindCall
	if !take(w, r, &c) {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	at, ok := b.current(w, r)
	if !ok {
		return
	}
	res, err := b.result(at, c)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	if err := b.calls.add(b.calls.row(b.pads[at], res)); err != nil {
		refuse(w, http.StatusInternalServerError, b.calls.told(err))
		return
	}
	b.back, b.clock = true, stopwatch{}
	answer(w, b.stateNow())
}

// told names the file by its last element: the page needs no more.
func (f *callFile) told(err error) error {
	return fmt.Errorf("%s: %w", beside.Shown(filepath.Base(f.name)), err)
}

// result checks a call for a pad that is shown, and times it.
func (b *Blind) result(at int, c blindCall) (r blindResult, err error) {
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
func (b *Blind) takeBack(w http.ResponseWriter, r *http.Request) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if !b.back {
		refuse(w, http.StatusConflict, errors.New("only the last call can be taken back, and only once"))
		return
	}
	row, err := b.calls.drop()
	if err != nil {
		refuse(w, http.StatusInternalServerError, b.calls.told(err))
		return
	}
	b.back = false
	b.clock.again(len(b.calls.rows), row[9])
	answer(w, b.stateNow())
}

// pictures are those of the pad whose turn it is; of another there are none.
func (b *Blind) pictures(w http.ResponseWriter, r *http.Request) (prepared, bool) {
	b.mu.Lock()
	at, ok := b.current(w, r)
	b.mu.Unlock()
	if !ok {
		return prepared{}, false
	}
	return b.ready.get(at), true
}

func (b *Blind) padPicture(w http.ResponseWriter, r *http.Request) {
	if p, ok := b.pictures(w, r); ok {
		onePart(w, r, p.pad)
	}
}

func (b *Blind) swatchPicture(w http.ResponseWriter, r *http.Request) {
	p, ok := b.pictures(w, r)
	if !ok {
		return
	}
	i, err := strconv.Atoi(r.PathValue("swatch"))
	if err != nil || i < 0 || i >= len(p.swatches) {
		nothing(w, r)
		return
	}
	onePart(w, r, p.swatches[i])
}

// onePart sends the picture of the part that is asked for, from 1.
func onePart(w http.ResponseWriter, r *http.Request, parts [][]byte) {
	k, err := strconv.Atoi(r.PathValue("part"))
	if err != nil || k < 1 || k > len(parts) {
		nothing(w, r)
		return
	}
	picture(w, parts[k-1])
}

func (b *Blind) wholePicture(w http.ResponseWriter, r *http.Request) {
	p, ok := b.pictures(w, r)
	if !ok {
		return
	}
	if p.whole == nil {
		nothing(w, r)
		return
	}
	data, err := p.whole()
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	picture(w, data)
}
