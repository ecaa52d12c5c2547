package batch

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"padband/cmd/padband/internal/input"
)

// Photos finds the photos of a folder, as [Find] does, or of a list; "-" is the list
// that in holds.
func Photos(name string, in io.Reader, unmarked bool) ([]Photo, error) {
	if name == "-" {
		photos, err := List(in)
		if err == nil && len(photos) == 0 {
			err = errors.New("no name of a photo came in")
		}
		return photos, err
	}
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		photos, err := Find(name, unmarked)
		switch {
		case err != nil || len(photos) > 0:
		case unmarked:
			err = errors.New("there is no photo in this folder; name another")
		default:
			err = errors.New("there is no photo with marks in this folder; mark some first")
		}
		return photos, err
	}
	return listIn(name)
}

// mostList is the most bytes of a list of names.
const mostList = 1 << 30

// listIn reads the names in a file.
func listIn(name string) ([]Photo, error) {
	data, err := input.ReadFile(name, mostList)
	if err != nil {
		return nil, err
	}
	photos, err := List(bytes.NewReader(data))
	if err == nil && len(photos) == 0 {
		err = errors.New("no name of a photo stands in it")
	}
	return photos, err
}

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
