// Package host is what a page stands on: a server on this machine with its guard
// and the addresses it listens on ([Listen], [NewServer]), and a folder or the
// memory as the store where files are kept. In a browser (GOOS=js) it has no server.
package host
