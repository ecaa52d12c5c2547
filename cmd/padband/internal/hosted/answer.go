package hosted

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"padband/charts"
)

// The statuses of answers (RFC 9110, section 15).
const (
	OK                  = 200
	Moved               = 301
	BadRequest          = 400
	Forbidden           = 403
	NotFound            = 404
	NotAllowed          = 405
	Conflict            = 409
	TooLarge            = 413
	Unprocessable       = 422
	Failed              = 500
	Busy                = 503
	InsufficientStorage = 507
)

// Answer is what a call is answered with: Data, or File or Stream in its place.
// The zero Answer is no answer: nobody waits for one any more.
type Answer struct {
	Status int
	Header map[string]string // Content-Type and the like
	Data   []byte
	File   Stored                  // sent as it is read, in ranges where asked for; the host closes it
	Stream func(w io.Writer) error // an error breaks the answer off, so that half of it looks like no whole
}

// BodyBytes caps what a call may bring that brings no file.
const BodyBytes = 1 << 20

// bodyTime is how long such a call may take to arrive.
const bodyTime = 30 * time.Second

// Failure is an error with the status of its answer.
type Failure struct {
	Status int
	error
}

func (e Failure) Unwrap() error { return e.error }

// Fail gives an error the status of its answer.
func Fail(status int, err error) error { return Failure{status, err} }

// Failf makes an error with the status of its answer.
func Failf(status int, format string, args ...any) error {
	return Failure{status, fmt.Errorf(format, args...)}
}

// ErrNotOurs is of a call of another shape than the page's.
var ErrNotOurs = Fail(BadRequest, errors.New("this call is not what the page sends; reload the page"))

// Refusal is an error as a page gets it.
type Refusal struct {
	Error  string   `json:"error"`
	Field  string   `json:"field,omitempty"`
	Exists []string `json:"exists,omitempty"`
}

// Refuse answers with one line that says what is wrong, and the error's own
// status: that of a [Failure], else [Unprocessable].
func Refuse(err error) Answer {
	out, status := Refusal{Error: strings.Join(strings.Fields(err.Error()), " ")}, Unprocessable
	var typed *charts.TypedError
	if errors.As(err, &typed) {
		out.Field = typed.Field
	}
	var exists *ExistsError
	if errors.As(err, &exists) {
		out.Exists = exists.Names
	}
	var f Failure
	if errors.As(err, &f) {
		status = f.Status
	}
	return inJSON(status, out)
}

// Nothing answers what is no call of the page.
func Nothing() Answer {
	return Refuse(Failf(NotFound, "padband answers no such call; reload the page"))
}

// JSON answers with a value in JSON.
func JSON(body any) Answer { return inJSON(OK, body) }

func inJSON(status int, body any) Answer {
	data, err := json.Marshal(body)
	if err != nil {
		status, data = Failed, []byte(`{"error":"the answer could not be written; try again"}`)
	}
	return Answer{Status: status, Header: map[string]string{"Content-Type": "application/json"}, Data: data}
}

// Picture answers with a JPEG.
func Picture(data []byte) Answer {
	return Answer{Status: OK, Data: data, Header: map[string]string{
		"Content-Type":   "image/jpeg",
		"Cache-Control":  "private, max-age=3600", // a photo's number is never given twice
		"Content-Length": strconv.Itoa(len(data)),
	}}
}

// Text answers with a line of plain text.
func Text(status int, line string) Answer {
	return Answer{Status: status, Header: map[string]string{"Content-Type": "text/plain; charset=utf-8"}, Data: []byte(line + "\n")}
}

// Take reads a call's body: one JSON object with known fields alone.
func (c Call) Take(into any) error {
	c.Comes(bodyTime)
	err := Only(AtMost(c.Body, BodyBytes), into)
	var large *TooLargeError
	switch {
	case errors.As(err, &large):
		return Failf(TooLarge, "this call is too large; reload the page")
	case err != nil:
		return ErrNotOurs
	}
	return nil
}

// Only reads one JSON object with known fields, and nothing after it.
func Only(r io.Reader, into any) error {
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, after := d.Token(); after != io.EOF {
		return errors.New("something after the object")
	}
	return nil
}
