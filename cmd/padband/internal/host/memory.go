package host

import (
	"bytes"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"padband/cmd/padband/internal/hosted"
)

// Memory is a store that lasts as long as the program: what a host without a
// disk offers. All of it is held in memory. The zero Memory is empty.
type Memory struct {
	mu    sync.Mutex
	files map[string]held // by path
}

// held is a file; its bytes do not change.
type held struct {
	data    []byte
	changed time.Time
}

// List is as in [hosted.Store].
func (m *Memory) List(folder string) ([]fs.DirEntry, error) {
	prefix := ""
	if folder != "" {
		if err := hosted.CheckName(folder); err != nil {
			return nil, err
		}
		prefix = folder + "/"
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	found := map[string]fs.DirEntry{}
	for name, f := range m.files {
		rest, ok := strings.CutPrefix(name, prefix)
		if !ok {
			continue
		}
		first, _, folder := strings.Cut(rest, "/")
		size := int64(len(f.data))
		if folder {
			size = -1
		}
		found[first] = fs.FileInfoToDirEntry(hosted.FileInfo(first, size, f.changed))
	}
	if len(found) == 0 && folder != "" {
		return nil, missing("list", folder)
	}
	var out []fs.DirEntry
	for _, name := range slices.Sorted(maps.Keys(found)) {
		out = append(out, found[name])
	}
	return out, nil
}

// missing is the error of a name that nothing has.
func missing(what, name string) error {
	return &fs.PathError{Op: what, Path: name, Err: fs.ErrNotExist}
}

// Read is as in [hosted.Store].
func (m *Memory) Read(name string) (hosted.Stored, error) {
	if err := hosted.CheckName(name); err != nil {
		return nil, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if f, ok := m.files[name]; ok {
		return hosted.Bytes(name, f.data, f.changed), nil
	}
	if m.folder(name) {
		return nil, errFolder
	}
	return nil, missing("open", name)
}

// folder reports whether there is a folder of this name. The lock is held.
func (m *Memory) folder(name string) bool {
	for n := range m.files {
		if strings.HasPrefix(n, name+"/") {
			return true
		}
	}
	return false
}

// WriteWhole is as in [hosted.Store].
func (m *Memory) WriteWhole(files []hosted.File, over hosted.Over) error {
	units, err := hosted.UnitsOf(files)
	if err != nil {
		return err
	}
	made := map[string]held{}
	for _, f := range files {
		data := bytes.NewBuffer(slices.Clone(f.Data))
		if f.Make != nil {
			if err := f.Make(data); err != nil {
				return &hosted.WriteError{Name: f.Name, Err: err}
			}
		}
		made[f.Name] = held{data.Bytes(), time.Now()}
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.check(units, over); err != nil {
		return err
	}
	if m.files == nil {
		m.files = map[string]held{}
	}
	for name, f := range made {
		if old, there := m.files[name]; !there || !bytes.Equal(old.data, f.data) {
			m.files[name] = f
		}
	}
	return nil
}

// check refuses names that are taken. The lock is held.
func (m *Memory) check(units []hosted.Unit, over hosted.Over) error {
	var taken hosted.ExistsError
	for _, u := range units {
		old, there := m.files[u.Name]
		folder := m.folder(u.Name)
		switch {
		case !there && !folder:
		case over != hosted.Never && !u.Tree && folder:
			return &hosted.InWayError{Name: u.Name}
		case over == hosted.Replace && !u.Tree,
			over == hosted.Same && !u.Tree && u.Files[0].Make == nil && bytes.Equal(old.data, u.Files[0].Data):
		default:
			taken.Names = append(taken.Names, u.Name)
		}
	}
	if taken.Names != nil {
		return &taken
	}
	return nil
}

// Remove is as in [hosted.Store].
func (m *Memory) Remove(name string) error {
	if err := hosted.CheckName(name); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	before := len(m.files)
	maps.DeleteFunc(m.files, func(n string, _ held) bool { return n == name || strings.HasPrefix(n, name+"/") })
	if len(m.files) == before {
		return missing("remove", name)
	}
	return nil
}
