package batch

import (
	"bufio"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"strings"
)

// headMark stands for an outcome in the head's line of the state; outcomes are all that may stand there.
const (
	headMark = 'h'
	outcomes = "hguf"
)

// kept is how much of both files is whole, in bytes, and the rows in it.
type kept struct {
	part, state int64
	rows        []Outcome
}

// whole reads the state and holds the part to it, row by row.
func (j *Journal) whole(first string) (k kept, err error) {
	state := bufio.NewReader(j.state)
	line, err := state.ReadString('\n')
	switch {
	case err == io.EOF && j.empty():
		return kept{}, nil
	case err != nil && err != io.EOF:
		return kept{}, err
	case line != first:
		return kept{}, &OtherRunError{j.name + PartEnding}
	}
	seen := int64(len(line))
	part := bufio.NewReader(j.part)
	for {
		line, err := state.ReadString('\n')
		seen += int64(len(line))
		n, outcome, ok := matches(line, part)
		if err != nil || !ok {
			return k, nil
		}
		k.part, k.state = k.part+n, seen
		if outcome != headMark {
			k.rows = append(k.rows, outcome)
		}
	}
}

// empty is whether the part holds nothing that a torn state could lose.
func (j *Journal) empty() bool {
	info, err := j.part.Stat()
	return err == nil && info.Size() == 0
}

// matches reads the row that a whole line of the state tells of, and tells
// whether it is that row.
func matches(line string, part io.Reader) (n int64, o Outcome, ok bool) {
	var sum uint32
	got, err := fmt.Sscanf(line, stateLine, &n, &sum, &o)
	if got != 3 || err != nil || n < 0 || !strings.ContainsRune(outcomes, rune(o)) {
		return 0, 0, false
	}
	h := crc32.NewIEEE()
	_, err = io.CopyN(h, part, n)
	return n, o, err == nil && checksum(h.Sum32(), o) == sum
}

// checksum goes on from the CRC-32 of a row to its outcome.
func checksum(data uint32, o Outcome) uint32 {
	return crc32.Update(data, crc32.IEEETable, []byte{byte(o)})
}

// stateLine is the form of a line of the state.
const stateLine = "%d %08x %c\n"

// cut drops what stands in a file after a place, and goes on writing there.
func cut(f *os.File, at int64) error {
	if err := f.Truncate(at); err != nil {
		return err
	}
	_, err := f.Seek(at, io.SeekStart)
	return err
}
