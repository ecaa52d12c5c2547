// Package batch reads many photos. [Photos] finds or lists them, [Shard] shares them
// out, and [Run] reads several at once, with the rows of [RowMaker] in the photos'
// order. [Open] keeps what is done, so that a run that was cut off can go on. Start at
// [Run]; how one photo is read is given to it.
package batch

// Photo is one photo of a batch.
type Photo struct {
	Name string // what is opened
	File string // what its row calls it: unique within a folder that was searched
	Err  error  // why it cannot be read, when that is known already
}

// Outcome is what became of a photo.
type Outcome byte

// Outcomes. Their values are those of the state file.
const (
	Good       Outcome = 'g'
	Unreliable Outcome = 'u' // a reading of it is unreliable
	Failed     Outcome = 'f' // it could not be read
)

// Row is a photo's part of the output.
type Row struct {
	Data    []byte // whole lines
	Outcome Outcome
}

// Tally counts outcomes.
type Tally struct{ Good, Unreliable, Failed int }

// Add counts one more.
func (t *Tally) Add(o Outcome) {
	switch o {
	case Good:
		t.Good++
	case Unreliable:
		t.Unreliable++
	case Failed:
		t.Failed++
	}
}

// Total is the number of photos counted.
func (t Tally) Total() int { return t.Good + t.Unreliable + t.Failed }
