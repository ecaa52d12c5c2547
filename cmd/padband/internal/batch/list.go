package batch

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
)

// mostName is the longest name of a list in bytes.
const mostName = 4096

// List reads names of photos, one a line, in the order in which they stand.
// Empty lines are passed over; a line may end as on Windows. What the rows call a
// photo is its name as it stands. An error names the line.
func List(r io.Reader) ([]Photo, error) {
	var out []Photo
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, mostName+2)
	for n := 1; lines.Scan(); n++ {
		name := lines.Text() // without the line's end, also as Windows writes it
		switch {
		case strings.ContainsRune(name, 0):
			return nil, fmt.Errorf("line %d: this is no list of names; name a folder, or a text file with one photo's name a line", n)
		case name != "":
			out = append(out, Photo{Name: name, File: name})
		}
	}
	err := lines.Err()
	if errors.Is(err, bufio.ErrTooLong) {
		err = fmt.Errorf("after %d names: a line of over %d bytes is no name; give one photo's name a line", len(out), mostName)
	}
	return out, err
}
