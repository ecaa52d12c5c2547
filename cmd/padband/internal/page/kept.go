package page

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/report"
)

// shelf is the records that were kept in this run, by the names of their
// folders and zip files. No other can be asked for.
type shelf struct {
	mu    sync.Mutex
	names map[string]bool
}

func (k *shelf) add(name string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.names == nil {
		k.names = map[string]bool{}
	}
	k.names[name] = true
}

func (k *shelf) has(name string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.names[name]
}

var errNoRecord = errors.New("this record was not kept here, or is no longer in the folder; look for it there, or keep it again")

// recordNamed finds the record that a call names; when there is none the call is answered.
func (s *Server) recordNamed(w http.ResponseWriter, r *http.Request) (name string, ok bool) {
	name = r.PathValue("name")
	if s.kept.has(name) {
		if _, err := os.Lstat(filepath.Join(s.config.Folder, name)); err == nil {
			return name, true
		}
	}
	refuse(w, http.StatusNotFound, errNoRecord)
	return "", false
}

// asDownload says that the answer is a file to be kept. Records' names are plain.
func asDownload(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(keepTime))
}

// recordReport hands out a record's report, made from the record's own files.
func (s *Server) recordReport(w http.ResponseWriter, r *http.Request) {
	name, ok := s.recordNamed(w, r)
	if !ok {
		return
	}
	leave, err := s.photos.enter(r.Context(), s.photos.decodes)
	if err != nil {
		refuse(w, http.StatusServiceUnavailable, err)
		return
	}
	defer leave()
	page, err := s.paper(filepath.Join(s.config.Folder, name))
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	asDownload(w, "text/html; charset=utf-8", strings.TrimSuffix(name, ".zip")+".report.html")
	w.Write(page)
}

// paper reads and verifies a record, and makes its report.
func (s *Server) paper(path string) ([]byte, error) {
	root, err := record.Open(path)
	if err != nil {
		return nil, fmt.Errorf("the record %w", err)
	}
	defer root.Close()
	sheet, err := record.Options{Now: time.Now(), Limits: s.config.Limits}.Sheet(root, s.config.Version)
	if err != nil {
		return nil, fmt.Errorf("the record: %w", err)
	}
	return report.Paper(sheet.PaperInput)
}

// recordZip hands out a whole record as one zip file.
func (s *Server) recordZip(w http.ResponseWriter, r *http.Request) {
	name, ok := s.recordNamed(w, r)
	if !ok {
		return
	}
	if strings.HasSuffix(name, ".zip") {
		s.zipFile(w, r, name)
		return
	}
	root, err := os.OpenRoot(filepath.Join(s.config.Folder, name)) // what is opened through it cannot lead outside
	if err != nil {
		refuse(w, http.StatusNotFound, errNoRecord)
		return
	}
	defer root.Close()
	asDownload(w, "application/zip", name+".zip")
	if writeArchive(w, root, name) != nil {
		panic(http.ErrAbortHandler) // half a record must not look like a whole one
	}
}

func (s *Server) zipFile(w http.ResponseWriter, r *http.Request, name string) {
	f, err := os.OpenInRoot(s.config.Folder, name)
	if err != nil {
		refuse(w, http.StatusNotFound, errNoRecord)
		return
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		refuse(w, http.StatusNotFound, errNoRecord)
		return
	}
	asDownload(w, "application/zip", name)
	http.ServeContent(w, r, name, info.ModTime(), f)
}

// writeArchive writes a record's folder as a zip file of that one folder, file by file.
func writeArchive(w io.Writer, root *os.Root, name string) error {
	z := zip.NewWriter(w)
	err := fs.WalkDir(root.FS(), ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir():
			return err
		case !d.Type().IsRegular():
			return errors.New("a record holds files only")
		}
		return archiveFile(z, root, name, p)
	})
	return errors.Join(err, z.Close())
}

func archiveFile(z *zip.Writer, root *os.Root, name, path string) error {
	h := &zip.FileHeader{Name: name + "/" + path, Method: zip.Store}
	h.SetMode(0o644)
	to, err := z.CreateHeader(h)
	if err != nil {
		return err
	}
	from, err := root.Open(filepath.FromSlash(path))
	if err != nil {
		return err
	}
	defer from.Close()
	_, err = io.Copy(to, from)
	return err
}
