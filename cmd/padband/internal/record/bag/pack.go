package bag

import (
	"archive/zip"
	"compress/flate"
	"io"
	"strings"
)

// WriteZip writes files as a zip file with the folder base, in the order given;
// the same files give the same bytes. Pictures are stored as they are.
func WriteZip(w io.Writer, base string, files []File) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		h := &zip.FileHeader{Name: base + "/" + f.Name, Method: zip.Deflate}
		if strings.HasPrefix(f.Name, "data/photo/") || strings.HasPrefix(f.Name, "data/attached/") || len(f.Data) < 64 || packsTooWell(f.Data) {
			h.Method = zip.Store
		}
		h.SetMode(0o644)
		e, err := z.CreateHeader(h)
		if err == nil {
			_, err = e.Write(f.Data)
		}
		if err != nil {
			return err
		}
	}
	return z.Close()
}

// packsTooWell reports whether a zip file with these bytes packed would look like one
// that was made to fill a disk.
func packsTooWell(data []byte) bool {
	if len(data) <= slack {
		return false
	}
	var n counter
	w, _ := flate.NewWriter(&n, flate.DefaultCompression) // the level is a good one
	_, _ = w.Write(data)                                  // a counter never fails
	_ = w.Close()
	return int64(len(data))/(ratio/2) > int64(n)
}
