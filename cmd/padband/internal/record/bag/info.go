package bag

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fact is one line of bag-info.txt: a label and what was written for it.
type Fact struct{ Label, Value string }

// Info is bag-info.txt, in order; labels may repeat.
type Info []Fact

// Get is the first value of a label, whose upper and lower case do not matter; it is
// empty when there is none.
func (in Info) Get(label string) string {
	for _, f := range in {
		if strings.EqualFold(f.Label, label) {
			return f.Value
		}
	}
	return ""
}

// text writes each fact as "Label: value", with further lines of a value indented (RFC
// 8493, section 2.2.2).
func (in Info) text() []byte {
	var b strings.Builder
	for _, f := range in {
		if v := Cleaned(f.Value); v != "" {
			fmt.Fprintf(&b, "%s: %s\n", f.Label, strings.ReplaceAll(v, "\n", "\n  "))
		}
	}
	return []byte(b.String())
}

// Cleaned is a value as bag-info.txt can hold it: its lines have no blanks at their
// ends and no empty lines between them, and what does not print becomes U+FFFD.
func Cleaned(s string) string {
	var lines []string
	for _, l := range textLines(s) {
		l = strings.TrimSpace(strings.Map(printable, l))
		if l != "" {
			lines = append(lines, l)
		}
	}
	return strings.Join(lines, "\n")
}

// printable turns a letter into one that bag-info.txt can hold.
func printable(r rune) rune {
	switch {
	case unicode.IsSpace(r):
		return ' '
	case !unicode.IsPrint(r):
		return unicode.ReplacementChar
	}
	return r
}

// ParseInfo reads bag-info.txt.
func ParseInfo(data []byte) (Info, error) {
	var in Info
	if !utf8.Valid(data) {
		return nil, errors.New("is not UTF-8, which bagit.txt says it is")
	}
	for i, line := range textLines(string(data)) {
		if line != "" && (line[0] == ' ' || line[0] == '\t') {
			if len(in) == 0 {
				return nil, errors.New("line 1 is indented and goes on from nothing")
			}
			in[len(in)-1].Value += "\n" + strings.TrimSpace(line)
			continue
		}
		label, value, ok := strings.Cut(line, ":")
		if !ok || label == "" || strings.TrimSpace(label) != label || value != "" && value[0] != ' ' && value[0] != '\t' {
			return nil, fmt.Errorf("line %d is not of the form \"Label: value\"", i+1)
		}
		in = append(in, Fact{label, strings.TrimSpace(value)})
	}
	return in, nil
}

// declaration is bagit.txt as a record holds it.
const declaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"

// checkDeclaration reads bagit.txt: two lines in this order, nothing else
// (RFC 8493, section 2.1.1).
func checkDeclaration(data []byte) error {
	lines := textLines(string(data))
	if len(lines) != 2 {
		return errors.New("must be two lines, the version and the encoding")
	}
	version, ok := strings.CutPrefix(lines[0], "BagIt-Version: ")
	switch {
	case !ok:
		return errors.New(`must start with "BagIt-Version: "`)
	case version != "1.0":
		return fmt.Errorf("is of version %.20q; only version 1.0 is read", version)
	case lines[1] != "Tag-File-Character-Encoding: UTF-8":
		return errors.New(`must end with "Tag-File-Character-Encoding: UTF-8"; no other encoding is read`)
	}
	return nil
}
