// Package strict reads JSON strictly: each value knows its place in the file, and each
// fault says where it is and what to do. Start at [Parse], then open the root with
// [Decoder.File]. The package knows nothing of charts or readings, and writes no JSON.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"
)

// What a chart or marks file may be at most. A chart with sixteen scales of
// sixteen swatches and a layout is about 60 KiB and 8 levels deep.
const (
	maxBytes  = 4 << 20
	maxDepth  = 32
	maxValues = 200_000
)

// kind is the kind of one JSON value, worded for messages.
type kind string

const (
	isObject kind = "an object"
	isList   kind = "a list"
	isText   kind = "text"
	isNumber kind = "a number"
	isTruth  kind = "true or false"
	isNull   kind = "null"
)

// Value is one JSON value with its place in the file.
type Value struct {
	up    *Value
	Name  string // its field name, when up is an object
	index int    // its index, when up is a list
	kind  kind
	Text  string   // of a text the text, of a number its digits
	items []*Value // of a list or an object, in the file's order
}

// Path returns the value's place, such as analytes[1].swatches[3].value.
func (v *Value) Path() string {
	if v.up == nil {
		return ""
	}
	if v.up.kind == isList {
		return v.up.Path() + "[" + strconv.Itoa(v.index) + "]"
	}
	return v.up.Field(v.Name)
}

// Field returns the place of a field of the object v, there or not.
func (v *Value) Field(name string) string {
	if !plain(name) {
		return v.Path() + "[" + Quote(name) + "]"
	}
	if v.up == nil {
		return name
	}
	return v.Path() + "." + name
}

// EmptyText reports whether the value is the text "".
func (v *Value) EmptyText() bool { return v.kind == isText && v.Text == "" }

// plain reports whether a field name can stand in a path without quotes.
func plain(name string) bool {
	for _, r := range name {
		if r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') {
			return false
		}
	}
	return name != "" && len(name) <= 40
}

// Parse reads one JSON value strictly: UTF-8 (a byte order mark is passed
// over), within the caps, no field twice in an object, nothing after the end.
// Field names keep their case.
func Parse(data []byte) (*Value, error) {
	if len(data) > maxBytes {
		return nil, Fault("", "make it smaller", "is %d bytes, over the limit of %d", len(data), maxBytes)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, Fault("", "write it anew", "is empty")
	}
	if !utf8.Valid(data) {
		return nil, Fault("", "save it as UTF-8", "is not UTF-8 text")
	}
	var raw json.RawMessage
	if err := json.Unmarshal(data, &raw); err != nil {
		return nil, syntaxError(data, err)
	}
	w := &walk{tokens: json.NewDecoder(bytes.NewReader(data)), left: maxValues}
	w.tokens.UseNumber()
	root := &Value{}
	if err := w.read(root, 0); err != nil {
		return nil, err
	}
	return root, nil
}

// syntaxError says at which line and column the JSON ends to be JSON.
func syntaxError(data []byte, err error) error {
	var s *json.SyntaxError
	if !errors.As(err, &s) {
		return Fault("", "mend it there", "is not JSON: %v", err)
	}
	before := data[:min(max(s.Offset-1, 0), int64(len(data)))]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
	return Fault("", "mend it there", "is not JSON at line %d, column %d: %v", line, column, err)
}

// walk turns tokens into values and counts them.
type walk struct {
	tokens *json.Decoder
	left   int
}

// read fills v, whose place is set, from the next tokens.
func (w *walk) read(v *Value, depth int) error {
	if w.left--; w.left < 0 {
		return Fault("", "make it smaller", "holds over %d values", maxValues)
	}
	token, err := w.tokens.Token()
	if err != nil {
		return Fault(v.Path(), "mend it there", "is not JSON: %v", err)
	}
	switch t := token.(type) {
	case json.Delim:
		if depth == maxDepth {
			return Fault("", "remove the inner ones", "is nested over %d levels deep", maxDepth)
		}
		v.kind = isList
		if t == '{' {
			v.kind = isObject
		}
		return w.fill(v, depth+1)
	case string:
		v.kind, v.Text = isText, t
	case json.Number:
		v.kind, v.Text = isNumber, t.String()
	case bool:
		v.kind, v.Text = isTruth, strconv.FormatBool(t)
	default:
		v.kind = isNull
	}
	return nil
}

// fill reads the items of a list or an object up to its end.
func (w *walk) fill(v *Value, depth int) error {
	seen := map[string]bool{}
	for w.tokens.More() {
		item := &Value{up: v, index: len(v.items)}
		if v.kind == isObject {
			token, err := w.tokens.Token()
			if err != nil {
				return Fault(v.Path(), "mend it there", "is not JSON: %v", err)
			}
			item.Name = fmt.Sprint(token)
			if seen[item.Name] {
				return Fault(item.Path(), "keep one of them", "is there twice")
			}
			seen[item.Name] = true
		}
		if err := w.read(item, depth); err != nil {
			return err
		}
		v.items = append(v.items, item)
	}
	if _, err := w.tokens.Token(); err != nil {
		return Fault(v.Path(), "mend it there", "is not JSON: %v", err)
	}
	return nil
}
