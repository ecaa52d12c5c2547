package record

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"strings"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
)

// Sheet is a record made ready to be shown: what its report is made from, with the
// reading made again from its bytes and the findings of its verification.
type Sheet struct {
	paper.Input
	Result Result
}

// Sheet reads a record for its report and verifies it on the way. The error says
// why no report can be made of it.
func (o Options) Sheet(root *bag.Root, version string) (Sheet, error) {
	var again Reread
	o.Again = func(p Parts) (Remade, error) {
		var err error
		if again, err = ReadAgain(p, version, o.Limits); err != nil {
			return Remade{}, err
		}
		return again.Remade()
	}
	res := Verify(root, o)
	if again.Result == nil && again.Joined == nil {
		return Sheet{Result: res}, o.unreadable(res)
	}
	in := again.sheet(res.Info, attachedTo(root), rootHashes(root))
	in.Seal = &paper.Seal{Fingerprint: res.Fingerprint, Faults: res.Faults()}
	for _, f := range res.Findings {
		in.Seal.Findings = append(in.Seal.Findings, f.String())
	}
	return Sheet{in, res}, nil
}

// Doubts is a sentence on what is wrong with the record, with its first fault as the
// example; there is none where nothing is wrong. which says which of several records
// is meant.
func (s Sheet) Doubts(which string) []string {
	for _, f := range s.Result.Findings {
		if f.Fault {
			return []string{fmt.Sprintf("The record %s is not as it was made (%s: %s%s). Do not rely on what follows.",
				which, bag.Shown(f.About), f.Text, more(s.Result.Faults()-1))}
		}
	}
	return nil
}

// unreadable gives the first fault, for a record from which no reading can be made.
func (o Options) unreadable(r Result) error {
	for _, f := range r.Findings {
		if f.Fault {
			return fmt.Errorf("no report can be made of it: %s: %s%s", bag.Shown(f.About), f.Text, by("; %s names all that is wrong", o.Ways.Verify))
		}
	}
	return errors.New("no report can be made of it: its photo was not read again" + by("; %s says why", o.Ways.Verify))
}

// rootHashes are the SHA-256 of the files that the reading rests on, as these files
// are now.
func rootHashes(root *bag.Root) (out []words.Entry) {
	for _, p := range root.Names() {
		if !strings.HasPrefix(p, photoDir) && !strings.HasPrefix(p, marksDir) && p != chartPath && p != marksPath && p != readingPath {
			continue
		}
		h := sha256.New()
		if root.Copy(h, p, bag.FileBytes) == nil {
			out = append(out, words.Entry{Label: p, Value: fmt.Sprintf("%x", h.Sum(nil))})
		}
	}
	return out
}
