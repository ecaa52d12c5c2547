package blind

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
)

// callsFormat is the number of the file's format.
const callsFormat = 1

// fromScreen is the source of every call of this page: a screen, and not the strip
// itself.
const fromScreen = "screen"

// callColumns are the names of the columns of the file of calls. seconds runs from the
// dip to the photo, where that is known, because what the reader sees is the photo.
// call_seconds runs from showing the pad to its call.
var callColumns = []string{"sample", "reader", "value", "analyte", "unit", "as", "strip", "seconds", "source", "call_seconds", "why"}

// callsHead is the first line of the file. It holds what a run that was ended needs to
// go on.
type callsHead struct {
	seed        uint64
	set, reader string
}

// String is the first line of a file of calls, as text.
func (h callsHead) String() string {
	return fmt.Sprintf("# padband blind calls, format %d, seed %d, set %s, from a screen, reader %s", callsFormat, h.seed, h.set, h.reader)
}

// The first line is read in two parts: its format tells whether the rest of it can be
// read.
var (
	headLine = regexp.MustCompile(`^# padband blind calls, format ([0-9]{1,9})\b(.*)$`)
	headTail = regexp.MustCompile(`^, seed ([0-9]{1,20}), set ([0-9a-f]{16}), from a screen, reader (.+)$`)
)

// parseHead reads the first line of a file of calls.
func parseHead(first string) (h callsHead, err error) {
	m := headLine.FindStringSubmatch(first)
	if m == nil {
		return h, unfit(NoneFits, "is there already and is no file of blind calls")
	}
	if m[1] != strconv.Itoa(callsFormat) {
		return h, unfit(Mendable, "is of format %s, and this padband knows format %d; use the padband that wrote it", m[1], callsFormat)
	}
	if m = headTail.FindStringSubmatch(m[2]); m != nil {
		h.set, h.reader = m[2], m[3]
		h.seed, err = strconv.ParseUint(m[1], 10, 64)
	}
	if m == nil || err != nil || h.seed == 0 {
		return h, unfit(Mendable, "line 1 is not as padband wrote it; mend it")
	}
	return h, nil
}

// callFile is the file of calls. It is whole after every call, and nothing else is
// kept.
type callFile struct {
	store hosted.Store
	name  string // the file's name in the store
	path  string // what the reader calls it
	head  callsHead
	rows  [][]string
	data  []byte // the file's bytes as they are on disk; nil before it is written
}

// mostCallBytes caps a file of calls that is read.
const mostCallBytes = 16 << 20

// openCalls reads the file of calls and checks that it belongs to this run, or begins
// it. The pads come back in the order of the file's seed.
func openCalls(c Config, pads []pad) (*callFile, []pad, error) {
	f := &callFile{store: c.Store, name: c.File, path: c.Path, head: callsHead{c.Seed, setOf(pads), c.Reader}}
	if hosted.Beside(c.Store).Missing(c.File) {
		if f.head.seed == 0 {
			var err error
			if f.head.seed, err = newSeed(); err != nil {
				return nil, nil, err
			}
		}
		return f, shuffled(pads, f.head.seed), f.named(f.write(nil))
	}
	err := f.open()
	if err == nil {
		pads = shuffled(pads, f.head.seed)
		err = f.checkRows(pads)
	}
	return f, pads, f.named(err)
}

// read returns the file's bytes.
func (f *callFile) read() ([]byte, error) {
	return hosted.Beside(f.store).ReadFile(f.name, mostCallBytes)
}

// named puts the file's name in front of an error.
func (f *callFile) named(err error) error {
	if err != nil {
		err = fmt.Errorf("%s: %w", input.Shown(f.path), err)
	}
	return err
}

// open reads the file that is there.
func (f *callFile) open() error {
	data, err := f.read()
	if err != nil {
		return unfit(Unread, "%w", err)
	}
	first, rest, _ := strings.Cut(string(data), "\n")
	head, err := parseHead(strings.TrimRight(first, "\r"))
	if err == nil {
		err = f.head.goesOn(head)
	}
	if err != nil {
		return err
	}
	f.head.seed, f.data = head.seed, data
	r := csv.NewReader(strings.NewReader(rest))
	r.FieldsPerRecord = len(callColumns)
	rows, err := r.ReadAll()
	var broken *csv.ParseError
	switch {
	case errors.As(err, &broken):
		return unfit(Mendable, "line %d is not as padband wrote it; mend it", broken.Line+1)
	case err != nil || len(rows) == 0 || !slices.Equal(rows[0], callColumns):
		return unfit(Mendable, "line 2 does not name the columns as padband does; mend it")
	}
	f.rows = rows[1:]
	return nil
}

// goesOn says whether a run with this head may go on with a file whose head is
// another.
func (h callsHead) goesOn(there callsHead) error {
	switch {
	case there.reader != h.reader:
		return unfit(NoneFits, "holds the calls of %s, not of %s", there.reader, h.reader)
	case h.seed != 0 && there.seed != h.seed:
		return unfit(OtherSeed, "was begun with seed %d, not %d", there.seed, h.seed)
	case there.set != h.set:
		return unfit(OtherSet, "was begun with other photos, another chart or another analyte")
	}
	return nil
}

// checkRows checks that the calls made so far are those of the first pads in this
// order.
func (f *callFile) checkRows(pads []pad) error {
	if len(f.rows) > len(pads) {
		return unfit(NoneFits, "holds %d calls, and there are %d pads", len(f.rows), len(pads))
	}
	for i, row := range f.rows {
		want := f.row(pads[i], result{})
		same := func(k int) bool { return row[k] == want[k] }
		if !same(0) || !same(1) || !same(3) || !same(4) || !same(5) {
			return unfit(Mendable, "line %d is not the call that was asked for there; mend it", i+3)
		}
	}
	return nil
}

// result is what a call adds to its pad.
type result struct {
	value, why    string
	seconds, took string
}

// row is a call as a row of the file.
func (f *callFile) row(p pad, r result) []string {
	return []string{
		lines.Cell(p.Sample), lines.Cell(f.head.reader), r.value,
		lines.Cell(p.analyte.Name), lines.Cell(p.analyte.Unit), lines.Cell(p.analyte.As),
		lines.Cell(p.Marks.Sample.Strip), r.seconds, fromScreen, r.took, lines.Cell(r.why),
	}
}

// errChangedCalls is the error of a file that another program, or another run, has
// written to.
var errChangedCalls = errors.New("was changed since by something else; this call is not kept: " +
	"end padband, look at the file, and start it again")

// write puts these calls into the file. It writes the file whole or not at all, and
// only over what this run itself read or wrote there.
func (f *callFile) write(rows [][]string) error {
	var b bytes.Buffer
	b.WriteString(f.head.String() + "\n")
	w := csv.NewWriter(&b)
	w.Write(callColumns)
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	if f.data != nil {
		if now, err := f.read(); err != nil || !bytes.Equal(now, f.data) {
			return errChangedCalls
		}
	}
	over := hosted.Same
	if f.data != nil {
		over = hosted.Replace
	}
	if err := f.store.WriteWhole([]hosted.File{{Name: f.name, Data: b.Bytes()}}, over); err != nil {
		return hosted.Unnamed(err) // the caller names it
	}
	f.rows, f.data = rows, b.Bytes()
	return nil
}

// add keeps one more call.
func (f *callFile) add(row []string) error { return f.write(append(slices.Clip(f.rows), row)) }

// drop takes the last call back, and returns its row.
func (f *callFile) drop() ([]string, error) {
	last := len(f.rows) - 1
	row := f.rows[last]
	return row, f.write(slices.Clip(f.rows[:last]))
}

// FileName is the usual name of a reader's file of calls: the name's letters and
// digits, with a dash for whatever stands between.
func FileName(reader string) string {
	words := strings.FieldsFunc(reader, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		words = []string{"reader"}
	}
	return "blind-" + strings.Join(words, "-") + ".csv"
}
