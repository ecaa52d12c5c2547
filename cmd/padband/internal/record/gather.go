package record

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report/paper"
)

// These words say how a photo came.
const (
	FromFile    = "from its file"
	FromBrowser = "as received from a browser"
)

// Made is a reading with the bytes that it was made from and what is known of it. Of
// several photos of one strip it has Shots and Joined, and Name, Photo, Marks, Result
// and Received are empty.
type Made struct {
	Name     string // the photo's name, as received
	Photo    []byte // as received
	Chart    input.ChartFile
	Marks    []byte
	Result   *strip.Result // what reading photo, chart and marks gave
	Asked    Asked         // the question that Result answers
	Received string        // [FromFile] or [FromBrowser]
	Shots    []Shot        // in the order of the results that [strip.OneStrip] was given
	Joined   *strip.Joined // the one answer from them
	Facts    []bag.Fact    // the facts of the sample, see [FactsOf]
	Attached []bag.File    // files kept with it, by their own names
	Signer   Signer        // nil when it is not signed
	Version  string        // the program's
	Day      string        // the day of keeping, 2006-01-02
}

// Files are the files of the record. The error is [ErrUnchecked], comes from the signer,
// says what is too large or too long, or means a fault of this program.
func (m Made) Files() ([]bag.File, error) {
	c, err := m.content()
	if err != nil {
		return nil, err
	}
	return Make(c, m.Signer)
}

// FolderName is a plain name for the record, made of the day, the place and the point,
// and the photo.
func (m Made) FolderName() string {
	in := bag.Info(m.Facts)
	day := in.Get("Photo-Taken")
	if day == "" {
		day = m.Day
	}
	return FolderName(day, strings.TrimSpace(in.Get("Place")+" "+in.Get("Sampling-Point")), m.read().Source.SHA256s()[0])
}

// Missing names the facts that nobody gave.
func (m Made) Missing() (out []string) {
	in := bag.Info(m.Facts)
	for _, a := range Sample {
		if in.Get(a.Label) == "" && !a.Optional() {
			out = append(out, strings.ToLower(a.Words))
		}
	}
	return out
}

// LongFactError is the error of a fact of more than [LongestFact] letters. Such a text
// can be kept in a file instead.
type LongFactError struct {
	Label   string
	Letters int
}

func (e *LongFactError) Error() string {
	return fmt.Sprintf("%s is %d letters long and may be %d; say it shorter", e.Label, e.Letters, LongestFact)
}

// checkFacts refuses a fact that is too long for bag-info.txt.
func (m Made) checkFacts() error {
	for _, f := range m.Facts {
		if n := utf8.RuneCountInString(f.Value); n > LongestFact {
			return &LongFactError{f.Label, n}
		}
	}
	return nil
}

// content puts together what the record is made from. The report comes last, because
// it holds the names and hashes of the other files.
func (m Made) content() (Content, error) {
	if err := m.check(); err != nil {
		return Content{}, err
	}
	read := m.read()
	data, err := read.Source.JSON()
	if err != nil {
		return Content{}, err
	}
	if err := m.checkFacts(); err != nil {
		return Content{}, err
	}
	file, err := reading.Parse(data)
	if err != nil {
		return Content{}, err
	}
	facts := slices.Concat(m.Facts, m.Asked.facts(), m.programFacts(read, photoFacts(file)))
	for i, f := range facts {
		facts[i].Value = bag.Cleaned(f.Value)
	}
	c := Content{
		PhotoName: m.Name, Photo: m.Photo, Chart: m.Chart.Data, Marks: m.Marks, Reading: append(data, '\n'),
		Limits: m.Asked.files(), Attached: m.Attached, Facts: facts, Day: m.Day,
	}
	if m.Joined != nil {
		c.Shots = m.shots()
	}
	root := bag.Memory(c.payload())
	if m.Signer != nil {
		facts = append(facts, bag.Fact{Label: labelSigned, Value: m.Signer.Name()})
	}
	c.Report, err = paper.Page(read.sheet(facts, attachedTo(root), rootHashes(root)))
	return c, err
}
