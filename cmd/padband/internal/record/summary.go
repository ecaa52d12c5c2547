package record

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
)

// Summary is what a look over many records needs to know of one: the facts of its
// bag-info.txt and the figures of its reading. Nothing in it was verified.
type Summary struct {
	Path                 string // of the folder or the zip file
	Place, Point, Tester string // empty when nobody gave them, as all facts here
	Taken, Dipped        string // as written; see [ParseTime]
	Lot, Expires         string
	Photo                string               // the photo's SHA-256 as the reading has it; of several photos see [Summary.For]
	Strip                []reading.StripPhoto // several photos of one strip, in the order of their times
	Chart                reading.Chart
	Readings             []reading.Reading // in their own units
}

// Summarise reads bag-info.txt and data/reading.json of the record's folder or zip
// file of this name, and no other file of it. It follows no link. The error says what
// is wrong with the record; [ErrNotRecord] says that the zip file holds something
// else.
func Summarise(name string) (Summary, error) {
	root, err := bag.OpenFew(name, "bagit.txt", "bag-info.txt", readingPath)
	if err != nil {
		return Summary{}, err
	}
	defer root.Close()
	return summarise(root)
}

// summarise reads the two files that a summary is made of.
func summarise(root *bag.Root) (Summary, error) {
	s := Summary{Path: root.Name}
	data, err := root.Read("bag-info.txt", bag.TagBytes)
	var info bag.Info
	if err == nil {
		info, err = bag.ParseInfo(data)
	}
	if err != nil {
		return s, fmt.Errorf("bag-info.txt: %w", bag.Cause(err))
	}
	s.facts(info)
	if data, err = root.Read(readingPath, bag.TagBytes); err == nil {
		err = s.reading(data)
	}
	if err != nil {
		return s, fmt.Errorf("%s: %w", readingPath, bag.Cause(err))
	}
	return s, nil
}

// facts takes what bag-info.txt says, each on one line.
func (s *Summary) facts(in bag.Info) {
	for label, to := range map[string]*string{"Place": &s.Place, "Sampling-Point": &s.Point, "Tester": &s.Tester,
		"Photo-Taken": &s.Taken, "Dipped": &s.Dipped, "Kit-Lot": &s.Lot, "Kit-Expires": &s.Expires} {
		*to = strings.Join(strings.Fields(in.Get(label)), " ")
	}
}

// reading takes the figures, and the time of the photo where the facts have none.
func (s *Summary) reading(data []byte) error {
	f, err := reading.Parse(data)
	var newer *reading.FormatError
	switch {
	case errors.As(err, &newer):
		return fmt.Errorf("%w; a newer padband reads it", err)
	case err != nil:
		return err
	}
	s.Photo, s.Strip, s.Chart, s.Readings = f.Photo.SHA256, f.Strip, f.Chart, f.Readings
	if s.Taken == "" {
		s.Taken = f.Photos()[0].TakenText()
	}
	return nil
}

// For is the summary as that of the photo that a reading is from: of several photos of
// one strip it has that one's hash and time.
func (s Summary) For(r reading.Reading) Summary {
	for _, p := range s.Strip {
		if r.From == nil || p.File != r.From.Photo {
			continue
		}
		s.Photo = p.SHA256
		if own := p.TakenText(); own != "" {
			s.Taken = own
		} else if dipped, err := takenAt(s.Dipped); err == nil { // it was taken by what its marks say
			s.Taken = dipped.Add(time.Duration(float64(p.AfterDip) * float64(time.Second))).Format(time.RFC3339)
		}
	}
	return s
}
