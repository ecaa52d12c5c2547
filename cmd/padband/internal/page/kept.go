package page

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"sync"
	"time"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report/paper"
)

// shelf holds the records that were kept in this run, by the names of their folders
// and zip files. The page can be asked for no other record.
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

var errNoRecord = hosted.Failf(hosted.NotFound, "this record was not kept here, or is no longer in the folder; "+
	"look for it there, or keep it again")

// stored is a record in the store: a folder, or a zip file.
type stored struct {
	name   string
	folder fs.FS         // nil when it is a zip file
	zip    hosted.Stored // nil when it is a folder
}

func (k stored) close() {
	if k.zip != nil {
		k.zip.Close()
	}
}

// stored opens the record that a call names.
func (s *Page) stored(c hosted.Call) (stored, error) {
	name := c.Value("name")
	if !s.kept.has(name) {
		return stored{}, errNoRecord
	}
	if strings.HasSuffix(name, ".zip") {
		f, err := s.config.Store.Read(name)
		if err != nil {
			return stored{}, errNoRecord
		}
		return stored{name: name, zip: f}, nil
	}
	if _, err := s.config.Store.List(name); err != nil {
		return stored{}, errNoRecord
	}
	return stored{name: name, folder: hosted.Below(s.config.Store, name)}, nil
}

// asDownload makes of an answer a file to be kept. The name needs no quoting, because
// records' names are plain.
func asDownload(c hosted.Call, kind, name string) hosted.Answer {
	c.Taken(keepTime)
	return hosted.Answer{Status: hosted.OK, Header: map[string]string{
		"Content-Type": kind, "Content-Disposition": `attachment; filename="` + name + `"`,
	}}
}

// recordReport hands out a record's report, which is made from the record's own files.
func (s *Page) recordReport(ctx context.Context, c hosted.Call) hosted.Answer {
	k, err := s.stored(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer k.close()
	leave, err := s.photos.enter(ctx, s.photos.decodes)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	page, err := s.paper(k)
	if err != nil {
		return hosted.Refuse(err)
	}
	out := asDownload(c, "text/html; charset=utf-8", strings.TrimSuffix(k.name, ".zip")+".report.html")
	out.Data = page
	return out
}

// paper reads and verifies a record, and makes its report.
func (s *Page) paper(k stored) ([]byte, error) {
	open := func() (*bag.Root, error) { return bag.OpenFS(k.name, k.folder) }
	if k.zip != nil {
		open = func() (*bag.Root, error) { return bag.OpenZip(k.name, k.zip) }
	}
	root, err := open()
	if err != nil {
		return nil, fmt.Errorf("the record %w", err)
	}
	sheet, err := record.Options{Now: time.Now(), Limits: s.config.Limits, Ways: s.config.Ways}.Sheet(root, s.config.Version)
	if err != nil {
		return nil, fmt.Errorf("the record: %w", err)
	}
	return paper.Page(sheet.Input)
}

// recordZip hands out a whole record as one zip file.
func (s *Page) recordZip(_ context.Context, c hosted.Call) hosted.Answer {
	k, err := s.stored(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	if k.zip != nil {
		out := asDownload(c, "application/zip", k.name)
		out.File = k.zip
		return out
	}
	out := asDownload(c, "application/zip", k.name+".zip")
	out.Stream = func(w io.Writer) error { return writeArchive(w, k) }
	return out
}

// writeArchive writes a record's folder, file by file, as a zip file that holds that
// one folder.
func writeArchive(w io.Writer, k stored) error {
	z := zip.NewWriter(w)
	err := fs.WalkDir(k.folder, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir():
			return err
		case !d.Type().IsRegular():
			return errors.New("a record holds files only")
		}
		return archiveFile(z, k, p)
	})
	return errors.Join(err, z.Close())
}

func archiveFile(z *zip.Writer, k stored, path string) error {
	h := &zip.FileHeader{Name: k.name + "/" + path, Method: zip.Store}
	h.SetMode(0o644)
	to, err := z.CreateHeader(h)
	if err != nil {
		return err
	}
	from, err := k.folder.Open(path)
	if err != nil {
		return err
	}
	defer from.Close()
	_, err = io.Copy(to, from)
	return err
}
