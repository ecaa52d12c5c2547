package bag

import (
	"bytes"
	"fmt"
	"io"
	"slices"
)

// File is one file of a record: its path from the record's folder, with /.
type File struct {
	Name string
	Data []byte
}

// Files are all files of a bag with this payload and these info lines: the payload,
// bag-info.txt, the declaration, and the manifests. They are in no order.
func Files(payload []File, info Info) []File {
	files := append(slices.Clip(payload), File{"bagit.txt", []byte(declaration)}, File{"bag-info.txt", info.text()})
	files = append(files, manifestsOf(files, "manifest-", true)...)
	return append(files, manifestsOf(files, "tagmanifest-", false)...)
}

// Memory is a [Root] whose files are in memory.
func Memory(files []File) *Root {
	r := &Root{files: map[string]func() (io.ReadCloser, error){}}
	for _, f := range files {
		r.files[f.Name] = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(f.Data)), nil }
	}
	return r
}

// CheckSizes says why a record of these files cannot be written: no record is made
// that a check would refuse.
func CheckSizes(files []File) error {
	var total int64
	for _, f := range files {
		if int64(len(f.Data)) > FileBytes {
			return fmt.Errorf("%s is over %d MB, which no file of a record may be; make it smaller", f.Name, int64(FileBytes)>>20)
		}
		total += int64(len(f.Data))
	}
	switch {
	case len(files) > MostFiles:
		return fmt.Errorf("the record would be of %d files; it holds %d at most, so attach fewer", len(files), MostFiles)
	case total > TotalBytes:
		return fmt.Errorf("the record would take %d MB; it holds %d MB at most, so attach less", total>>20, int64(TotalBytes)>>20)
	}
	return nil
}
