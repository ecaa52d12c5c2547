package page

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"time"
	"unicode/utf8"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record/bag"
)

// These are caps on what a record may be given besides the photo. All of it is in
// memory while the record is made, and only one record is made at a time.
const (
	attachMost  = 12        // files
	attachBytes = 128 << 20 // of one of them
	attachTotal = 256 << 20 // of all together
	factBytes   = 2000      // of one fact
	keepTime    = 10 * time.Minute
)

// kinds are the words for what a further photo shows. The photo's name begins with its
// word.
var kinds = []string{"label", "tap", "meter", "other"}

// apart names the facts of a record that a marks file has no place for.
var apart = []string{"read", "handling"}

// keepWork is what the page sends when it asks for a record.
type keepWork struct {
	work
	Facts map[string]string `json:"facts"` // the facts that [apart] names
	Zip   bool              `json:"zip"`
}

// parcel is all that came with a call for a record.
type parcel struct {
	keepWork
	begun bool
	files []bag.File
	bytes int64
}

// unpack reads a call for a record: the work first, then the files to be attached.
func unpack(c hosted.Call) (p parcel, err error) {
	const most = attachTotal + 2*hosted.BodyBytes
	if c.Length > most {
		return p, tooMuch()
	}
	if c.Form == nil {
		return p, hosted.ErrNotOurs
	}
	next, err := c.Form(most)
	if err != nil {
		return p, hosted.ErrNotOurs
	}
	for {
		switch part, err := next(); {
		case err == io.EOF && p.begun:
			return p, nil
		case err != nil:
			return p, broken(err)
		default:
			if err := p.take(part); err != nil {
				return p, err
			}
		}
	}
}

func tooMuch() error {
	return hosted.Failf(hosted.TooLarge, "the further photos are over %d MB together; leave some out", attachTotal>>20)
}

// broken is the error of a call that did not arrive whole.
func broken(err error) error {
	var large *hosted.TooLargeError
	if errors.As(err, &large) {
		return tooMuch()
	}
	return hosted.Failf(hosted.BadRequest, "the record's parts did not arrive whole; try again")
}

// take reads one part of the call.
func (p *parcel) take(part hosted.Part) error {
	switch {
	case !p.begun && part.Field == "work":
		p.begun = true
		if hosted.Only(io.LimitReader(part, hosted.BodyBytes), &p.keepWork) != nil {
			return hosted.ErrNotOurs
		}
		return p.checkFacts()
	case p.begun && slices.Contains(kinds, part.Field):
		return p.attach(part.Field+"-"+part.File, part)
	}
	return hosted.ErrNotOurs
}

func (p *parcel) checkFacts() error {
	for name, v := range p.Facts {
		if !slices.Contains(apart, name) {
			return hosted.ErrNotOurs
		}
		if len(v) > factBytes || !utf8.ValidString(v) {
			return hosted.Failf(hosted.Unprocessable, "what is said of %q is over %d characters or no text; say it shorter", name, factBytes)
		}
	}
	return nil
}

// attach reads a further photo, as far as the caps allow. The record makes its name
// plain.
func (p *parcel) attach(name string, from io.Reader) error {
	if len(p.files) >= attachMost {
		return hosted.Failf(hosted.TooLarge, "more than %d further photos; leave some out", attachMost)
	}
	data, err := pieces(io.LimitReader(from, attachBytes+1))
	n := int64(len(data))
	p.bytes += n
	switch {
	case err != nil:
		return broken(err)
	case n > attachBytes:
		return hosted.Failf(hosted.TooLarge, "a further photo is over %d MB; leave it out or attach a smaller one", attachBytes>>20)
	case p.bytes > attachTotal:
		return tooMuch()
	case n == 0:
		return hosted.Failf(hosted.Unprocessable, "a further photo is empty; choose it again")
	}
	p.files = append(p.files, bag.File{Name: name, Data: data})
	return nil
}

// pieces reads all there is, piece by piece, because a buffer that doubles as it grows
// would take up to four times as much memory.
func pieces(from io.Reader) ([]byte, error) {
	var all [][]byte
	for {
		piece := make([]byte, 1<<20)
		n := 0
		for n < len(piece) {
			more, err := from.Read(piece[n:])
			n += more
			if err == io.EOF {
				return bytes.Join(append(all, piece[:n]), nil), nil
			}
			if err != nil {
				return nil, err
			}
		}
		all = append(all, piece)
	}
}
