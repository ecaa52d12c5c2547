package reading

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"padband/calib"
)

// Caps of what [Parse] takes.
const (
	MostBytes    = 4 << 20
	MostReadings = 200 // a strip has at most a few dozen pads
)

// NotJSONError is the error for a file that is no JSON, or no JSON object.
type NotJSONError struct {
	Byte int64 // how far it is JSON; 0 when not known
}

func (e *NotJSONError) Error() string {
	if e.Byte > 0 {
		return fmt.Sprintf("is no JSON (byte %d)", e.Byte)
	}
	return "is no JSON"
}

// FormatError is the error for a file of a newer format.
type FormatError struct{ Have, Known int }

func (e *FormatError) Error() string {
	return fmt.Sprintf("is of format %d, and this program knows up to %d", e.Have, e.Known)
}

// TooLargeError is the error for a file over a cap. What is "bytes" or "readings".
type TooLargeError struct {
	What       string
	Have, Most int
}

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("holds %d %s and may hold %d", e.Have, e.What, e.Most)
}

// FieldError is the error for a field that no reading file has so.
type FieldError struct{ Field, Fault string }

func (e *FieldError) Error() string {
	if e.Field == "" {
		return e.Fault
	}
	return e.Field + ": " + e.Fault
}

// Encode returns the file as one line without its line break. The error is of
// [encoding/json] and means a fault of this program.
func (f File) Encode() ([]byte, error) { return json.Marshal(f) }

// EncodeFailed returns the row of a photo that could not be read as one line
// without its line break.
func EncodeFailed(file, why string) ([]byte, error) {
	return json.Marshal(Failed{Format: Format, Photo: NamedPhoto{File: file}, Error: strings.Join(strings.Fields(why), " ")})
}

// Parse reads a reading file of any format up to [StripFormat]. What it does not know
// is ignored, and so are fields that older programs did not write. The errors
// are [*NotJSONError], [*FormatError], [*TooLargeError] and [*FieldError]; they
// do not name the file.
func Parse(data []byte) (File, error) {
	var f File
	if len(data) > MostBytes {
		return f, &TooLargeError{"bytes", len(data), MostBytes}
	}
	if err := unmarshal(data, &f); err != nil {
		return File{}, err
	}
	if f.Format > StripFormat {
		return File{}, &FormatError{f.Format, StripFormat}
	}
	if len(f.Readings) > MostReadings {
		return File{}, &TooLargeError{"readings", len(f.Readings), MostReadings}
	}
	if err := f.stripFault(); err != nil {
		return File{}, err
	}
	for i := range f.Readings {
		r := &f.Readings[i]
		if fault := r.fault(); fault != "" {
			return File{}, &FieldError{fmt.Sprintf("readings[%d]", i), fault}
		}
		r.nameSources()
	}
	return f, nil
}

// article goes before what [encoding/json] calls a value: array, object, string,
// bool, or number with its digits.
func article(value string) string {
	if value == "array" || value == "object" {
		return "an"
	}
	return "a"
}

// unmarshal reads JSON and turns the errors of [encoding/json] into this package's.
func unmarshal(data []byte, into any) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch err := json.Unmarshal(data, into); {
	case errors.As(err, &syntax):
		return &NotJSONError{syntax.Offset}
	case errors.As(err, &kind):
		return &FieldError{kind.Field, "is " + article(kind.Value) + " " + kind.Value + " where another kind of value belongs"}
	case err != nil:
		return &NotJSONError{}
	}
	return nil
}

// fault is what is wrong with a reading that JSON alone does not show: a missing
// name, crossed bands, words of no meaning, swatches out of order. Empty for none.
func (r Reading) fault() string {
	crossed := func(b *Band) bool { low, high := b.Ends(); return low > high }
	switch {
	case strings.TrimSpace(r.Analyte) == "":
		return "names no analyte"
	case crossed(r.Band) || crossed(r.WaterBand):
		return "has a band whose low end is above its high end"
	case !slices.Contains([]calib.Range{calib.Within, calib.Below, calib.Above}, r.Range):
		return fmt.Sprintf("has the range %.20q; it is within, below or above", string(r.Range))
	case !slices.Contains([]calib.Reliability{calib.Good, calib.Caution, calib.Unreliable}, r.Reliability):
		return fmt.Sprintf("has the reliability %.20q; it is good, caution or unreliable", string(r.Reliability))
	}
	for i, s := range r.Swatches {
		if !(s.Value >= 0) || i > 0 && !(s.Value > r.Swatches[i-1].Value) {
			return "has swatches that do not rise in value from 0 or more"
		}
	}
	return ""
}

// UnmarshalJSON reads a reading; a value that is not there is missing.
func (r *Reading) UnmarshalJSON(data []byte) error {
	type plain Reading
	p := plain{Value: Missing, Pad: Pad{DeltaE: Missing}}
	if err := json.Unmarshal(data, &p); err != nil {
		return err
	}
	*r = Reading(p)
	return nil
}

// nameSources gives the sources of error their codes in files from before those
// had any: methods 1 and 2 wrote the names alone, and wrote them so.
func (r *Reading) nameSources() {
	for i := range r.Budget {
		b := &r.Budget[i]
		for _, s := range calib.Sources() {
			if b.Code == "" && b.Source == s.Name() {
				b.Code = s
			}
		}
	}
}

// ParseRow reads one row of many photos: a file, or what says that the photo
// could not be read, which is then not nil.
func ParseRow(data []byte) (File, *Failed, error) {
	var failed Failed
	if err := unmarshal(data, &failed); err != nil {
		return File{}, nil, err
	}
	if failed.Error != "" {
		return File{}, &failed, nil
	}
	f, err := Parse(bytes.TrimSpace(data))
	return f, nil, err
}
