package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"padband/calib/strip"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/sshsig"
)

// facts are the flags, else the marks' sample, else the photo, else what a person
// at the terminal answers; else empty.
func (e env) facts(r *strip.Result, flags map[string]*string) []record.Fact {
	said := map[string]string{}
	for name, v := range flags {
		said[name] = *v
	}
	out := record.FactsOf(r, said)
	ask := e.asker()
	for i, a := range record.Sample {
		if out[i].Value == "" {
			out[i].Value = e.askFact(ask, a)
		}
	}
	return out
}

// askFact asks for a fact until it can be read; what cannot is said.
func (e env) askFact(ask func(string) string, a record.SampleFact) string {
	for {
		v := ask(a.Ask)
		err := checkFact(a.Name, v)
		if err == nil {
			return v
		}
		fmt.Fprintf(e.err, "that %s\n", err)
	}
}

// atTerminal is the terminal that a person answers at, or nil.
func (e env) atTerminal() *os.File {
	if f, ok := e.in.(*os.File); ok && terminal(f) {
		return f
	}
	return nil
}

// asker asks at a terminal, each thing once, until the input ends; elsewhere it
// answers nothing.
func (e env) asker() func(string) string {
	f := e.atTerminal()
	if f == nil {
		return func(string) string { return "" }
	}
	in, ended := bufio.NewReader(f), false
	return func(what string) string {
		for !ended {
			fmt.Fprintf(e.err, "%s (empty when not known): ", what)
			line, err := in.ReadString('\n')
			if ended = err != nil; ended {
				fmt.Fprintln(e.err)
			}
			line = strings.TrimSpace(line)
			if utf8.RuneCountInString(line) <= record.LongestFact {
				return line
			}
			fmt.Fprintf(e.err, "that is over %d letters and was not taken; say it shorter, or keep it in a file with --attach\n", record.LongestFact)
		}
		return ""
	}
}

// signer opens the key to sign with, nil when there is none; at a terminal it
// asks for a key's passphrase, which is not shown.
func (e env) signer(name string) (s record.Signer, done func(), err error) {
	if name == "" {
		return nil, func() {}, nil
	}
	var ask func() ([]byte, error)
	if f := e.atTerminal(); f != nil {
		ask = func() ([]byte, error) {
			fmt.Fprintf(e.err, "passphrase of %s: ", beside.Shown(name))
			defer fmt.Fprintln(e.err)
			p, err := term.ReadPassword(int(f.Fd()))
			if err != nil || len(p) == 0 {
				return nil, errors.New("needs its passphrase, and none was given")
			}
			return p, nil
		}
	}
	s, done, err = sshsig.OpenKey(name, ask)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	return s, done, nil
}
