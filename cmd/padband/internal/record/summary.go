package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
)

// Summary is what a look over many records needs of one: the facts of its
// bag-info.txt and the figures of its reading. Nothing in it was verified.
type Summary struct {
	Path                 string // of the folder or the zip file
	Place, Point, Tester string // empty when nobody gave them, as all facts here
	Taken, Dipped        string // as written; see [ParseTime]
	Lot, Expires         string
	Photo                string // the photo's SHA-256 as the reading has it
	Chart                ChartName
	Readings             []ReadingSummary
}

// ChartName is the chart that a reading was made against.
type ChartName struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	SHA256  string `json:"sha256"`
}

// ReadingSummary is one analyte of a record, in its own unit.
type ReadingSummary struct {
	Analyte, Unit, As string
	Value             float64 // NaN when the reading has none
	Band, WaterBand   Interval
	Range             string // within, below, above
	Presence          bool   // read as present or not
	Reliability       string // good, caution, unreliable
	Warnings          []string
}

// Interval is a band; an open end is infinite.
type Interval struct{ Low, High float64 }

// mostReadings is how many readings of one record are taken: a strip has at
// most a few dozen pads.
const mostReadings = 200

// Summarise reads bag-info.txt and data/reading.json of the record's folder or
// zip file of this name, and no other file of it. It follows no link. The error says what is
// wrong with it; [ErrNotRecord] that it is a zip file of something else.
func Summarise(name string) (Summary, error) {
	root, err := openForSummary(name)
	if err != nil {
		return Summary{}, err
	}
	defer root.Close()
	return summarise(root)
}

// ErrNotRecord is the error for a zip file that holds something else.
var ErrNotRecord = errors.New("is no record: it holds no bagit.txt")

func openForSummary(name string) (*Root, error) {
	info, err := os.Lstat(name)
	switch {
	case err != nil:
		return nil, cause(err)
	case info.IsDir():
		return openThree(name)
	case !info.Mode().IsRegular():
		return nil, errors.New("is neither a folder nor an ordinary file")
	}
	root, err := openZip(name)
	if err != nil {
		return nil, err
	}
	for _, f := range root.Findings {
		if root.has("bagit.txt") || strings.HasSuffix(f.About, "bagit.txt") {
			root.Close()
			return nil, fmt.Errorf("%s: %s", shown(f.About), f.Text)
		}
	}
	if !root.has("bagit.txt") {
		root.Close()
		return nil, ErrNotRecord
	}
	return root, nil
}

// openThree opens a record's folder for the files that a summary is made of.
func openThree(dir string) (*Root, error) {
	held, err := os.OpenRoot(dir) // what is opened through it cannot lead outside
	if err != nil {
		return nil, cause(err)
	}
	r := &Root{Name: dir, files: map[string]func() (io.ReadCloser, error){}, close: held.Close}
	for _, p := range []string{"bagit.txt", "bag-info.txt", readingPath} {
		name := filepath.FromSlash(p)
		info, err := held.Lstat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			held.Close()
			return nil, fmt.Errorf("%s: %w", p, cause(err))
		case !info.Mode().IsRegular():
			held.Close()
			return nil, fmt.Errorf("%s is a link or no ordinary file; a record holds files only", p)
		default:
			r.files[p] = func() (io.ReadCloser, error) { return held.Open(name) }
		}
	}
	return r, nil
}

func summarise(root *Root) (Summary, error) {
	s := Summary{Path: root.Name}
	data, err := root.read("bag-info.txt", tagBytes)
	var info Info
	if err == nil {
		info, err = parseInfo(data)
	}
	if err != nil {
		return s, fmt.Errorf("bag-info.txt: %w", cause(err))
	}
	s.facts(info)
	if data, err = root.read(readingPath, tagBytes); err == nil {
		err = s.reading(data)
	}
	if err != nil {
		return s, fmt.Errorf("%s: %w", readingPath, cause(err))
	}
	return s, nil
}

func (s *Summary) facts(in Info) {
	for label, to := range map[string]*string{"Place": &s.Place, "Sampling-Point": &s.Point, "Tester": &s.Tester,
		"Photo-Taken": &s.Taken, "Dipped": &s.Dipped, "Kit-Lot": &s.Lot, "Kit-Expires": &s.Expires} {
		*to = strings.Join(strings.Fields(in.Get(label)), " ")
	}
}

// keptFile is what a summary takes of reading.json.
type keptFile struct {
	Format int
	Photo  struct {
		SHA256 string
		Taken  string
	}
	Chart    ChartName
	Readings []keptOne
}

type keptOne struct {
	Analyte, Unit, As, Range, Reliability string
	Value                                 *float64
	Presence                              *float64  `json:"presence_probability"`
	Band                                  *keptBand `json:"band"`
	WaterBand                             *keptBand `json:"water_band"`
	Warnings                              []struct{ Code string }
}

type keptBand struct{ Low, High *float64 }

func (s *Summary) reading(data []byte) error {
	var f keptFile
	if err := json.Unmarshal(data, &f); err != nil {
		return fmt.Errorf("is not a reading: %w", err)
	}
	switch {
	case f.Format > 1:
		return fmt.Errorf("is of format %d; a newer padband reads it", f.Format)
	case len(f.Readings) > mostReadings:
		return fmt.Errorf("holds %d readings; a strip has at most %d", len(f.Readings), mostReadings)
	}
	s.Photo, s.Chart = f.Photo.SHA256, f.Chart
	if s.Taken == "" {
		s.Taken = f.Photo.Taken
	}
	for i, k := range f.Readings {
		r, err := k.summary()
		if err != nil {
			return fmt.Errorf("readings[%d]: %w", i, err)
		}
		s.Readings = append(s.Readings, r)
	}
	return nil
}

func (k keptOne) summary() (ReadingSummary, error) {
	r := ReadingSummary{Analyte: k.Analyte, Unit: k.Unit, As: k.As, Value: orElse(k.Value, math.NaN()), Range: k.Range,
		Presence: k.Presence != nil, Reliability: k.Reliability, Band: k.Band.interval(), WaterBand: k.WaterBand.interval()}
	for _, w := range k.Warnings {
		r.Warnings = append(r.Warnings, w.Code)
	}
	switch {
	case strings.TrimSpace(r.Analyte) == "":
		return r, errors.New("has no analyte")
	case r.Band.Low > r.Band.High || r.WaterBand.Low > r.WaterBand.High:
		return r, errors.New("has a band whose low end is above its high end")
	case r.Range != "within" && r.Range != "below" && r.Range != "above":
		return r, fmt.Errorf("has the range %.20q; it is within, below or above", r.Range)
	case r.Reliability != "good" && r.Reliability != "caution" && r.Reliability != "unreliable":
		return r, fmt.Errorf("has the reliability %.20q; it is good, caution or unreliable", r.Reliability)
	}
	return r, nil
}

// interval is a band with its open ends infinite; one that is missing is open on both sides.
func (b *keptBand) interval() Interval {
	if b == nil {
		b = &keptBand{}
	}
	return Interval{orElse(b.Low, math.Inf(-1)), orElse(b.High, math.Inf(1))}
}

func orElse(v *float64, otherwise float64) float64 {
	if v == nil {
		return otherwise
	}
	return *v
}
