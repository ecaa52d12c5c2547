package batch

import (
	"bufio"
	"encoding/binary"
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

// whole reads the state and holds the part to it, row by row. Photos may have been
// added after those that are done; rows of other photos are another run's.
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
	upTo := int64(len(line))
	part := bufio.NewReader(j.part)
	for {
		line, err := state.ReadString('\n')
		upTo += int64(len(line))
		row, ok := matches(line, part)
		if err != nil || !ok {
			return k, nil
		}
		if row.outcome != headMark {
			if n := len(k.rows); n == len(j.photos) || row.of != j.photos[n].mark() {
				return kept{}, &OtherRunError{j.name + PartEnding}
			}
			k.rows = append(k.rows, row.outcome)
		}
		k.part, k.state = k.part+row.length, upTo
	}
}

// mark stands for a photo in the state: a CRC-32 of its names.
func (p Photo) mark() uint32 { return crc32.ChecksumIEEE([]byte(p.Name + "\x00" + p.File)) }

// rowMark is what a line of the state says of a row.
type rowMark struct {
	length  int64
	sum, of uint32 // of the whole of it; of its photo
	outcome Outcome
}

// empty is whether the part holds nothing that a torn state could lose.
func (j *Journal) empty() bool {
	info, err := j.part.Stat()
	return err == nil && info.Size() == 0
}

// matches reads the row that a whole line of the state tells of, and tells
// whether it is that row.
func matches(line string, part io.Reader) (r rowMark, ok bool) {
	got, err := fmt.Sscanf(line, stateLine, &r.length, &r.sum, &r.of, &r.outcome)
	if got != 4 || err != nil || r.length < 0 || !strings.ContainsRune(outcomes, rune(r.outcome)) {
		return r, false
	}
	h := crc32.NewIEEE()
	_, err = io.CopyN(h, part, r.length)
	return r, err == nil && checksum(h.Sum32(), r.of, r.outcome) == r.sum
}

// checksum goes on from the CRC-32 of a row to what else its line says.
func checksum(data, of uint32, o Outcome) uint32 {
	return crc32.Update(data, crc32.IEEETable, append(binary.BigEndian.AppendUint32(nil, of), byte(o)))
}

// stateLine is the form of a line of the state.
const stateLine = "%d %08x %08x %c\n"

// cut drops what stands in a file after a place, and goes on writing there.
func cut(f *os.File, at int64) error {
	if err := f.Truncate(at); err != nil {
		return err
	}
	_, err := f.Seek(at, io.SeekStart)
	return err
}
