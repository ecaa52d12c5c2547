package record

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry/photo"
)

// These words say how a photo came.
const (
	FromFile    = "from its file"
	FromBrowser = "as received from a browser"
)

// Made is a reading with the bytes that it was made from and what is known of it.
type Made struct {
	Name     string // the photo's name, as received
	Photo    []byte // as received
	Chart    input.ChartFile
	Marks    []byte
	Result   *strip.Result // what reading photo, chart and marks gave
	Asked    Asked         // the question that Result answers
	Received string        // [FromFile] or [FromBrowser]
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
	return FolderName(day, strings.TrimSpace(in.Get("Place")+" "+in.Get("Sampling-Point")), m.Result.Photo.Facts.SHA256)
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
	if m.Result.Marks.Unchecked {
		return Content{}, ErrUnchecked
	}
	src := report.Of(m.Name, m.Chart.Hash, m.Version, m.Result)
	reading, err := src.JSON()
	if err != nil {
		return Content{}, err
	}
	if err := m.checkFacts(); err != nil {
		return Content{}, err
	}
	facts := slices.Concat(m.Facts, m.Asked.facts(), m.programFacts())
	for i, f := range facts {
		facts[i].Value = bag.Cleaned(f.Value)
	}
	c := Content{
		PhotoName: m.Name, Photo: m.Photo, Chart: m.Chart.Data, Marks: m.Marks, Reading: append(reading, '\n'),
		Limits: m.Asked.files(), Attached: m.Attached, Facts: facts, Day: m.Day,
	}
	root := bag.Memory(c.payload())
	if m.Signer != nil {
		facts = append(facts, bag.Fact{Label: labelSigned, Value: m.Signer.Name()})
	}
	c.Report, err = paper.Page(sheet(src, m.Result, facts, attachedTo(root), rootHashes(root)))
	return c, err
}

// sheet is what a record's report is made from, without its seal. All of it comes from
// the record alone, so the report can be made again.
func sheet(src report.Source, r *strip.Result, facts []bag.Fact, attached []string, hashes []words.Entry) paper.Input {
	in := paper.Input{
		Source: src, Subject: Subject(facts), Crop: paper.Crops(r), Preview: paper.Preview(r),
		Hashes: hashes, Attached: attached, Signer: bag.Info(facts).Get(labelSigned),
	}
	in.Facts, in.Missing = entries(facts)
	return in
}

// Reread is a reading made again from a record's bytes.
type Reread struct {
	Source report.Source
	Result *strip.Result
}

// ReadAgain makes the reading again from the bytes of a record.
func ReadAgain(p Parts, version string, limits photo.Limits) (Reread, error) {
	m, err := charts.ParseMarks(p.Marks)
	if err != nil {
		return Reread{}, fmt.Errorf("%s: %w", marksPath, err)
	}
	c, err := input.ParseChart(chartPath, p.Chart)
	if err != nil {
		return Reread{}, err
	}
	ask, err := p.Asked.Ask()
	if err != nil {
		return Reread{}, err
	}
	r, err := strip.Read(strip.Input{Photo: p.Photo, Chart: c.Chart, Marks: m, Limits: limits, Ask: ask, Whole: true})
	if err != nil {
		return Reread{}, err
	}
	return Reread{report.Of(p.Name, c.Hash, version, r), r}, nil
}
