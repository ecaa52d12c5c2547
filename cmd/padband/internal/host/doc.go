// Package host is what a page stands on: a server on this machine with its guard
// and the addresses it listens on ([Listen], [NewServer]), and a folder or the
// memory as the store where files are kept. In a browser (GOOS=js) it has no server.
//
// A command opens a port with [Listen], makes a path that nobody guesses with
// [NewPath] and serves a page there with [NewServer]; the page's files go into a
// [Folder]. In a browser the page's calls are made directly, and [Memory] holds
// the files. A store keeps each file whole or not at all.
package host
