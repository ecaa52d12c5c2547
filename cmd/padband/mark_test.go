package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/page"
)

// running starts the command itself as a person does, and returns the page's
// address and a way to stop it that returns its exit code and what it printed.
func running(t *testing.T, args ...string) (address string, stop func(s os.Signal) (code int, out string)) {
	t.Helper()
	self, err := os.Executable() // testscript runs this program as padband by its name
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "padband")
	require.NoError(t, os.Symlink(self, name))
	cmd := exec.Command(name, args...)
	var out lockedBuffer
	cmd.Stdout, cmd.Stderr = &out, &out
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill() })
	found := regexp.MustCompile(`The page is at (http://127\.0\.0\.1:\d+/[a-z2-7]{16}/)\n`)
	require.Eventually(t, func() bool { return found.MatchString(out.String()) }, 30*time.Second, 20*time.Millisecond, "it prints no address")
	return found.FindStringSubmatch(out.String())[1], func(s os.Signal) (int, string) {
		require.NoError(t, cmd.Process.Signal(s))
		err := cmd.Wait()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			require.NoError(t, err)
		}
		return cmd.ProcessState.ExitCode(), out.String()
	}
}

// The command serves the page of its photo at the address it prints, and ends
// in peace when it is told to. Nothing was written.
func TestMarkServesThePage(t *testing.T) {
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		dir := folder(t, "orchard-well")
		address, stop := running(t, "mark", "--no-browser", filepath.Join(dir, "p.jpg"))
		res, err := http.Get(address + "api/start")
		require.NoError(t, err)
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		res.Body.Close()
		assert.Contains(t, string(body), `"name":"p.jpg"`)
		code, out := stop(s)
		assert.Equal(t, exitOK, code, out)
		assert.Regexp(t, `^The page is at \S+\nNothing is kept that you do not save\. Ctrl-C ends it\.\n$`, out)
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Len(t, entries, 2)
		_, err = http.Get(address)
		assert.Error(t, err, "the port is free again")
	}
}

// served is a page that saves into a folder, on its server.
func served(t *testing.T, hosts []string, shared, folder, photo string) *host.Server {
	t.Helper()
	begin, err := photoAt(photo, folder)
	require.NoError(t, err)
	path := host.NewPath()
	p, err := page.New(markOptions{megapixels: usualMegapixels}.page(shared, path, folder, begin))
	require.NoError(t, err)
	return host.NewServer(p, path, hosts)
}

// post calls the page.
func post(t *testing.T, p *host.Server, path string, body []byte) *httptest.ResponseRecorder {
	t.Helper()
	w := httptest.NewRecorder()
	p.ServeHTTP(w, httptest.NewRequest("POST", "http://127.0.0.1:1"+p.Path()+path, bytes.NewReader(body)))
	require.Equal(t, http.StatusOK, w.Code, w.Body)
	return w
}

// The page's reading is, byte for byte, what the command prints for the files
// that the page saved.
func TestPageReadsAsTheCommandDoes(t *testing.T) {
	for _, name := range []string{"kitchen", "cellar"} {
		dir := t.TempDir()
		photo := filepath.Join(dir, name+".jpg")
		data, err := os.ReadFile(demo + name + ".jpg")
		require.NoError(t, err)
		write(t, photo, data)
		marks, err := os.ReadFile(demo + name + ".marks.json")
		require.NoError(t, err)
		write(t, filepath.Join(dir, name+".marks.json"), marks)
		p := served(t, []string{"127.0.0.1:1"}, "", dir, photo)

		var began struct{ Photo page.PhotoInfo }
		w := httptest.NewRecorder()
		p.ServeHTTP(w, httptest.NewRequest("GET", "http://127.0.0.1:1"+p.Path()+"api/start", nil))
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &began))
		var file map[string]any
		require.NoError(t, json.Unmarshal(began.Photo.Marks, &file))
		file["sample"] = map[string]any{"place": "hut", "dipped": "2026-11-14T08:40:20-05:00", "kit": map[string]any{"opened": "2026-09-01"}}
		changed, err := json.Marshal(file)
		require.NoError(t, err)
		body, err := json.Marshal(map[string]any{"marks": json.RawMessage(changed), "chart": began.Photo.Chart, "force": true})
		require.NoError(t, err)
		var read struct {
			JSON     string
			Complete bool
		}
		require.NoError(t, json.Unmarshal(post(t, p, "api/photos/1/reading", body).Body.Bytes(), &read))
		require.True(t, read.Complete)
		post(t, p, "api/photos/1/save", body)

		code, out, errOut := call("read", "--json", photo)
		require.Equal(t, exitOK, code, errOut)
		assert.Equal(t, out, read.JSON+"\n", name)
		saved := readText(t, filepath.Join(dir, name+".reading.json"))
		assert.Equal(t, out, saved, name)
	}
}

// Shared, the page listens on this machine's address in the network as well,
// on the same port, and answers to that name too.
func TestSharedPageListensOnTheNetworkToo(t *testing.T) {
	const own = "127.0.0.2" // stands for an address in the house's network
	at, err := host.Listen(0, func() (string, error) { return own, nil })
	if err != nil {
		t.Skipf("this system has the one loopback address: %v", err)
	}
	_, port, err := net.SplitHostPort(at.Hosts[0])
	require.NoError(t, err)
	assert.Equal(t, []string{"127.0.0.1:" + port, "localhost:" + port, own + ":" + port}, at.Hosts)
	p := served(t, at.Hosts, at.Shared, t.TempDir(), "")
	ctx, end := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- at.Serve(ctx, p) }()
	for _, h := range at.Hosts {
		res, err := http.Get("http://" + h + p.Path() + "api/start")
		require.NoError(t, err)
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		res.Body.Close()
		assert.Contains(t, string(body), `"shared":true,"address":"http://`+own+":"+port+p.Path()+`"`)
		assert.Contains(t, string(body), `"qr":"\u003csvg `)
	}
	end()
	assert.NoError(t, <-ended)

	var out strings.Builder
	require.NoError(t, env{out: &out}.tellAddress(at, p.Path()))
	assert.Contains(t, out.String(), "is\nnot encrypted")
	assert.Contains(t, out.String(), "\n"+at.Shared+p.Path()+"\n")
	assert.Contains(t, out.String(), "█ ▄▄▄▄▄ █")
}

// Why there is no page is said with the flags that help.
func TestNoPage(t *testing.T) {
	for err, want := range map[error]string{
		&host.PortError{Port: 80, Address: "127.0.0.1", Err: errors.New("taken")}: "port 80 of 127.0.0.1 cannot be used: taken; name another with --port, or none for a free one",
		&host.NetworkError{}:                             "this machine is in no house network; connect it, or use padband mark without --share",
		&host.NetworkError{Err: errors.New("no answer")}: "this machine's network cannot be asked: no answer; use padband mark without --share",
	} {
		assert.EqualError(t, withPage(err), want)
	}
}

// lockedBuffer is a buffer that one may write while another reads.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// The page finds what the command finds, and looks for nothing where all is to be marked
// by hand.
func TestThePageFindsWhatTheCommandFinds(t *testing.T) {
	dir := bareFolder(t, "p.jpg")
	photo := filepath.Join(dir, "p.jpg")
	code, out, errOut := call("outline", "--json", photo, "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	var want, got map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &want))
	require.NotNil(t, want["marks"])
	chart, ok := charts.BundledFile("orchard-well")
	require.True(t, ok)
	body, err := json.Marshal(map[string]any{"chart": json.RawMessage(chart)})
	require.NoError(t, err)
	for _, byHand := range []bool{false, true} {
		args := []string{"mark", "--no-browser", photo}
		if byHand {
			args = append(args, "--by-hand")
		}
		address, stop := running(t, args...)
		res, err := http.Post(address+"api/photos/1/outline", "application/json", bytes.NewReader(body))
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, res.StatusCode)
		require.NoError(t, json.NewDecoder(res.Body).Decode(&got))
		res.Body.Close()
		stop(os.Interrupt)
		if byHand {
			assert.Nil(t, got["marks"])
			continue
		}
		assert.Equal(t, want["marks"], got["marks"])
		assert.Equal(t, want["questions"], got["questions"])
	}
}
