package agreement

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/reading"
)

// ErrNoReadings is the error for a file without a reading.
var ErrNoReadings = errors.New("holds no readings; name a file that ends in .reading.json")

// ParseReading reads a reading file into one [Single] an analyte, with the
// file's name in each. Presence pads have no value. The error is one line and
// does not name the file.
func ParseReading(name string, data []byte) ([]Single, error) {
	f, err := reading.Parse(data)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%w; %s", err, mend(err))
	case len(f.Readings) == 0:
		return nil, ErrNoReadings
	}
	var out []Single
	for _, r := range f.Readings {
		s := single(name, strings.ToLower(f.PhotoOf(r).SHA256), r)
		for _, p := range f.Photos() {
			s.Photos = append(s.Photos, strings.ToLower(p.SHA256))
		}
		if r.From != nil {
			s.File = r.From.Photo
		}
		out = append(out, s)
	}
	return out, nil
}

// mend is what to do about a file that cannot be read.
func mend(err error) string {
	var json *reading.NotJSONError
	var format *reading.FormatError
	var large *reading.TooLargeError
	switch {
	case errors.As(err, &json), errors.As(err, &large):
		return "name a file that ends in .reading.json"
	case errors.As(err, &format):
		return "use a newer one"
	}
	return "name a file that ends in .reading.json, or save the reading again"
}

// single is what a comparison needs of a reading.
func single(name, photo string, r reading.Reading) Single {
	s := Single{Name: name, Analyte: r.Analyte, Unit: r.Unit, As: r.As, Value: math.NaN(), Own: own(r.Budget),
		Reliability: string(r.Reliability), Photo: photo}
	s.Band.Low, s.Band.High = r.Band.Ends()
	s.Water.Low, s.Water.High = r.WaterBand.Ends()
	if !r.Presence.Given {
		s.Value = float64(r.Value)
	}
	if r.Range != calib.Within {
		s.Past = string(r.Range)
	}
	for _, w := range r.Swatches {
		s.Swatches = append(s.Swatches, w.Value)
	}
	s.Unchecked = slices.ContainsFunc(r.Warnings, func(w reading.Warning) bool { return w.Code == calib.CodeMarksUnchecked })
	return s
}

// own is the standard deviation, in steps, of what two readings of one photo do
// not share; NaN when it is not known.
func own(budget []reading.Contribution) float64 {
	sum, seen := 0.0, false
	for _, b := range budget {
		if b.Code.OfMarks() && b.Steps.Known() {
			sum, seen = sum+float64(b.Steps)*float64(b.Steps), true
		}
	}
	if !seen {
		return math.NaN()
	}
	return math.Sqrt(sum)
}
