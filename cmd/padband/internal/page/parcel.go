package page

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"slices"
	"time"
	"unicode/utf8"

	"padband/cmd/padband/internal/record"
)

// Caps on what a record may be given besides the photo. All of it is in memory
// while the record is made, and one record is made at a time.
const (
	attachMost  = 12        // files
	attachBytes = 128 << 20 // of one of them
	attachTotal = 256 << 20 // of all together
	factBytes   = 2000      // of one fact
	keepTime    = 10 * time.Minute
)

// kinds are what a further photo may be said to show; its name begins with it.
var kinds = []string{"label", "tap", "meter", "other"}

// apart are the facts of a record that a marks file has no place for.
var apart = []string{"read", "handling"}

// keepWork is what the page sends to be kept.
type keepWork struct {
	work
	Facts map[string]string `json:"facts"` // those that are apart, by name
	Zip   bool              `json:"zip"`
}

// parcel is a call to keep, as it came.
type parcel struct {
	keepWork
	begun bool
	files []record.File
	bytes int64
}

// callError is an error with the status of the answer.
type callError struct {
	status int
	error
}

func (e callError) Unwrap() error { return e.error }

func failing(status int, format string, args ...any) error {
	return callError{status, fmt.Errorf(format, args...)}
}

var errNotOurs = callError{http.StatusBadRequest, errors.New("this call is not what the page sends; reload the page")}

// statusOf is the status that an error is answered with.
func statusOf(err error) int {
	var c callError
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &c):
		return c.status
	case errors.As(err, &large):
		return http.StatusRequestEntityTooLarge
	case errors.Is(err, errBusy):
		return http.StatusServiceUnavailable
	}
	return http.StatusUnprocessableEntity
}

// unpack reads a call to keep: the work first, then the files to be attached.
func unpack(w http.ResponseWriter, r *http.Request) (p parcel, err error) {
	const most = attachTotal + 2*bodyBytes
	if r.ContentLength > most {
		return p, tooMuch()
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	parts, err := r.MultipartReader()
	if err != nil {
		return p, errNotOurs
	}
	for {
		switch part, err := parts.NextPart(); {
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
	return failing(http.StatusRequestEntityTooLarge, "the further photos are over %d MB together; leave some out", attachTotal>>20)
}

// broken is the error of a call that did not come whole.
func broken(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return tooMuch()
	}
	return failing(http.StatusBadRequest, "the record's parts did not arrive whole; try again")
}

// take reads one part.
func (p *parcel) take(part *multipart.Part) error {
	kind := part.FormName()
	switch {
	case !p.begun && kind == "work":
		p.begun = true
		if only(io.LimitReader(part, bodyBytes), &p.keepWork) != nil {
			return errNotOurs
		}
		return p.checkFacts()
	case p.begun && slices.Contains(kinds, kind):
		return p.attach(kind+"-"+part.FileName(), part)
	}
	return errNotOurs
}

func (p *parcel) checkFacts() error {
	for name, v := range p.Facts {
		if !slices.Contains(apart, name) {
			return errNotOurs
		}
		if len(v) > factBytes || !utf8.ValidString(v) {
			return failing(http.StatusUnprocessableEntity, "what is said of %q is over %d characters or no text; say it shorter", name, factBytes)
		}
	}
	return nil
}

// attach reads a further photo as far as the caps. The record makes its name plain.
func (p *parcel) attach(name string, from io.Reader) error {
	if len(p.files) >= attachMost {
		return failing(http.StatusRequestEntityTooLarge, "more than %d further photos; leave some out", attachMost)
	}
	data, err := pieces(io.LimitReader(from, attachBytes+1))
	n := int64(len(data))
	p.bytes += n
	switch {
	case err != nil:
		return broken(err)
	case n > attachBytes:
		return failing(http.StatusRequestEntityTooLarge, "a further photo is over %d MB; leave it out or attach a smaller one", attachBytes>>20)
	case p.bytes > attachTotal:
		return tooMuch()
	case n == 0:
		return failing(http.StatusUnprocessableEntity, "a further photo is empty; choose it again")
	}
	p.files = append(p.files, record.File{Name: name, Data: data})
	return nil
}

// pieces reads all there is, piece by piece: a buffer that doubles as it grows
// would take up to four times as much.
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
