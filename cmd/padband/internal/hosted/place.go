package hosted

import (
	"errors"
	"io/fs"
	"strings"

	"padband/cmd/padband/internal/input"
)

// Beside is a store as the place where files lie beside a photo.
func Beside(s Store) input.Place { return place{s} }

type place struct{ Store }

func (p place) ReadFile(name string, limit int64) ([]byte, error) {
	f, err := p.Read(name)
	return input.ReadOpened(f, err, limit)
}

func (p place) There(name string) bool { return !p.Missing(name) }

func (p place) Missing(name string) bool {
	f, err := p.Read(name)
	if err == nil {
		f.Close()
	}
	return errors.Is(err, fs.ErrNotExist)
}

func (p place) ChartsBeside(string) (out []string, err error) {
	there, err := p.List("")
	for _, e := range there {
		if strings.HasSuffix(e.Name(), input.ChartEnding) {
			out = append(out, e.Name())
		}
	}
	return out, err
}
