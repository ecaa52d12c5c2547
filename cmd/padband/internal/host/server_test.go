//go:build !js

package host

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// What a call says reaches the page: decoded, below the token.
func TestCallsReachThePage(t *testing.T) {
	r := start(t, says)
	res, body := r.ask("POST", r.url("api/ph%20otos/%2e%2e/%2fx?name=a%26b&to=1"), nil)
	assert.Equal(t, http.StatusOK, res.StatusCode)
	assert.Equal(t, "text/plain; charset=utf-8", res.Header.Get("Content-Type"))
	assert.Equal(t, "POST /api/ph otos/..//x name=a%26b&to=1 2 {}\n", body)
}

// The kinds of answer: bytes, a file in ranges, a stream, one that breaks off,
// and none.
func TestAnswersAreSent(t *testing.T) {
	closed := 0
	r := start(t, func(_ context.Context, c hosted.Call) hosted.Answer {
		h := map[string]string{"Content-Type": "image/x-test", "Cache-Control": "private"}
		switch c.Path {
		case "/data":
			return hosted.Answer{Status: 418, Header: h, Data: []byte("tea")}
		case "/file":
			return hosted.Answer{Status: 200, Header: h, File: counted{hosted.Bytes("x", []byte("0123456789"), time.Unix(1e9, 0)), &closed}}
		case "/stream":
			return hosted.Answer{Status: 200, Header: h, Stream: func(w io.Writer) error { _, err := io.WriteString(w, "streamed"); return err }}
		case "/breaks":
			return hosted.Answer{Status: 200, Header: h, Stream: func(w io.Writer) error { return errors.Join(errInjected, write100(w)) }}
		}
		return hosted.Answer{}
	})
	for path, want := range map[string]string{"data": "tea", "file": "0123456789", "stream": "streamed", "none": ""} {
		res, body := r.ask("GET", r.url(path), nil)
		assert.Equal(t, want, body)
		if path != "none" {
			assert.Equal(t, map[string]int{"data": 418, "file": 200, "stream": 200}[path], res.StatusCode, path)
			assert.Equal(t, "image/x-test", res.Header.Get("Content-Type"), path)
			assert.Equal(t, "private", res.Header.Get("Cache-Control"), path)
		}
	}
	res, body := r.ask("GET", r.url("file"), map[string]string{"Range": "bytes=2-4"})
	assert.Equal(t, http.StatusPartialContent, res.StatusCode)
	assert.Equal(t, "234", body)
	assert.Equal(t, "Sun, 09 Sep 2001 01:46:40 GMT", res.Header.Get("Last-Modified"), "10^9 seconds after 1970 began")
	assert.Equal(t, 2, closed, "the host closes what it sent")
	res, err := http.Get(r.url("breaks"))
	if err == nil {
		defer res.Body.Close()
		_, err = io.ReadAll(res.Body)
	}
	assert.Error(t, err, "half of it looks whole")
}

func write100(w io.Writer) error {
	_, err := w.Write(make([]byte, 100))
	return err
}

type counted struct {
	hosted.Stored
	n *int
}

func (c counted) Close() error { *c.n++; return c.Stored.Close() }

// A body that is too large ends the connection, so that the rest is not waited for.
func TestTooLargeEndsTheConnection(t *testing.T) {
	r := start(t, says)
	res, err := http.Post(r.url("x"), "", strings.NewReader(strings.Repeat("x", 101)))
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusRequestEntityTooLarge, res.StatusCode)
	assert.True(t, res.Close)
	res, err = http.Post(r.url("x"), "", strings.NewReader(strings.Repeat("x", 100)))
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusOK, res.StatusCode)
	assert.False(t, res.Close)
}

// A body that stops coming is broken off in the time that the page gives it, and
// an answer that nobody takes likewise.
func TestSlowCallsAreBrokenOff(t *testing.T) {
	failed := make(chan error, 1)
	r := start(t, func(_ context.Context, c hosted.Call) hosted.Answer {
		if c.Path == "/come" {
			c.Comes(200 * time.Millisecond)
			_, err := io.ReadAll(c.Body)
			failed <- err
			return hosted.Text(hosted.BadRequest, "late")
		}
		c.Taken(200 * time.Millisecond)
		return hosted.Answer{Status: 200, Stream: func(w io.Writer) error {
			for {
				if _, err := w.Write(make([]byte, 1<<20)); err != nil {
					failed <- err
					return err
				}
			}
		}}
	})
	for _, head := range []string{"POST %scome HTTP/1.1\r\nHost: %s\r\nContent-Length: 10\r\n\r\nhalf", "GET %staken HTTP/1.1\r\nHost: %s\r\n\r\n"} {
		c, err := net.Dial("tcp", r.server.Listener.Addr().String())
		require.NoError(t, err)
		defer c.Close()
		_, err = fmt.Fprintf(c, head, r.host.Path(), r.server.Listener.Addr())
		require.NoError(t, err)
		select {
		case err := <-failed:
			var late net.Error
			require.ErrorAs(t, err, &late)
			assert.True(t, late.Timeout())
		case <-time.After(10 * time.Second):
			t.Fatal("it is waited for without end")
		}
		if strings.HasPrefix(head, "POST") {
			res, err := http.ReadResponse(bufio.NewReader(c), nil)
			require.NoError(t, err)
			assert.Equal(t, http.StatusBadRequest, res.StatusCode, "it is told")
		}
	}
}

// A form comes part by part, and is cut off at the cap.
func TestFormsComeInParts(t *testing.T) {
	r := start(t, func(_ context.Context, c hosted.Call) hosted.Answer {
		next, err := c.Form(400)
		if err != nil {
			return hosted.Text(hosted.BadRequest, "no form")
		}
		var out strings.Builder
		for {
			p, err := next()
			if err == io.EOF {
				return hosted.Text(hosted.OK, out.String())
			}
			var large *hosted.TooLargeError
			if errors.As(err, &large) {
				return hosted.Text(hosted.TooLarge, "cut off")
			}
			if err != nil {
				return hosted.Text(hosted.BadRequest, "broken")
			}
			data, _ := io.ReadAll(p)
			fmt.Fprintf(&out, "%s|%s|%s;", p.Field, p.File, data)
		}
	})
	const kind = "multipart/form-data; boundary=x"
	part := func(head, body string) string {
		return "--x\r\nContent-Disposition: form-data; " + head + "\r\n\r\n" + body + "\r\n"
	}
	two := part(`name="work"`, "{}") + part(`name="tap"; filename="../a.jpg"`, "jpeg")
	for _, c := range []struct{ kind, body, want string }{
		{kind, two + "--x--\r\n", "work||{};tap|a.jpg|jpeg;\n"},
		{kind, two, "broken\n"},
		{kind, part(`name="work"`, strings.Repeat("x", 500)) + "--x--\r\n", "cut off\n"},
		{"text/plain", two, "no form\n"},
		{"multipart/form-data", two, "no form\n"},
	} {
		res, err := http.Post(r.url("x"), c.kind, strings.NewReader(c.body))
		require.NoError(t, err)
		body, err := io.ReadAll(res.Body)
		res.Body.Close()
		require.NoError(t, err)
		assert.Equal(t, c.want, string(body))
	}
}
