package record

import (
	"fmt"
	"strings"

	"padband/cmd/padband/internal/record/bag"
)

// Held are the files of a record that a reading is made from.
type Held struct {
	Name                 string // the photo's name, without its folder
	Photo                []byte // nil unless asked for
	ChartData, MarksData []byte
}

// HeldIn returns a record's chart and marks, and its photo when that is asked for.
// They are given as they are: nothing is verified. The error says what is missing or
// cannot be read, or that the record is of several photos.
func HeldIn(r *bag.Root, withPhoto bool) (h Held, err error) {
	var photos []string
	for _, p := range r.Names() {
		if strings.HasPrefix(p, photoDir) {
			photos = append(photos, p)
		}
	}
	if ofStrip(r) {
		return h, fmt.Errorf("%d photos of one strip are in it, and this takes a photo by itself; "+
			"copy photos and marks out of the record into one folder", len(photos))
	}
	if len(photos) != 1 {
		return h, fmt.Errorf("%s holds %d files; a record is of one photo", photoDir, len(photos))
	}
	h.Name = strings.TrimPrefix(photos[0], photoDir)
	read := func(path string, limit int64) []byte {
		if err != nil {
			return nil
		}
		var data []byte
		if data, err = r.Read(path, limit); err != nil {
			err = fmt.Errorf("%s: %w", path, err)
		}
		return data
	}
	h.ChartData, h.MarksData = read(chartPath, bag.TagBytes), read(marksPath, bag.TagBytes)
	if withPhoto {
		h.Photo = read(photos[0], bag.FileBytes)
	}
	return h, err
}
