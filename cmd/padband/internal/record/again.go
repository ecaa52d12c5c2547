package record

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
)

// nought is the limit below which two numbers both count as nought: a difference that
// should vanish leaves another remainder on another processor.
const nought = 1e-9

// closeTo reports whether two numbers of a reading are the same but for another
// processor's rounding. A reading is written with five significant digits, so rounding
// can move a number by one unit of the fifth digit, and no more.
func closeTo(a, b float64) bool {
	largest := max(math.Abs(a), math.Abs(b))
	if largest <= nought {
		return true
	}
	unit := math.Pow(10, math.Floor(math.Log10(largest))-4)
	return math.Abs(a-b) <= 1.01*unit
}

// Parts are the bytes of a record that a reading rests on.
type Parts struct {
	Name                string // the photo's name, as it came
	Photo, Chart, Marks []byte
	Shots               []Shot // of several photos of one strip; Name, Photo and Marks are then empty
	Asked               Asked
}

// Again reads the photo again from the bytes of a record.
type Again func(Parts) (Remade, error)

// compareReadings says how a reading made again differs from the kept one.
func compareReadings(old, again []byte) []bag.Finding {
	was, a, err := bothWays(old)
	if err != nil {
		return []bag.Finding{bag.Fault(readingPath, "is not a reading: %v", err)}
	}
	is, b, err := bothWays(again)
	if err != nil {
		return []bag.Finding{bag.Fault(readingPath, "the photo read again gives no reading: %v", err)}
	}
	older := was.Program.Method < is.Program.Method // it lacks what reading files have gained since
	diffs := differences("", without(a), without(b), older)
	gives, reread := "the photo gives", "the photo was read again"
	if len(was.Strip) > 0 {
		gives, reread = "the photos give", "the photos were read again and joined again"
	}
	switch {
	case was.Program.Method != is.Program.Method:
		text := "no value differs"
		if len(diffs) > 0 {
			text = diffs[0].String() + more(len(diffs)-1)
		}
		return []bag.Finding{bag.Remark(readingPath, "was made by method %d and read again by method %d: %s",
			was.Program.Method, is.Program.Method, text)}
	case len(diffs) > 0:
		return []bag.Finding{bag.Fault(readingPath, "is not what %s when read again: %s%s", gives, diffs[0], more(len(diffs)-1))}
	case was.Program != is.Program:
		return []bag.Finding{bag.Remark(readingPath, "read again by another program (padband %s, %s; kept by %s, %s): the same",
			is.Program.Version, is.Program.Go, was.Program.Version, was.Program.Go)}
	}
	return []bag.Finding{bag.Remark(readingPath, "%s: the same", reread)}
}

// more says how many further differences there are, or nothing for none.
func more(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" (and %d more)", n)
}

// bothWays gives a reading file twice: as it is understood, and as the plain JSON that
// it is.
func bothWays(data []byte) (f reading.File, plain map[string]any, err error) {
	if f, err = reading.Parse(data); err == nil {
		err = json.Unmarshal(data, &plain)
	}
	if err == nil && f.Program.Method < 1 {
		err = fmt.Errorf("program.method is %d, and methods are counted from 1", f.Program.Method)
	}
	return f, plain, err
}

// without removes what does not come from the photo: the program, and the photo's file
// name, which the record may have made plain.
func without(doc map[string]any) map[string]any {
	delete(doc, "program")
	// The names of several photos stay: each reading says by them where it is from.
	if p, ok := doc["photo"].(map[string]any); ok {
		delete(p, "file")
	}
	return doc
}

// difference is one place where two readings do not say the same.
type difference struct {
	where    string
	was, now any
}

// String is the difference in words, each value cut to 60 letters.
func (d difference) String() string {
	return fmt.Sprintf("%s was %.60s, is %.60s", d.where, compact(d.was), compact(d.now))
}

// compact is a value as JSON without blanks.
func compact(v any) string {
	b, _ := json.Marshal(v) // it came from JSON
	return string(b)
}

// gained reports whether files of a newer method have a field that older files lack:
// those since method 3 have a warning's places and a source's code, and those since
// method 7 the white that was found, which stands in the light of a photo.
func gained(where, field string) bool {
	switch field {
	case "places":
		return strings.HasSuffix(where, "]")
	case "code":
		return strings.Contains(where, "].budget[")
	case "found_white":
		return where == "light" || strings.HasSuffix(where, "].light")
	}
	return false
}

// differences lists where two JSON values differ. With older set, a field that the
// second value has gained counts for nothing.
func differences(where string, a, b any, older bool) []difference {
	switch a := a.(type) {
	case map[string]any:
		if b, ok := b.(map[string]any); ok {
			return inMaps(where, a, b, older)
		}
	case []any:
		if b, ok := b.([]any); ok && len(a) == len(b) {
			var out []difference
			for i := range a {
				out = append(out, differences(fmt.Sprintf("%s[%d]", where, i), a[i], b[i], older)...)
			}
			return out
		}
	case float64:
		if b, ok := b.(float64); ok && closeTo(a, b) {
			return nil
		}
	default:
		if _, list := b.([]any); !list {
			if _, object := b.(map[string]any); !object && a == b {
				return nil
			}
		}
	}
	return []difference{{where, a, b}}
}

// inMaps lists where two JSON objects differ, by the names of their fields in order.
func inMaps(where string, a, b map[string]any, older bool) (out []difference) {
	var keys []string
	for k := range a {
		keys = append(keys, k)
	}
	for k := range b {
		if _, both := a[k]; !both && !(older && gained(where, k)) {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	for _, k := range keys {
		name := k
		if where != "" {
			name = where + "." + k
		}
		out = append(out, differences(name, a[k], b[k], older)...)
	}
	return out
}
