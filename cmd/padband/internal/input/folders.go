package input

import (
	"os"
	"strings"
	"sync"
)

// Folders remembers which chart files lie in a folder, for a caller that asks for
// many photos: a folder of 10,000 takes longer to look through than a small photo
// to read. A nil one remembers nothing. It may be used from several goroutines.
type Folders struct {
	mu    sync.Mutex
	names map[string][]string
}

// charts are the names of the chart files in a folder, sorted.
func (f *Folders) charts(dir string) ([]string, error) {
	if f == nil {
		return chartNames(dir)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if names, known := f.names[dir]; known {
		return names, nil
	}
	names, err := chartNames(dir)
	if err != nil {
		return nil, err
	}
	if f.names == nil {
		f.names = map[string][]string{}
	}
	f.names[dir] = names
	return names, nil
}

func chartNames(dir string) (names []string, err error) {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ChartEnding) {
			names = append(names, e.Name())
		}
	}
	return names, err
}
