package hosted

import (
	"context"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// A body is read to its cap and not a byte further, however it comes.
func TestAtMost(t *testing.T) {
	for _, c := range []struct {
		body string
		most int64
		want string
		over bool
	}{
		{"", 0, "", false}, {"x", 0, "", true}, {"abc", 3, "abc", false}, {"abcd", 3, "abc", true}, {strings.Repeat("x", 10_000), 9_999, strings.Repeat("x", 9_999), true},
	} {
		for _, from := range []io.Reader{strings.NewReader(c.body), iotest.OneByteReader(strings.NewReader(c.body)), iotest.DataErrReader(strings.NewReader(c.body))} {
			r := AtMost(from, c.most)
			data, err := io.ReadAll(r)
			assert.Equal(t, c.want, string(data))
			var large *TooLargeError
			assert.Equal(t, c.over, errors.As(err, &large), "%v", err)
			if c.over {
				assert.Equal(t, c.most, large.Most)
				_, err = r.Read(make([]byte, 1))
				assert.ErrorAs(t, err, &large, "and so ever after")
				continue
			}
			assert.NoError(t, err)
		}
	}
	data, err := io.ReadAll(AtMost(nil, 5))
	assert.NoError(t, err)
	assert.Empty(t, data)
	_, err = io.ReadAll(AtMost(iotest.ErrReader(io.ErrUnexpectedEOF), 5))
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

func TestTake(t *testing.T) {
	type object struct{ A int }
	var come time.Duration
	take := func(body string) (object, error) {
		var o object
		err := Call{Body: strings.NewReader(body), Within: func(c, _ time.Duration) { come = c }}.Take(&o)
		return o, err
	}
	o, err := take(` {"A": 3} `)
	require.NoError(t, err)
	assert.Equal(t, object{3}, o)
	assert.Equal(t, 30*time.Second, come, "a body has so long to come")
	for _, body := range []string{"", "{", "[]", "3", `{"B":1}`, `{"A":1}{}`, `{"A":1}x`, `{"A":1}]`} {
		_, err := take(body)
		assert.Equal(t, BadRequest, Refuse(err).Status, body)
	}
	_, err = take(strings.Repeat(" ", BodyBytes+1))
	assert.Equal(t, TooLarge, Refuse(err).Status)
	assert.NoError(t, Call{Body: strings.NewReader("{}")}.Take(&o), "a host may never break off")
	assert.Equal(t, BadRequest, Refuse(Call{}.Take(&o)).Status, "no body at all")
}

func TestRoutes(t *testing.T) {
	says := func(text string) Handler {
		return func(_ context.Context, c Call) Answer { return Text(OK, text+c.Value("id")+"."+c.Value("k")) }
	}
	var r Routes
	r.Other = says("other")
	r.On("GET /api/a", says("list"))
	r.On("GET /api/a/{id}/x/{k}", says("one "))
	r.On("POST /api/a", says("new"))
	for call, want := range map[string]string{
		"GET /api/a": "list.", "HEAD /api/a": "list.", "POST /api/a": "new.", "PUT /api/a": "other.", "HEAD /api/a/7/x/b c": "one 7.b c", "POST /api/a/7/x/b": "other.",
		"GET /api/a/": "other.", "GET /api/a//x/b": "other.", "GET /api/a/7/x/": "other.", "GET /api/a/7/y/b": "other.", "GET /api/a/7/x/b/c": "other.", "GET api/a": "other.", "GET ": "other.", "GET /api/a/../x/..": "one .....",
	} {
		method, path, _ := strings.Cut(call, " ")
		assert.Equal(t, want+"\n", string(r.Handle(t.Context(), Call{Method: method, Path: path}).Data), call)
	}
}

// A refusal is one line, with the status, the field and the names that the error has.
func TestRefuse(t *testing.T) {
	a := Refuse(errors.New("two\n  lines"))
	assert.Equal(t, Answer{Status: Unprocessable, Header: map[string]string{"Content-Type": "application/json"}, Data: []byte(`{"error":"two lines"}`)}, a)
	a = Refuse(Fail(Conflict, &ExistsError{[]string{"a", "b"}}))
	assert.Equal(t, Conflict, a.Status)
	assert.JSONEq(t, `{"error":"there already: a, b; nothing was written","exists":["a","b"]}`, string(a.Data))
	a = Refuse(&charts.TypedError{Field: "unit", What: "is odd"})
	assert.Contains(t, string(a.Data), `"field":"unit"`)
	assert.Equal(t, Failed, JSON(math.NaN()).Status, "what cannot be written is no half an answer")
}

func TestWriteErrors(t *testing.T) {
	cause := errors.New("the disk is full")
	err := error(&WriteError{Name: "a\nb", Err: cause})
	assert.EqualError(t, err, `"a\nb": cannot be written: the disk is full; nothing was written`)
	assert.ErrorIs(t, err, cause)
	assert.EqualError(t, &WriteError{Name: "a", Err: cause, Placed: true}, "a: cannot be put in its place: the disk is full; save again")
}
