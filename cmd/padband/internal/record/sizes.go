package record

import (
	"fmt"

	"padband/cmd/padband/internal/record/bag"
)

// around is the number of files that a record has besides the attached ones: photo,
// chart, marks, reading and page, and those beside data.
var around = 5 + len(outer)

// CheckAttached says why so many files, of so many bytes together, cannot be attached.
// A record that holds more is refused by verify, so none is made.
func CheckAttached(files int, bytes int64) error {
	switch {
	case files+around > bag.MostFiles:
		return fmt.Errorf("%d files are too many to attach; a record holds %d at most, so keep some of them in another",
			files, bag.MostFiles-around)
	case bytes > bag.TotalBytes:
		return fmt.Errorf("the files to attach take %d MB together; a record holds %d MB at most, so keep some of them in another",
			bytes>>20, int64(bag.TotalBytes)>>20)
	}
	return nil
}
