package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
)

// verifyFlags adds the file of those who may sign; without it a signature is
// checked and its signer is not known.
func verifyFlags(f *pflag.FlagSet) action {
	signers := f.String("signers", "", "who may sign: an allowed-signers `FILE` as ssh-keygen reads it")
	return func(e env, c called) int { return runVerify(e, c, *signers) }
}

// runVerify checks the call. A fault in the record exits with 1, as a record that
// cannot be opened does.
func runVerify(e env, c called, signers string) int {
	if c.NArg() != 1 {
		return e.misuse(c, errors.New("verify takes one record: its folder or its zip file"))
	}
	faults, err := e.verify(c.Arg(0), signers)
	if err != nil {
		e.fail(err)
	}
	if err != nil || faults > 0 {
		return exitError
	}
	return exitOK
}

// verify prints one line a finding and, at the end, what they come to.
func (e env) verify(name, signers string) (faults int, err error) {
	o := record.Options{Now: time.Now(), Check: sshsig.Check, Stamp: stamp.Check, Again: readAgain, Ways: recordWays}
	if signers != "" {
		if o.Signers, err = openSigners(signers); err != nil {
			return 0, fmt.Errorf("%s: %w", input.Shown(signers), err)
		}
	}
	root, err := bag.Open(name)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	defer root.Close()
	r := record.Verify(root, o)
	for _, f := range r.Findings {
		fmt.Fprintln(e.out, lines.Blanked(f.String()))
	}
	faults = r.Faults()
	switch {
	case r.Fingerprint == "":
	case faults > 0:
		fmt.Fprintf(e.out, "fingerprint %s, which does not help here: files differ from what it stands for\n", r.Fingerprint)
	default:
		fmt.Fprintf(e.out, "fingerprint %s\n", r.Fingerprint)
	}
	fmt.Fprintln(e.out, verdict(faults))
	return faults, nil
}

// verdict is the last line: what the findings come to, and what to do now.
func verdict(faults int) string {
	switch faults {
	case 0:
		return "no fault found; compare the fingerprint with the one written down when it was kept"
	case 1:
		return "1 fault: do not rely on this record"
	}
	return fmt.Sprintf("%d faults: do not rely on this record", faults)
}

// openSigners reads the file of those who may sign.
func openSigners(name string) (record.Signers, error) {
	data, err := input.ReadFile(name, 4<<20)
	if err != nil {
		return nil, err
	}
	return sshsig.ParseSigners(data)
}

// readAgain makes the reading from the bytes of a record.
func readAgain(p record.Parts) (record.Remade, error) {
	again, err := record.ReadAgain(p, version, photoLimits(usualMegapixels))
	if err != nil {
		return record.Remade{}, err
	}
	return again.Remade()
}
