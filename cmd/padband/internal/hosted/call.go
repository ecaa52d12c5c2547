// Package hosted has the types in which a page and its host talk: a [Call], its
// [Answer], and the [Store] where files are kept. Start at [Routes], which says what
// answers a call. The host may be a server on this machine or a worker in a browser;
// the page knows of neither, and neither is in this package.
package hosted

import (
	"context"
	"io"
	"net/url"
	"time"
)

// Call is one call of a page. Its host has let it in: it is of the right origin.
type Call struct {
	Method string     // GET, POST; what answers GET answers HEAD too, and the host sends no body
	Path   string     // from the page's own root and decoded, such as /api/start
	Query  url.Values // what stands behind the path
	Length int64      // of the body in bytes, as was announced; -1 when it was not
	Body   io.Reader  // nil is empty

	// Form opens the body as the parts of a form (multipart/form-data) and reads
	// at most so many bytes of it; nil when the body is no form.
	Form func(most int64) (next func() (Part, error), err error)

	// Within asks the host to break the call off when its body has not come, or
	// its answer is not taken, in that time from now. Zero leaves a time as it
	// is; a nil Within never breaks off.
	Within func(come, taken time.Duration)

	values map[string]string
}

// Part is one part of a form. It can be read until the next one is asked for;
// after the last the error is io.EOF.
type Part struct {
	Field, File string // the field's name; the file's without a folder, or empty
	io.Reader
}

// Value is the part of the path that stands for {name} in its pattern.
func (c Call) Value(name string) string { return c.values[name] }

func (c Call) within(come, taken time.Duration) {
	if c.Within != nil {
		c.Within(come, taken)
	}
}

// Comes gives the body so long to come, from now.
func (c Call) Comes(within time.Duration) { c.within(within, 0) }

// Taken gives the answer so long to be taken, from now.
func (c Call) Taken(within time.Duration) { c.within(0, within) }

// Handler answers calls of one kind. ctx ends when nobody waits for the answer
// any more.
type Handler func(ctx context.Context, c Call) Answer

// TooLargeError is of reading a body over its cap.
type TooLargeError struct{ Most int64 }

func (e *TooLargeError) Error() string { return "the body is too large" }

// AtMost reads a body as far as the cap; a byte more is a [*TooLargeError].
func AtMost(body io.Reader, most int64) io.Reader {
	if body == nil {
		return &capped{eof{}, most, most}
	}
	return &capped{body, most, most}
}

type eof struct{}

func (eof) Read([]byte) (int, error) { return 0, io.EOF }

type capped struct {
	from       io.Reader
	left, most int64
}

func (c *capped) Read(p []byte) (int, error) {
	if c.left < 0 {
		return 0, &TooLargeError{c.most}
	}
	if int64(len(p)) > c.left+1 {
		p = p[:c.left+1] // one more, to see that it is too many
	}
	n, err := c.from.Read(p)
	c.left -= int64(n)
	if c.left < 0 {
		return n - 1, &TooLargeError{c.most}
	}
	return n, err
}
