package agreement

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
)

// readingFile is what a comparison needs of a reading file; what else it holds
// is ignored.
type readingFile struct {
	Format *int `json:"format"`
	Photo  struct {
		File   string `json:"file"`
		SHA256 string `json:"sha256"`
	} `json:"photo"`
	Readings []struct {
		Analyte     string    `json:"analyte"`
		Unit        string    `json:"unit"`
		As          string    `json:"as"`
		Value       *float64  `json:"value"`
		Band        *jsonSpan `json:"band"`
		Water       *jsonSpan `json:"water_band"`
		Range       string    `json:"range"`
		Reliability string    `json:"reliability"`
		Presence    *float64  `json:"presence_probability"`
		Swatches    []struct {
			Value float64 `json:"value"`
		} `json:"swatches"`
		Budget []struct {
			Source string   `json:"source"`
			Steps  *float64 `json:"steps"`
		} `json:"budget"`
	} `json:"readings"`
}

type jsonSpan struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

// highestFormat is the newest format of reading files that is understood.
const highestFormat = 1

// ownSources are the sources of a reading's budget that are not shared by two
// readings of one photo: where pads, swatches and white areas were marked.
var ownSources = map[string]bool{"noise and marking": true, "light": true}

// ParseReading reads a reading file (format 1) into one [Single] an analyte, with
// the file's name in each. Presence pads have no value. The error is one line
// and does not name the file.
func ParseReading(name string, data []byte) ([]Single, error) {
	var f readingFile
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch err := json.Unmarshal(data, &f); {
	case errors.As(err, &syntax):
		return nil, fmt.Errorf("is no JSON (byte %d); name a file that ends in .reading.json", syntax.Offset)
	case errors.As(err, &kind):
		return nil, fmt.Errorf("%s: is a %s where another kind of value belongs; save the reading again", kind.Field, kind.Value)
	case err != nil:
		return nil, errors.New("is no JSON; name a file that ends in .reading.json")
	}
	if f.Format != nil && *f.Format > highestFormat {
		return nil, fmt.Errorf("is of format %d, and this program knows up to %d; use a newer one", *f.Format, highestFormat)
	}
	if len(f.Readings) == 0 {
		return nil, errors.New("holds no readings; name a file that ends in .reading.json, as --json or the page makes it")
	}
	return f.singles(name)
}

func (f readingFile) singles(name string) (out []Single, err error) {
	for i, r := range f.Readings {
		s := Single{Name: name, Analyte: r.Analyte, Unit: r.Unit, As: r.As, Value: math.NaN(), Band: r.Band.span(), Water: r.Water.span(),
			Own: math.NaN(), Reliability: r.Reliability, Photo: strings.ToLower(f.Photo.SHA256)}
		if r.Analyte == "" {
			return nil, fmt.Errorf("readings[%d]: names no analyte; save the reading again", i)
		}
		if r.Value != nil && r.Presence == nil {
			s.Value = *r.Value
		}
		if r.Range == "below" || r.Range == "above" {
			s.Past = r.Range
		}
		for _, w := range r.Swatches {
			s.Swatches = append(s.Swatches, w.Value)
		}
		sum, seen := 0.0, false
		for _, b := range r.Budget {
			if ownSources[b.Source] && b.Steps != nil {
				sum, seen = sum+*b.Steps**b.Steps, true
			}
		}
		if seen {
			s.Own = math.Sqrt(sum)
		}
		if !rising(s.Swatches) {
			return nil, fmt.Errorf("readings[%d]: its swatches do not rise in value; save the reading again", i)
		}
		out = append(out, s)
	}
	return out, nil
}

// rising reports whether values rise from 0 or more.
func rising(v []float64) bool {
	for i := range v {
		if !(v[i] >= 0) || i > 0 && !(v[i] > v[i-1]) {
			return false
		}
	}
	return true
}

// span is a band with its open ends; all open where there is none.
func (s *jsonSpan) span() Span {
	out := Span{math.Inf(-1), math.Inf(1)}
	if s != nil && s.Low != nil {
		out.Low = *s.Low
	}
	if s != nil && s.High != nil {
		out.High = *s.High
	}
	return out
}
