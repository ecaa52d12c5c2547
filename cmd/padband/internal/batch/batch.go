// Package batch reads many photos: it finds or lists them ([Photos]), shares them
// out ([Shard]), reads several at once with the rows in the photos' order ([Run],
// [RowMaker]), and keeps what is done so that a run that was cut off can go on
// ([Open]).
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
