//go:build !js

package host

import (
	"context"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"time"

	"padband/cmd/padband/internal/input"
)

// Place is where a page listens.
type Place struct {
	Hosts     []string // what a call's Host may say, this machine's own first
	Shared    string   // the address for other machines, without the token; empty when not shared
	listeners []net.Listener
}

// Close ends the listening.
func (p Place) Close() {
	for _, l := range p.listeners {
		l.Close()
	}
}

// PortError is the error of a port that cannot be listened on.
type PortError struct {
	Port    int
	Address string
	Err     error
}

func (e *PortError) Error() string {
	return fmt.Sprintf("port %d of %s cannot be used: %v", e.Port, e.Address, e.Err)
}

func (e *PortError) Unwrap() error { return e.Err }

// Listen opens a port, 0 for a free one, on this machine alone or, with own, on
// that address of it too, such as [OwnAddress]. The errors are [*PortError] and own's.
func Listen(port int, own func() (string, error)) (p Place, err error) {
	if err := p.add("127.0.0.1", port); err != nil {
		return p, err
	}
	port = p.listeners[0].Addr().(*net.TCPAddr).Port
	p.Hosts = append(p.Hosts, net.JoinHostPort("localhost", strconv.Itoa(port)))
	if own == nil {
		return p, nil
	}
	address, err := own()
	if err == nil {
		err = p.add(address, port)
	}
	if err != nil {
		p.Close()
		return p, err
	}
	p.Shared = "http://" + p.Hosts[len(p.Hosts)-1]
	return p, nil
}

// add listens at one address more.
func (p *Place) add(address string, port int) error {
	l, err := net.Listen("tcp4", net.JoinHostPort(address, strconv.Itoa(port)))
	if err != nil {
		return &PortError{port, address, input.Cause(err)}
	}
	p.listeners, p.Hosts = append(p.listeners, l), append(p.Hosts, l.Addr().String())
	return nil
}

// NetworkError is the error of a machine without an address in the house's network.
type NetworkError struct{ Err error } // nil when it is in none

func (e *NetworkError) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("this machine's network cannot be asked: %v", e.Err)
	}
	return "this machine is in no house network"
}

func (e *NetworkError) Unwrap() error { return e.Err }

// OwnAddress is this machine's address in the house's network. The error is a
// [*NetworkError].
func OwnAddress() (string, error) {
	all, err := net.InterfaceAddrs()
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
			return n.IP.String(), nil
		}
	}
	return "", &NetworkError{err}
}

// Time-outs of a call; an upload has its own, longer one.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	answerTime = 5 * time.Minute
	endTime    = 2 * time.Second
)

// silent drops what the network library has to say: of clients that vanish.
var silent = log.New(io.Discard, "", 0)

// Serve answers calls until ctx ends, and then lets those under way end.
func (p Place) Serve(ctx context.Context, h http.Handler) error {
	s := newServer(h)
	failed := make(chan error, len(p.listeners))
	for _, l := range p.listeners {
		go func() { failed <- s.Serve(l) }()
	}
	select {
	case err := <-failed:
		s.Close()
		return fmt.Errorf("the page cannot be served: %w; start it again", err)
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), endTime)
	defer cancel()
	if s.Shutdown(last) != nil {
		s.Close()
	}
	return nil
}

// newServer is a server that waits for no slow client for long.
func newServer(h http.Handler) *http.Server {
	return &http.Server{
		Handler: h, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, WriteTimeout: answerTime,
		MaxHeaderBytes: 64 << 10, ErrorLog: silent,
	}
}
