package charts

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

// value is one JSON value with its place in the file.
type value struct {
	up    *value
	name  string // its field name, when up is an object
	index int    // its index, when up is a list
	kind  kind
	text  string   // of a text the text, of a number its digits
	items []*value // of a list or an object, in the file's order
}

// path returns the value's place, such as analytes[1].swatches[3].value.
func (v *value) path() string {
	if v.up == nil {
		return ""
	}
	if v.up.kind == isList {
		return v.up.path() + "[" + strconv.Itoa(v.index) + "]"
	}
	return v.up.field(v.name)
}

// field returns the place of a field of the object v, there or not.
func (v *value) field(name string) string {
	if !plain(name) {
		return v.path() + "[" + quote(name) + "]"
	}
	if v.up == nil {
		return name
	}
	return v.path() + "." + name
}

// emptyText reports whether the value is the text "".
func (v *value) emptyText() bool { return v.kind == isText && v.text == "" }

// plain reports whether a field name can stand in a path without quotes.
func plain(name string) bool {
	for _, r := range name {
		if r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') {
			return false
		}
	}
	return name != "" && len(name) <= 40
}

// readJSON reads one JSON value strictly: UTF-8 (a byte order mark is passed
// over), within the caps, no field twice in an object, nothing after the end.
// Field names keep their case.
func readJSON(data []byte) (*value, error) {
	if len(data) > maxBytes {
		return nil, at("", "make it smaller", "is %d bytes, over the limit of %d", len(data), maxBytes)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, at("", "write it anew", "is empty")
	}
	if !utf8.Valid(data) {
		return nil, at("", "save it as UTF-8", "is not UTF-8 text")
	}
	var raw json.RawMessage
	if err := json.Unmarshal(data, &raw); err != nil {
		return nil, syntaxError(data, err)
	}
	w := &walk{tokens: json.NewDecoder(bytes.NewReader(data)), left: maxValues}
	w.tokens.UseNumber()
	root := &value{}
	if err := w.read(root, 0); err != nil {
		return nil, err
	}
	return root, nil
}

// syntaxError says at which line and column the JSON ends to be JSON.
func syntaxError(data []byte, err error) error {
	var s *json.SyntaxError
	if !errors.As(err, &s) {
		return at("", "mend it there", "is not JSON: %v", err)
	}
	before := data[:min(max(s.Offset-1, 0), int64(len(data)))]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
	return at("", "mend it there", "is not JSON at line %d, column %d: %v", line, column, err)
}

// walk turns tokens into values and counts them.
type walk struct {
	tokens *json.Decoder
	left   int
}

// read fills v, whose place is set, from the next tokens.
func (w *walk) read(v *value, depth int) error {
	if w.left--; w.left < 0 {
		return at("", "make it smaller", "holds over %d values", maxValues)
	}
	token, err := w.tokens.Token()
	if err != nil {
		return at(v.path(), "mend it there", "is not JSON: %v", err)
	}
	switch t := token.(type) {
	case json.Delim:
		if depth == maxDepth {
			return at("", "remove the inner ones", "is nested over %d levels deep", maxDepth)
		}
		v.kind = isList
		if t == '{' {
			v.kind = isObject
		}
		return w.fill(v, depth+1)
	case string:
		v.kind, v.text = isText, t
	case json.Number:
		v.kind, v.text = isNumber, t.String()
	case bool:
		v.kind, v.text = isTruth, strconv.FormatBool(t)
	default:
		v.kind = isNull
	}
	return nil
}

// fill reads the items of a list or an object up to its end.
func (w *walk) fill(v *value, depth int) error {
	seen := map[string]bool{}
	for w.tokens.More() {
		item := &value{up: v, index: len(v.items)}
		if v.kind == isObject {
			token, err := w.tokens.Token()
			if err != nil {
				return at(v.path(), "mend it there", "is not JSON: %v", err)
			}
			item.name = fmt.Sprint(token)
			if seen[item.name] {
				return at(item.path(), "keep one of them", "is there twice")
			}
			seen[item.name] = true
		}
		if err := w.read(item, depth); err != nil {
			return err
		}
		v.items = append(v.items, item)
	}
	if _, err := w.tokens.Token(); err != nil {
		return at(v.path(), "mend it there", "is not JSON: %v", err)
	}
	return nil
}
