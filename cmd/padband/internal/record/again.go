package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
)

// nought is so small that two numbers below it are both nought: another
// processor leaves another remainder of a difference that should vanish.
const nought = 1e-9

// closeTo is whether two numbers of a reading are the same but for another
// processor's rounding. A reading is put down with five significant digits, so
// rounding can move a number by one unit of the fifth digit, and no more.
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
	Name                string // the photo's, as it came
	Photo, Chart, Marks []byte
	Asked               Asked
}

// Again reads the photo again from the bytes of a record.
type Again func(Parts) (Remade, error)

// kept is what a check needs of a reading.
type kept struct {
	Photo struct {
		File  string `json:"file"`
		Taken string `json:"taken"`
	} `json:"photo"`
	Program struct {
		Version string `json:"version"`
		Method  int    `json:"method"`
		Go      string `json:"go"`
	} `json:"program"`
}

// compareReadings says how a reading made again differs from the kept one.
func compareReadings(old, again []byte) []Finding {
	var was, is kept
	var a, b map[string]any
	if err := errors.Join(json.Unmarshal(old, &was), json.Unmarshal(old, &a)); err != nil {
		return []Finding{fault(readingPath, "is not a reading: %v", err)}
	}
	if err := errors.Join(json.Unmarshal(again, &is), json.Unmarshal(again, &b)); err != nil {
		return []Finding{fault(readingPath, "the photo read again gives no reading: %v", err)}
	}
	diffs := differences("", without(a), without(b))
	switch {
	case was.Program.Method != is.Program.Method:
		text := "no value differs"
		if len(diffs) > 0 {
			text = diffs[0].String() + more(len(diffs)-1)
		}
		return []Finding{remark(readingPath, "was made by method %d and read again by method %d: %s", was.Program.Method, is.Program.Method, text)}
	case len(diffs) > 0:
		return []Finding{fault(readingPath, "is not what the photo gives when read again: %s%s", diffs[0], more(len(diffs)-1))}
	case was.Program != is.Program:
		return []Finding{remark(readingPath, "read again by another program (padband %s, %s; kept by %s, %s): the same", is.Program.Version, is.Program.Go, was.Program.Version, was.Program.Go)}
	}
	return []Finding{remark(readingPath, "the photo was read again: the same")}
}

func more(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" (and %d more)", n)
}

// without leaves out what does not come from the photo: the program, and the
// photo's file name, which the record may have made plain.
func without(doc map[string]any) map[string]any {
	delete(doc, "program")
	if p, ok := doc["photo"].(map[string]any); ok {
		delete(p, "file")
	}
	return doc
}

type difference struct {
	where    string
	was, now any
}

func (d difference) String() string {
	return fmt.Sprintf("%s was %.60s, is %.60s", d.where, compact(d.was), compact(d.now))
}

func compact(v any) string {
	b, _ := json.Marshal(v) // it came from JSON
	return string(b)
}

func differences(where string, a, b any) []difference {
	switch a := a.(type) {
	case map[string]any:
		if b, ok := b.(map[string]any); ok {
			return inMaps(where, a, b)
		}
	case []any:
		if b, ok := b.([]any); ok && len(a) == len(b) {
			var out []difference
			for i := range a {
				out = append(out, differences(fmt.Sprintf("%s[%d]", where, i), a[i], b[i])...)
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

func inMaps(where string, a, b map[string]any) (out []difference) {
	var keys []string
	for k := range a {
		keys = append(keys, k)
	}
	for k := range b {
		if _, both := a[k]; !both {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	for _, k := range keys {
		name := k
		if where != "" {
			name = where + "." + k
		}
		out = append(out, differences(name, a[k], b[k])...)
	}
	return out
}
