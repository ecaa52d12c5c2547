package hosted

import (
	"bytes"
	"io/fs"
	"path"
	"time"
)

// Bytes is a file that lies in memory, open to be read.
func Bytes(name string, data []byte, changed time.Time) Stored {
	return inMemory{bytes.NewReader(data), FileInfo(path.Base(name), int64(len(data)), changed)}
}

type inMemory struct {
	*bytes.Reader
	info fs.FileInfo
}

func (f inMemory) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f inMemory) Close() error               { return nil }

// FileInfo is what is told of a file that lies in no file system; of a folder
// when its size is negative.
func FileInfo(name string, size int64, changed time.Time) fs.FileInfo {
	return info{name, size, changed}
}

type info struct {
	name    string
	size    int64
	changed time.Time
}

func (i info) Name() string       { return i.name }
func (i info) Size() int64        { return max(0, i.size) }
func (i info) ModTime() time.Time { return i.changed }
func (i info) IsDir() bool        { return i.size < 0 }
func (i info) Sys() any           { return nil }

func (i info) Mode() fs.FileMode {
	if i.IsDir() {
		return fs.ModeDir | 0o755
	}
	return 0o644
}

// Below is a folder of a store as a file system; "" is the store itself. What is
// neither a file nor a folder is listed and not opened.
func Below(s Store, folder string) fs.FS { return below{s, folder} }

type below struct {
	store  Store
	folder string
}

// in is a name of the file system as one of the store.
func (b below) in(name string) string {
	if name = path.Join(b.folder, name); name == "." {
		return ""
	}
	return name
}

func (b below) Open(name string) (fs.File, error) { return b.store.Read(b.in(name)) }

func (b below) ReadDir(name string) ([]fs.DirEntry, error) { return b.store.List(b.in(name)) }

// Stat is asked of the folder itself alone, where a walk begins.
func (b below) Stat(name string) (fs.FileInfo, error) {
	if _, err := b.ReadDir(name); err != nil {
		return nil, err
	}
	return FileInfo(path.Base(name), -1, time.Time{}), nil
}
