package agreement

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Value is what a reader called: a number, a range between two, or one end
// with the other left open.
type Value struct {
	// Low and High are equal for a number. Low is -Inf for "<1", High is +Inf
	// for ">25"; the other is then the end that was named.
	Low, High float64
	// Reached says of an open-ended call that the end itself is meant too: "≥25".
	Reached bool
}

// Number is the call of one number.
func Number(v float64) Value { return Value{Low: v, High: v} }

// Exact reports whether the call is one number.
func (v Value) Exact() bool { return v.Low == v.High }

// Open reports whether one end is left open.
func (v Value) Open() bool { return math.IsInf(v.Low, 0) || math.IsInf(v.High, 0) }

// String writes the call as [ParseValue] reads it.
func (v Value) String() string {
	end := func(open, reached string) string {
		if v.Reached {
			return reached
		}
		return open
	}
	switch {
	case v.Exact():
		return plain(v.Low)
	case math.IsInf(v.Low, -1):
		return end("<", "≤") + plain(v.High)
	case math.IsInf(v.High, 1):
		return end(">", "≥") + plain(v.Low)
	}
	return plain(v.Low) + "-" + plain(v.High)
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// What is wrong with a value.
var (
	errBlank    = errors.New("no value")
	errNegative = errors.New("is below 0")
	errSpacious = errors.New("is over 1e12 or under 1e-12")
)

// ParseValue reads a call: a number from 0 to 1e12 ("6.8"), a range ("3-7",
// "3 to 7", in either order), or an open end ("<1", "≤1", ">25", ">=25"). A
// comma stands for the decimal point where comma is true. What is blank, has a
// unit beside it or is no such number is an error that does not name the place.
func ParseValue(s string, comma bool) (Value, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return Value{}, errBlank
	}
	for _, open := range openings {
		if rest, ok := strings.CutPrefix(s, open.sign); ok {
			v, err := parseNumber(rest, comma)
			if err != nil {
				return Value{}, fmt.Errorf("%q %w", clip(s), err)
			}
			if open.below {
				return Value{math.Inf(-1), v, open.reached}, nil
			}
			return Value{v, math.Inf(1), open.reached}, nil
		}
	}
	if low, high, ok := cutRange(s); ok {
		return parseRange(s, low, high, comma)
	}
	v, err := parseNumber(s, comma)
	if err != nil {
		return Value{}, fmt.Errorf("%q %w", clip(s), err)
	}
	return Number(v), nil
}

var openings = []struct {
	sign           string
	below, reached bool
}{
	{"<=", true, true}, {"≤", true, true}, {"<", true, false},
	{">=", false, true}, {"≥", false, true}, {">", false, false},
}

// cutRange splits at the dash or word between two numbers. A dash that is the
// sign of an exponent or of the first number is none.
func cutRange(s string) (low, high string, ok bool) {
	for _, sep := range []string{" to ", "–", "..", " - "} {
		if low, high, ok = strings.Cut(s, sep); ok {
			return low, high, true
		}
	}
	for i := 1; i < len(s); i++ {
		if s[i] == '-' && s[i-1] != 'e' && s[i-1] != 'E' {
			return s[:i], s[i+1:], true
		}
	}
	return "", "", false
}

func parseRange(s, low, high string, comma bool) (Value, error) {
	a, err1 := parseNumber(low, comma)
	b, err2 := parseNumber(high, comma)
	if err := errors.Join(err1, err2); err != nil {
		return Value{}, fmt.Errorf("%q is no range of two numbers such as 3-7", clip(s))
	}
	return Value{Low: min(a, b), High: max(a, b)}, nil
}

// parseNumber reads one plain number.
func parseNumber(s string, comma bool) (float64, error) {
	s = strings.TrimSpace(s)
	if comma && strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		if whole, part, _ := strings.Cut(s, ","); len(part) == 3 && len(whole) <= 3 && whole != "0" {
			return 0, errors.New("may mean thousands or decimals; write it without a comma")
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	if s == "" || strings.Trim(s, "0123456789.eE+-") != "" {
		return 0, errors.New("is no number; write the number alone, a range such as 3-7, <1 or >25")
	}
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case errors.Is(err, strconv.ErrRange):
		return 0, errSpacious
	case err != nil:
		return 0, errors.New("is no number")
	case v < 0:
		return 0, errNegative
	case v > 1e12 || v > 0 && v < 1e-12:
		return 0, errSpacious
	}
	return math.Abs(v), nil // -0 is 0
}

// clip shortens a text from a file for a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
