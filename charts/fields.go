package charts

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
	maxName  = 80
	maxLine  = 300
	maxProse = 4000

	// maxNumber bounds every number of a file; no water holds a billion of anything.
	maxNumber = 1e9
)

// decoder reads fields and keeps the first error; after an error everything
// read is zero.
type decoder struct{ err *FileError }

func (d *decoder) fail(path, do, what string, args ...any) {
	if d.err == nil {
		d.err = at(path, do, what, args...)
	}
}

// wrong says that a value is of another kind than wanted.
func (d *decoder) wrong(v *value, want kind, do string) {
	got := string(v.kind)
	switch v.kind {
	case isText:
		got = "the text " + quote(v.text)
	case isNumber:
		got = "the number " + shorten(v.text)
	case isTruth:
		got = v.text
	}
	d.fail(v.path(), do, "is %s, not %s", got, want)
}

// shorten cuts a number's digits for a message.
func shorten(digits string) string {
	if len(digits) > 24 {
		return digits[:24] + "..."
	}
	return digits
}

// fields is one object of the file, its field names checked.
type fields struct {
	*decoder
	at *value
	by map[string]*value
}

// object opens v as an object that may have the known fields and no others.
func (d *decoder) object(v *value, known ...string) fields {
	f := fields{decoder: d, at: v, by: map[string]*value{}}
	if v.kind != isObject {
		d.wrong(v, isObject, "write it in { }")
		return f
	}
	for _, item := range v.items {
		if !slices.Contains(known, item.name) {
			d.fail(item.path(), unknownAdvice(item.name, known), "is not a field here")
		}
		f.by[item.name] = item
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

// need returns a field, or fails when it is missing.
func (f fields) need(name string) *value {
	v := f.by[name]
	if v == nil && f.at.kind == isObject {
		f.fail(f.at.field(name), "add it", "is missing")
	}
	return v
}

// number returns a finite number within the cap, 0 when v is nil.
func (d *decoder) number(v *value) float64 {
	if v == nil {
		return 0
	}
	if v.kind != isNumber {
		d.wrong(v, isNumber, "write a number without quotes")
		return 0
	}
	x, err := strconv.ParseFloat(v.text, 64)
	if err != nil || !(math.Abs(x) <= maxNumber) {
		d.fail(v.path(), "write it right", "is %s, a number beyond %s", shorten(v.text), figure(maxNumber))
		return 0
	}
	if x == 0 {
		return 0 // also for -0
	}
	return x
}

// whole returns a whole number from lo to hi, or other when the field is absent.
func (f fields) whole(name string, lo, hi, other int) int {
	v := f.by[name]
	if v == nil {
		return other
	}
	x := f.number(v)
	if x != math.Trunc(x) || x < float64(lo) || x > float64(hi) {
		f.fail(v.path(), fmt.Sprintf("write a whole number from %d to %d", lo, hi), "is %s", shorten(v.text))
		return other
	}
	return int(x)
}

// list returns a field's items, at most hi of them.
func (f fields) list(name string, hi int) []*value {
	v := f.by[name]
	if v == nil {
		return nil
	}
	return f.items(v, hi)
}

func (d *decoder) items(v *value, hi int) []*value {
	if v.kind != isList {
		d.wrong(v, isList, "write it in [ ]")
		return nil
	}
	if len(v.items) > hi {
		d.fail(v.path(), "remove some", "has %d items, over the limit of %d", len(v.items), hi)
		return nil
	}
	return v.items
}

// text returns a text of at most hi characters, without control characters
// other than (in prose) line ends and tabs; "" when v is nil.
func (d *decoder) text(v *value, hi int) string {
	if v == nil {
		return ""
	}
	if v.kind != isText {
		d.wrong(v, isText, "write it in quotes")
		return ""
	}
	if n := utf8.RuneCountInString(v.text); n > hi {
		d.fail(v.path(), "shorten it", "has %d characters, over the limit of %d", n, hi)
		return ""
	}
	if i := strings.IndexFunc(v.text, func(r rune) bool { return hidden(r) && (hi < maxProse || !strings.ContainsRune("\n\r\t", r)) }); i >= 0 {
		r, _ := utf8.DecodeRuneInString(v.text[i:])
		d.fail(v.path(), "remove it", "holds the control character %U", r)
		return ""
	}
	return v.text
}

// hidden reports characters that steer a terminal or turn the direction of
// text: control characters, line and paragraph separators, bidirectional marks.
func hidden(r rune) bool {
	return unicode.IsControl(r) || r == 0x2028 || r == 0x2029 || (r >= 0x202a && r <= 0x202e) || (r >= 0x2066 && r <= 0x2069)
}

// line returns a field of one line, "" when absent.
func (f fields) line(name string) string { return f.text(f.by[name], maxLine) }

// label returns a short field that stands beside figures, "" when absent.
func (f fields) label(name string) string { return f.text(f.by[name], maxName) }

// prose returns a field that may run over lines, "" when absent.
func (f fields) prose(name string) string { return f.text(f.by[name], maxProse) }

// name returns a name: not empty, no spaces at its ends; "" when v is nil.
func (d *decoder) name(v *value) string {
	text := d.text(v, maxName)
	if v == nil || d.err != nil {
		return ""
	}
	if text == "" {
		d.fail(v.path(), "write a name", "is empty")
	}
	if strings.TrimSpace(text) != text {
		d.fail(v.path(), "remove them", "has spaces at its ends: %s", quote(text))
	}
	return text
}

// choice returns one of the words, or other when the field is absent.
func (f fields) choice(name, other string, words ...string) string {
	v := f.by[name]
	if v == nil {
		return other
	}
	text := f.text(v, maxLine)
	if f.err == nil && !slices.Contains(words, text) {
		f.fail(v.path(), "write one of "+strings.Join(words, ", "), "is %s", quote(text))
	}
	return text
}

// file opens the whole file. Its format number, 1 when absent, comes first:
// a later format may have fields that this one does not know.
func (d *decoder) file(v *value, known ...string) (f fields, format int) {
	format = 1
	for _, item := range v.items {
		if v.kind == isObject && item.name == "format" {
			format = fields{decoder: d, at: v, by: map[string]*value{"format": item}}.whole("format", 1, maxNumber, 1)
		}
	}
	if format > 1 {
		d.fail("format", "use a newer version of the program, or save the file in format 1", "is %d, and this program knows format 1 only", format)
	}
	return d.object(v, append([]string{"format"}, known...)...), format
}

// truth returns a field that is true or false; false when absent.
func (f fields) truth(name string) bool {
	v := f.by[name]
	if v != nil && v.kind != isTruth {
		f.wrong(v, isTruth, "write true or false without quotes")
	}
	return v != nil && v.text == "true"
}

// words returns a list of short texts, nil when absent.
func (f fields) words(name string) (out []string) {
	for _, item := range f.list(name, 32) {
		out = append(out, f.name(item))
	}
	return out
}

// fileName returns the chart's name, which may become a file's.
func (f fields) fileName(field string) string {
	v := f.need(field)
	text := f.name(v)
	for i, r := range text {
		if r == '/' || r == '\\' || (r == '.' && i == 0) {
			f.fail(v.path(), "choose a name that a file can have", "is %s, with a %q", quote(text), r)
		}
	}
	return text
}

// day returns a field that holds a day, "" when absent or empty.
func (f fields) day(name string) string {
	return f.time(name, time.DateOnly, "a day such as 2026-09-01")
}

// moment returns a field that holds an RFC 3339 time, "" when absent or empty.
func (f fields) moment(name string) string {
	return f.time(name, time.RFC3339, "a time with its offset such as 2026-11-25T14:03:10-05:00")
}

func (f fields) time(name, layout, example string) string {
	text := f.label(name)
	if text == "" {
		return ""
	}
	if _, err := time.Parse(layout, text); err != nil {
		f.fail(f.by[name].path(), "write "+example, "is %s", quote(text))
	}
	return text
}
