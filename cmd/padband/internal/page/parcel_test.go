package page

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// Names that lead elsewhere, mean something to a system or steer a terminal are
// made plain; two of one name both stay; nothing lands outside the record.
func TestKeepMakesNamesPlain(t *testing.T) {
	r := start(t, "kitchen.jpg")
	one := cornered(t, 1)
	names := []string{"../../../x.jpg", `..\..\x.jpg`, "/etc/passwd", `C:\con.jpg`, "con.jpg", "a\u202egpj.exe.jpg", strings.Repeat("n", 300) + ".jpg", "x.jpg", "X.JPG", ".", "é ü.jpg"}
	var more []part
	for _, n := range names {
		more = append(more, part{"other", n, one})
	}
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping(), more...))
	got := ok[keptAnswer](t, status, body)
	verified(t, filepath.Join(r.folder, got.Name))
	attached := inside(t, filepath.Join(r.folder, got.Name, "data", "attached"))
	assert.Len(t, attached, len(names))
	for _, n := range attached {
		assert.Regexp(t, `^[A-Za-z0-9._-]{1,80}$`, n)
	}
	assert.Equal(t, []string{got.Name, "kitchen.jpg"}, inside(t, r.folder))
	assert.NoFileExists(t, filepath.Join(r.folder, "..", "x.jpg"))
}

// Calls of another shape are refused, and keep nothing.
func TestKeepTakesWhatThePageSends(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := partsOf(t, r.keeping())
	one := cornered(t, 1)
	said := r.keeping()
	said.Facts["place"] = "elsewhere" // it is in the marks
	long := r.keeping()
	long.Facts["handling"] = strings.Repeat("x", factBytes+1)
	for name, c := range map[string]struct {
		parts []part
		want  int
	}{
		"nothing":                       {nil, http.StatusBadRequest},
		"no work":                       {[]part{{"label", "a.jpg", one}}, http.StatusBadRequest},
		"work last":                     {append([]part{{"label", "a.jpg", one}}, w...), http.StatusBadRequest},
		"work twice":                    {append(w, w...), http.StatusBadRequest},
		"another kind":                  {append(w, part{"key", "id", one}), http.StatusBadRequest},
		"no JSON":                       {[]part{{"work", "", []byte("{")}}, http.StatusBadRequest},
		"an unknown field":              {[]part{{"work", "", []byte(`{"sign": "id"}`)}}, http.StatusBadRequest},
		"work without end":              {[]part{{"work", "", bytes.Repeat([]byte(" "), hosted.BodyBytes+1)}}, http.StatusBadRequest},
		"a fact of the marks":           {partsOf(t, said), http.StatusBadRequest},
		"a fact too long":               {partsOf(t, long), http.StatusUnprocessableEntity},
		"an empty file":                 {append(w, part{"tap", "a.jpg", nil}), http.StatusUnprocessableEntity},
		"a name that steers a terminal": {append(w, part{"tap", "a\x1b[31m.jpg", one}), http.StatusBadRequest},
		"too many files":                {append(w, many(attachMost+1, one)...), http.StatusRequestEntityTooLarge},
	} {
		status, body := r.sendParts("api/photos/1/keep", c.parts)
		assert.Equal(t, c.want, status, "%s: %s", name, body)
		refused(t, status, status, body)
	}
	status, body := r.post("api/photos/1/keep", r.keeping())
	refused(t, http.StatusBadRequest, status, body)
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	status, body = r.sendParts("api/photos/1/keep", append(w, many(attachMost, one)...))
	ok[keptAnswer](t, status, body)
}

// A call that ends within a file, or just before its end is said, is not taken
// for a whole one.
func TestKeepOfACutCall(t *testing.T) {
	r := start(t, "kitchen.jpg")
	kind, body := r.packed(partsOf(t, r.keeping(), part{"label", "a.jpg", cornered(t, 1)}))
	for _, lacks := range []int{3, 70, 500} {
		res, err := http.Post(r.url("api/photos/1/keep"), kind, bytes.NewReader(body.Bytes()[:body.Len()-lacks]))
		require.NoError(t, err)
		status, answer := whole(t, res)
		assert.Contains(t, refused(t, http.StatusBadRequest, status, answer).Error, "did not arrive whole", lacks)
	}
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	_, err := pieces(io.MultiReader(strings.NewReader("x"), iotest.ErrReader(io.ErrUnexpectedEOF)))
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

func many(n int, data []byte) (out []part) {
	for i := range n {
		out = append(out, part{kinds[i%len(kinds)], fmt.Sprintf("%d.jpg", i), data})
	}
	return out
}

// What is too large is refused: said beforehand at once, else at the cap of one
// file and of all.
func TestKeepIsBounded(t *testing.T) {
	r := start(t, "kitchen.jpg")
	c := r.dialKeep("Content-Length: 2147483648")
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	require.NoError(t, err)
	assert.Equal(t, http.StatusRequestEntityTooLarge, res.StatusCode)

	w := partsOf(t, r.keeping())
	half := make([]byte, attachBytes)
	status, body := r.sendParts("api/photos/1/keep", append(w, part{"tap", "a", append(half, 0)}))
	assert.Contains(t, refused(t, http.StatusRequestEntityTooLarge, status, body).Error, "a further photo is over 128 MB")
	status, body = r.sendParts("api/photos/1/keep", append(w, part{"tap", "a", half}, part{"tap", "b", half}, part{"tap", "c", []byte{0}}))
	assert.Contains(t, refused(t, http.StatusRequestEntityTooLarge, status, body).Error, "over 256 MB together")
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	r.works()
}

// dialKeep begins a call to keep by hand.
func (r *run) dialKeep(head string) net.Conn {
	r.t.Helper()
	c, err := net.Dial("tcp", r.server.Listener.Addr().String())
	require.NoError(r.t, err)
	r.t.Cleanup(func() { c.Close() })
	require.NoError(r.t, c.SetDeadline(time.Now().Add(20*time.Second)))
	_, err = fmt.Fprintf(c, "POST %sapi/photos/1/keep HTTP/1.1\r\nHost: %s\r\nContent-Type: multipart/form-data; boundary=x\r\n%s\r\n\r\n", r.host.Path(), r.server.Listener.Addr(), head)
	require.NoError(r.t, err)
	return c
}

// A browser that vanishes in the middle keeps nothing and blocks nobody; while
// one record is made, the next waits and is then told so.
func TestKeepGivesItsPlaceBack(t *testing.T) {
	r := start(t, "kitchen.jpg")
	for range 3 {
		c := r.dialKeep("Content-Length: 100000")
		_, err := c.Write([]byte("--x\r\nContent-Disposition: form-data; name=\"work\"\r\n\r\n{"))
		require.NoError(t, err)
		require.NoError(t, c.Close())
	}
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	got := ok[keptAnswer](t, status, body)
	assert.Equal(t, []string{got.Name, "kitchen.jpg"}, inside(t, r.folder))

	r.page.photos.wait = 20 * time.Millisecond
	r.page.photos.keeps <- struct{}{}
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	assert.Contains(t, refused(t, http.StatusServiceUnavailable, status, body).Error, "try again")
	<-r.page.photos.keeps
}

// Keeping and handing out are guarded as all calls are.
func TestKeepIsGuarded(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	got := ok[keptAnswer](t, status, body)
	require.NoError(t, os.RemoveAll(filepath.Join(r.folder, got.Name)))
	for _, headers := range []map[string]string{{"Origin": "http://evil.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}} {
		assert.Equal(t, http.StatusForbidden, r.ask("POST", r.url("api/photos/1/keep"), headers).StatusCode)
	}
	for _, path := range []string{got.Report, got.Archive} {
		assert.Equal(t, http.StatusForbidden, r.ask("GET", r.url(path), map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}).StatusCode, "a link on another page")
		assert.Equal(t, http.StatusNotFound, r.ask("GET", r.url(path), map[string]string{"Host": "evil.example"}).StatusCode)
		assert.Equal(t, http.StatusNotFound, r.ask("GET", r.server.URL+"/aaaaaaaaaaaaaaaa/"+path, nil).StatusCode)
	}
	assert.Equal(t, http.StatusNotFound, r.ask("POST", r.server.URL+"/aaaaaaaaaaaaaaaa/api/photos/1/keep", nil).StatusCode)
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
}
