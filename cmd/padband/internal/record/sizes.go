package record

import (
	"compress/flate"
	"fmt"
)

// around are the files that a record has besides what is attached: photo, chart,
// marks, reading and page, and those beside data.
var around = 5 + len(outer)

// CheckAttached says why so many files, of so many bytes together, cannot be
// attached: verify refuses a record that holds more, so none is made.
func CheckAttached(files int, bytes int64) error {
	switch {
	case files+around > mostFiles:
		return fmt.Errorf("%d files are too many to attach; a record holds %d at most, so keep some of them in another", files, mostFiles-around)
	case bytes > totalBytes:
		return fmt.Errorf("the files to attach take %d MB together; a record holds %d MB at most, so keep some of them in another", bytes>>20, int64(totalBytes)>>20)
	}
	return nil
}

// checkSizes is [CheckAttached] for all that a record will hold.
func checkSizes(files []File) error {
	var total int64
	for _, f := range files {
		if int64(len(f.Data)) > fileBytes {
			return fmt.Errorf("%s is over %d MB, which no file of a record may be; make it smaller", f.Name, int64(fileBytes)>>20)
		}
		total += int64(len(f.Data))
	}
	switch {
	case len(files) > mostFiles:
		return fmt.Errorf("the record would be of %d files; it holds %d at most, so attach fewer", len(files), mostFiles)
	case total > totalBytes:
		return fmt.Errorf("the record would take %d MB; it holds %d MB at most, so attach less", total>>20, int64(totalBytes)>>20)
	}
	return nil
}

// packsTooWell is whether a zip file with these bytes packed would look like one
// made to fill a disk.
func packsTooWell(data []byte) bool {
	if len(data) <= slack {
		return false
	}
	var n counter
	w, _ := flate.NewWriter(&n, flate.DefaultCompression) // the level is a good one
	_, _ = w.Write(data)                                  // a counter takes all
	_ = w.Close()
	return int64(len(data))/(ratio/2) > int64(n)
}
