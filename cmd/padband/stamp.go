package main

import (
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/stamp"
)

func stampFlags(c command) *pflag.FlagSet { return c.flags() }

func runStamp(e env, c command, args []string) int {
	f := stampFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	if f.NArg() != 2 {
		return e.misuse(c, f, errors.New("stamp takes a record's folder and a timestamp reply"))
	}
	if err := e.stamp(f.Arg(0), f.Arg(1)); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

func (e env) stamp(dir, name string) error {
	reply, err := beside.ReadFile(name, 4<<20)
	if err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	at, err := record.AddStamp(dir, reply, stamp.Check)
	if err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(dir), err)
	}
	_, err = io.WriteString(e.out, "stamped "+at.UTC().Format(time.RFC3339)+"; the authority's signature was not checked here\n")
	return err
}
