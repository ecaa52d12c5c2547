package strict

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FileError says what is wrong with a chart or marks file. Its text is one
// line and does not name the file: the caller knows it.
type FileError struct {
	Path string // where, such as analytes[1].swatches[3].value; empty for the whole file
	What string // what is wrong there
	Do   string // what to do about it
}

// Error returns "path: what; do" on one line.
func (e *FileError) Error() string {
	text := e.What
	if e.Path != "" {
		text = e.Path + ": " + text
	}
	if e.Do != "" {
		text += "; " + e.Do
	}
	return text
}

// Fault makes an error about a place; do holds no verbs of fmt.
func Fault(path, do, what string, args ...any) *FileError {
	return &FileError{Path: path, What: fmt.Sprintf(what, args...), Do: do}
}

// Quote returns text from a file in quotes, its control characters escaped,
// shortened to 40 characters.
func Quote(text string) string {
	runes := []rune(text)
	if len(runes) > 40 {
		text = string(runes[:40]) + "..."
	}
	return strconv.Quote(text)
}

// Figure prints a value the way charts do: 0.5, 25, 1000.
func Figure(v float64) string {
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Some joins at most a dozen items.
func Some(items []string) string {
	if len(items) > 12 {
		items = append(items[:12:12], "...")
	}
	return strings.Join(items, ", ")
}
