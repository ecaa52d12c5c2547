package batch

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// Journal is an output file that grows so that a run cut off at any moment can
// go on. NAME.part holds the head and the rows; NAME.part.state says which run
// they are of, and of the head and each row its length, a CRC-32 of it, one of its
// photo's name, and its outcome. A row counts when both hold it whole: what a kill or a loss of power
// tore, and all after it, is cut off when the journal is opened again. At the end
// NAME.part becomes NAME.
type Journal struct {
	name        string
	force       bool
	photos      []Photo
	part, state *os.File
	done        []Outcome
}

// PartEnding ends the name of an output that is not whole yet.
const PartEnding = ".part"

// stateEnding ends, after it, the name of the state.
const stateEnding = ".state"

// OpenOptions are how a journal is opened.
type OpenOptions struct {
	Run    string // identifies what is run: all that decides the output's bytes but the photos
	Photos []Photo
	Head   []byte // what stands before the first row
	Resume bool   // go on with what is there
	Force  bool   // replace the output, and what is there of an earlier run
}

// Open begins an output, or goes on with it. The errors are
// [*hosted.ExistsError] when the output is there, [*PartError], [*OtherRunError],
// [*BusyError], and the system's.
func Open(name string, o OpenOptions) (*Journal, error) {
	j := &Journal{name: name, force: o.Force, photos: o.Photos}
	if err := j.free(); err != nil {
		return nil, err
	}
	if err := j.open(o); err != nil {
		return nil, errors.Join(err, j.Close())
	}
	if err := j.begin(o); err != nil {
		return nil, errors.Join(err, j.Close())
	}
	return j, nil
}

// free tells whether the output may be written.
func (j *Journal) free() error {
	info, err := os.Lstat(j.name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return reason(err)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s: there is a folder, link or device of this name; name another file", input.Shown(j.name))
	case !j.force:
		return &hosted.ExistsError{Names: []string{input.Shown(j.name)}}
	}
	return nil
}

// open opens both files and makes them this run's alone.
func (j *Journal) open(o OpenOptions) (err error) {
	part := j.name + PartEnding
	how := os.O_RDWR | os.O_CREATE
	if !o.Resume && !o.Force {
		how |= os.O_EXCL
	}
	if j.part, err = os.OpenFile(part, how, 0o644); errors.Is(err, fs.ErrExist) {
		return &PartError{part}
	} else if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", input.Shown(part), reason(err))
	}
	if busy(j.part) {
		return &BusyError{part}
	}
	if j.state, err = os.OpenFile(part+stateEnding, os.O_RDWR|os.O_CREATE, 0o644); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", input.Shown(part+stateEnding), reason(err))
	}
	return nil
}

// begin finds what is whole, cuts off the rest, and writes the first lines when
// there are none.
func (j *Journal) begin(o OpenOptions) error {
	first := "padband batch 1 " + o.Run + "\n"
	var k kept
	if o.Resume {
		var err error
		if k, err = j.whole(first); err != nil {
			return err
		}
	}
	j.done = k.rows
	for f, at := range map[*os.File]int64{j.part: k.part, j.state: k.state} {
		if err := cut(f, at); err != nil {
			return err
		}
	}
	if k.state > 0 {
		return nil
	}
	if _, err := j.state.WriteString(first); err != nil {
		return err
	}
	return j.put(Photo{}, o.Head, headMark)
}

// Done is what became of the photos that are done, in their order.
func (j *Journal) Done() []Outcome { return j.done }

// Append adds the next photo's row. There are no more rows than photos.
func (j *Journal) Append(r Row) error {
	if err := j.put(j.photos[len(j.done)], r.Data, r.Outcome); err != nil {
		return err
	}
	j.done = append(j.done, r.Outcome)
	return nil
}

func (j *Journal) put(of Photo, data []byte, o Outcome) error {
	if _, err := j.part.Write(data); err != nil {
		return &FullError{j.part.Name(), reason(err)}
	}
	_, err := fmt.Fprintf(j.state, stateLine, len(data), checksum(crc32.ChecksumIEEE(data), of.mark(), o), of.mark(), o)
	if err != nil {
		return &FullError{j.state.Name(), reason(err)}
	}
	return nil
}

// Finish gives the output its name and removes the state.
func (j *Journal) Finish() error {
	if err := j.part.Sync(); err != nil {
		return errors.Join(err, j.Close())
	}
	if err := j.free(); err != nil {
		return errors.Join(err, j.Close())
	}
	part := j.name + PartEnding
	if err := j.Close(); err != nil {
		return err
	}
	if err := os.Rename(part, j.name); err != nil {
		return fmt.Errorf("%s: cannot be renamed to %s; do it by hand, it is whole", input.Shown(part), input.Shown(j.name))
	}
	return os.Remove(part + stateEnding)
}

// Close leaves the output as it is, to be gone on with.
func (j *Journal) Close() error {
	var err error
	for _, f := range []*os.File{j.part, j.state} {
		if f != nil {
			err = errors.Join(err, f.Close())
		}
	}
	j.part, j.state = nil, nil
	return err
}
