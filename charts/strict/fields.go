package strict

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Caps on texts, in characters, and on numbers.
const (
	MaxName  = 80
	MaxLine  = 300
	maxProse = 4000

	// MaxNumber bounds every number of a file; no water holds a billion of anything.
	MaxNumber = 1e9
)

// Decoder reads fields and keeps the first error; after an error everything
// read is zero.
type Decoder struct{ Err *FileError }

func (d *Decoder) Fail(path, do, what string, args ...any) {
	if d.Err == nil {
		d.Err = Fault(path, do, what, args...)
	}
}

// wrong says that a value is of another kind than wanted.
func (d *Decoder) wrong(v *Value, want kind, do string) {
	got := string(v.kind)
	switch v.kind {
	case isText:
		got = "the text " + Quote(v.Text)
	case isNumber:
		got = "the number " + shorten(v.Text)
	case isTruth:
		got = v.Text
	}
	d.Fail(v.Path(), do, "is %s, not %s", got, want)
}

// shorten cuts a number's digits for a message.
func shorten(digits string) string {
	if len(digits) > 24 {
		return digits[:24] + "..."
	}
	return digits
}

// Fields is one object of the file, its field names checked.
type Fields struct {
	*Decoder
	At *Value
	By map[string]*Value
}

// Object opens v as an object that may have the known fields and no others.
func (d *Decoder) Object(v *Value, known ...string) Fields {
	f := Fields{Decoder: d, At: v, By: map[string]*Value{}}
	if v.kind != isObject {
		d.wrong(v, isObject, "write it in { }")
		return f
	}
	for _, item := range v.items {
		if !slices.Contains(known, item.Name) {
			d.Fail(item.Path(), unknownAdvice(item.Name, known), "is not a field here")
		}
		f.By[item.Name] = item
	}
	return f
}

// unknownAdvice names the field that was meant when only its case differs.
func unknownAdvice(name string, known []string) string {
	for _, k := range known {
		if strings.EqualFold(k, name) {
			return "write " + k
		}
	}
	return "remove it, or write one of " + strings.Join(known, ", ")
}

// Need returns a field, or fails when it is missing.
func (f Fields) Need(name string) *Value {
	v := f.By[name]
	if v == nil && f.At.kind == isObject {
		f.Fail(f.At.Field(name), "add it", "is missing")
	}
	return v
}

// Number returns a finite number within the cap, 0 when v is nil.
func (d *Decoder) Number(v *Value) float64 {
	if v == nil {
		return 0
	}
	if v.kind != isNumber {
		d.wrong(v, isNumber, "write a number without quotes")
		return 0
	}
	x, err := strconv.ParseFloat(v.Text, 64)
	if err != nil || !(math.Abs(x) <= MaxNumber) {
		d.Fail(v.Path(), "write it right", "is %s, a number beyond %s", shorten(v.Text), Figure(MaxNumber))
		return 0
	}
	if x == 0 {
		return 0 // also for -0
	}
	return x
}

// Whole returns a whole number from lo to hi, or other when the field is absent.
func (f Fields) Whole(name string, lo, hi, other int) int {
	v := f.By[name]
	if v == nil {
		return other
	}
	x := f.Number(v)
	if x != math.Trunc(x) || x < float64(lo) || x > float64(hi) {
		f.Fail(v.Path(), fmt.Sprintf("write a whole number from %d to %d", lo, hi), "is %s", shorten(v.Text))
		return other
	}
	return int(x)
}

// List returns a field's items, at most hi of them.
func (f Fields) List(name string, hi int) []*Value {
	v := f.By[name]
	if v == nil {
		return nil
	}
	return f.Items(v, hi)
}

func (d *Decoder) Items(v *Value, hi int) []*Value {
	if v.kind != isList {
		d.wrong(v, isList, "write it in [ ]")
		return nil
	}
	if len(v.items) > hi {
		d.Fail(v.Path(), "remove some", "has %d items, over the limit of %d", len(v.items), hi)
		return nil
	}
	return v.items
}

// Text returns a text of at most hi characters, without control characters
// other than (in prose) line ends and tabs; "" when v is nil.
func (d *Decoder) Text(v *Value, hi int) string {
	if v == nil {
		return ""
	}
	if v.kind != isText {
		d.wrong(v, isText, "write it in quotes")
		return ""
	}
	if n := utf8.RuneCountInString(v.Text); n > hi {
		d.Fail(v.Path(), "shorten it", "has %d characters, over the limit of %d", n, hi)
		return ""
	}
	bad := func(r rune) bool { return hidden(r) && (hi < maxProse || !strings.ContainsRune("\n\r\t", r)) }
	if i := strings.IndexFunc(v.Text, bad); i >= 0 {
		r, _ := utf8.DecodeRuneInString(v.Text[i:])
		d.Fail(v.Path(), "remove it", "holds the control character %U", r)
		return ""
	}
	return v.Text
}

// hidden reports characters that steer a terminal or turn the direction of
// text: control characters, line and paragraph separators, bidirectional marks.
func hidden(r rune) bool {
	return unicode.IsControl(r) || r == 0x2028 || r == 0x2029 || (r >= 0x202a && r <= 0x202e) || (r >= 0x2066 && r <= 0x2069)
}

// Line returns a field of one line, "" when absent.
func (f Fields) Line(name string) string { return f.Text(f.By[name], MaxLine) }

// Label returns a short field that stands beside figures, "" when absent.
func (f Fields) Label(name string) string { return f.Text(f.By[name], MaxName) }

// Prose returns a field that may run over lines, "" when absent.
func (f Fields) Prose(name string) string { return f.Text(f.By[name], maxProse) }

// Name returns a name: not empty, no spaces at its ends; "" when v is nil.
func (d *Decoder) Name(v *Value) string {
	text := d.Text(v, MaxName)
	if v == nil || d.Err != nil {
		return ""
	}
	if text == "" {
		d.Fail(v.Path(), "write a name", "is empty")
	}
	if strings.TrimSpace(text) != text {
		d.Fail(v.Path(), "remove them", "has spaces at its ends: %s", Quote(text))
	}
	return text
}

// Choice returns one of the words, or other when the field is absent.
func (f Fields) Choice(name, other string, words ...string) string {
	v := f.By[name]
	if v == nil {
		return other
	}
	text := f.Text(v, MaxLine)
	if f.Err == nil && !slices.Contains(words, text) {
		f.Fail(v.Path(), "write one of "+strings.Join(words, ", "), "is %s", Quote(text))
	}
	return text
}

// File opens the whole file. Its format number, 1 when absent, comes first:
// a later format may have fields that this one does not know.
func (d *Decoder) File(v *Value, known ...string) (f Fields, format int) {
	format = 1
	for _, item := range v.items {
		if v.kind == isObject && item.Name == "format" {
			format = Fields{Decoder: d, At: v, By: map[string]*Value{"format": item}}.Whole("format", 1, MaxNumber, 1)
		}
	}
	if format > 1 {
		d.Fail(
			"format",
			"use a newer version of the program, or save the file in format 1",
			"is %d, and this program knows format 1 only",
			format,
		)
	}
	return d.Object(v, append([]string{"format"}, known...)...), format
}

// Truth returns a field that is true or false; false when absent.
func (f Fields) Truth(name string) bool {
	v := f.By[name]
	if v != nil && v.kind != isTruth {
		f.wrong(v, isTruth, "write true or false without quotes")
	}
	return v != nil && v.Text == "true"
}

// Words returns a list of short texts, nil when absent.
func (f Fields) Words(name string) (out []string) {
	for _, item := range f.List(name, 32) {
		out = append(out, f.Name(item))
	}
	return out
}

// FileName returns the chart's name, which may become a file's.
func (f Fields) FileName(field string) string {
	v := f.Need(field)
	text := f.Name(v)
	for i, r := range text {
		if r == '/' || r == '\\' || (r == '.' && i == 0) {
			f.Fail(v.Path(), "choose a name that a file can have", "is %s, with a %q", Quote(text), r)
		}
	}
	return text
}

// Day returns a field that holds a day, "" when absent or empty.
func (f Fields) Day(name string) string {
	return f.time(name, time.DateOnly, "a day such as 2026-09-01")
}

// Moment returns a field that holds an RFC 3339 time, "" when absent or empty.
func (f Fields) Moment(name string) string {
	return f.time(name, time.RFC3339, "a time with its offset such as 2026-11-25T14:03:10-05:00")
}

func (f Fields) time(name, layout, example string) string {
	text := f.Label(name)
	if text == "" {
		return ""
	}
	if _, err := time.Parse(layout, text); err != nil {
		f.Fail(f.By[name].Path(), "write "+example, "is %s", Quote(text))
	}
	return text
}
