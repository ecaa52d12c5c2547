package page

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// dial opens a connection and begins a call by hand.
func (r *run) dial(head string) net.Conn {
	r.t.Helper()
	c, err := net.Dial("tcp", r.server.Listener.Addr().String())
	require.NoError(r.t, err)
	r.t.Cleanup(func() { c.Close() })
	require.NoError(r.t, c.SetDeadline(time.Now().Add(2*time.Minute)))
	_, err = fmt.Fprintf(c, "POST %sapi/photos?name=x.jpg HTTP/1.1\r\nHost: %s\r\n%s\r\n\r\n", r.host.Path(), r.server.Listener.Addr(), head)
	require.NoError(r.t, err)
	return c
}

// A size that is too large is refused before a byte of it is read.
func TestTwoGigabytesAreRefusedAtOnce(t *testing.T) {
	r := start(t)
	c := r.dial("Content-Length: 2147483648")
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	require.NoError(t, err)
	body, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	assert.Contains(t, refused(t, http.StatusRequestEntityTooLarge, res.StatusCode, body).Error, "over 128 MB")
	r.works()
}

// A body without end is cut off at the cap. What is read of it is not a photo,
// so that the cap alone can refuse it as too large.
func TestABodyWithoutEndIsCutOff(t *testing.T) {
	r := start(t)
	c := r.dial("Transfer-Encoding: chunked")
	var sent atomic.Int64
	go func() {
		chunk := append(append([]byte("100000\r\n"), make([]byte, 1<<20)...), "\r\n"...)
		for {
			n, err := c.Write(chunk)
			sent.Add(int64(n))
			if err != nil {
				return
			}
		}
	}()
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	require.NoError(t, err)
	assert.Equal(t, http.StatusRequestEntityTooLarge, res.StatusCode)
	c.Close()
	assert.Less(t, sent.Load(), int64(uploadBytes+32<<20))
	r.works()
}

// Calls other than photos have a far lower cap, and the shape that the page sends.
func TestBodiesThatThePageDoesNotSend(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.post("api/charts", bytes.Repeat([]byte(" "), hosted.BodyBytes+1))
	refused(t, http.StatusRequestEntityTooLarge, status, body)
	for _, text := range []string{"", "[]", "{", `{"marks": {}, "chart": {}} {}`, `{"marks": {}, "chart": {}}]`, `{"colour": 1}`, `{"x": 1}`, strings.Repeat("[", 100_000), "\xff\xfe"} {
		status, body := r.post("api/photos/1/reading", []byte(text))
		refused(t, http.StatusBadRequest, status, body)
	}
	r.works()
}

// heapPeak is the most that the heap held, over and above now, while something ran.
func heapPeak(do func()) (bytes uint64) {
	held := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	runtime.GC()
	before, done := held(), make(chan struct{})
	var peak uint64
	var watch sync.WaitGroup
	watch.Go(func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(5 * time.Millisecond):
				peak = max(peak, held())
			}
		}
	})
	do()
	close(done)
	watch.Wait()
	if peak < before {
		return 0
	}
	return peak - before
}

// Fifty photos at once: each is taken or told to try again, and memory is that
// of a few, not of fifty. The bodies are 6 MiB, 300 in all; the picture in each
// is small, with padding after it as some phones leave there.
func TestFiftyUploadsAtOnce(t *testing.T) {
	r := start(t)
	photo := append(cornered(t, 1), make([]byte, 6<<20)...)
	var taken, busy atomic.Int64
	peak := heapPeak(func() {
		var all sync.WaitGroup
		for range 50 {
			all.Go(func() {
				res, err := http.Post(r.url("api/photos"), "", bytes.NewReader(photo))
				if !assert.NoError(t, err) {
					return
				}
				_, body := whole(t, res)
				switch res.StatusCode {
				case http.StatusOK:
					taken.Add(1)
				case http.StatusServiceUnavailable:
					busy.Add(1)
				default:
					assert.Fail(t, "neither taken nor busy", "%d %s", res.StatusCode, body)
				}
			})
		}
		all.Wait()
	})
	t.Logf("%d taken, %d busy, heap peak %d MiB", taken.Load(), busy.Load(), peak>>20)
	assert.Equal(t, int64(50), taken.Load()+busy.Load())
	assert.Positive(t, taken.Load())
	assert.Less(t, peak, uint64(120<<20))
	assert.LessOrEqual(t, len(r.page.photos.photos), photosKept)
	r.works()
}

// While others hold all places, an upload waits and is then told so.
func TestBusyIsTold(t *testing.T) {
	r := start(t)
	r.page.photos.wait = 20 * time.Millisecond
	for range cap(r.page.photos.uploads) {
		r.page.photos.uploads <- struct{}{}
	}
	status, body := r.post("api/photos", demoFile(t, "kitchen.jpg"))
	assert.Contains(t, refused(t, http.StatusServiceUnavailable, status, body).Error, "try again")
	for range cap(r.page.photos.uploads) {
		<-r.page.photos.uploads
	}
	r.works()
}

// Browsers that vanish in mid-upload give their places back.
func TestABrowserThatVanishes(t *testing.T) {
	r := start(t)
	r.page.photos.wait = 5 * time.Second
	for range 3 * cap(r.page.photos.uploads) {
		c := r.dial("Content-Length: 1000000")
		_, err := c.Write(demoFile(t, "kitchen.jpg")[:5000])
		require.NoError(t, err)
		require.NoError(t, c.Close())
	}
	r.works()
	assert.Len(t, r.page.photos.photos, 1, "half a photo is none")
}

// The oldest photo makes way for the fifth.
func TestAtMostFourPhotosAreKept(t *testing.T) {
	r := start(t)
	for range photosKept + 1 {
		r.works()
	}
	status, _ := r.get("api/photos/1/preview")
	assert.Equal(t, http.StatusNotFound, status)
	status, _ = r.get("api/photos/2/preview")
	assert.Equal(t, http.StatusOK, status)
}

// Files that are no photo, or one cut short, are refused in the words of the command.
func TestUploadsThatAreNoPhoto(t *testing.T) {
	r := start(t)
	good := demoFile(t, "kitchen.jpg")
	for want, data := range map[string][]byte{
		"the file is empty":       {},
		"k.jpg: this is no photo": []byte("hello"),
		"cut short":               good[:len(good)/2],
	} {
		status, body := r.post("api/photos?name=k.jpg", data)
		wanted := 422
		if len(data) == 0 {
			wanted = 400
		}
		assert.Contains(t, refused(t, wanted, status, body).Error, want)
	}
	r.works()
}
