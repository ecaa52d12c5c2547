//go:build !js

package host

import (
	"errors"
	"io"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A caller that sends its header drop by drop is let go of, and others are
// answered meanwhile.
func TestSlowHeader(t *testing.T) {
	at, err := Listen(0, nil)
	require.NoError(t, err)
	p := NewServer(answers(says), NewPath(), at.Hosts)
	s := newServer(p)
	assert.LessOrEqual(t, s.ReadHeaderTimeout, 10*time.Second)
	assert.NotZero(t, s.IdleTimeout)
	assert.NotZero(t, s.WriteTimeout)
	s.ReadHeaderTimeout = 300 * time.Millisecond
	go s.Serve(at.listeners[0])
	t.Cleanup(func() { s.Close() })
	slow, err := net.Dial("tcp", at.Hosts[0])
	require.NoError(t, err)
	defer slow.Close()
	begun := time.Now()
	_, err = io.WriteString(slow, "GET / HTTP/1.1\r\nHost: "+at.Hosts[0]+"\r\nX: ")
	require.NoError(t, err)
	res, err := http.Get("http://" + at.Hosts[0] + p.Path())
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusOK, res.StatusCode)
	require.NoError(t, slow.SetReadDeadline(time.Now().Add(10*time.Second)))
	_, err = io.Copy(io.Discard, slow)
	require.NoError(t, err, "the server ends it, not the deadline")
	assert.Less(t, time.Since(begun), 5*time.Second)
}

func TestShareWithoutANetwork(t *testing.T) {
	_, err := Listen(0, func() (string, error) { return "", errors.New("no network") })
	assert.EqualError(t, err, "no network")
	at, err := Listen(0, nil)
	require.NoError(t, err)
	defer at.Close()
	_, err = Listen(at.listeners[0].Addr().(*net.TCPAddr).Port, nil)
	var port *PortError
	require.ErrorAs(t, err, &port)
	assert.ErrorContains(t, err, "cannot be used: address already in use")
}

func TestOpener(t *testing.T) {
	for system, want := range map[string]string{"linux": "xdg-open", "darwin": "open", "windows": "rundll32"} {
		name, args := opener(system, "http://127.0.0.1:1/x/")
		assert.Equal(t, want, name)
		assert.Equal(t, "http://127.0.0.1:1/x/", args[len(args)-1])
	}
}
