package batch

import (
	"cmp"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"padband/cmd/padband/internal/input"
)

// Find returns the photos with marks in a folder and all the folders in it,
// sorted by their path within it, which is what their rows call them. Links are
// not followed; names that begin with a dot are passed over, as is a photo
// without marks, unless these are wanted too. Marks without a photo, and a folder that may not be opened, are
// entries with an Err: nothing is left out silently. The error says that dir
// itself cannot be searched.
func Find(dir string, unmarked bool) ([]Photo, error) {
	if _, err := os.ReadDir(dir); err != nil {
		return nil, reason(err)
	}
	s := search{dir: dir, tree: os.DirFS(dir), unmarked: unmarked}
	s.folder(".")
	slices.SortFunc(s.found, func(a, b Photo) int { return cmp.Compare(a.File, b.File) })
	return s.found, nil
}

// search gathers the photos of a tree.
type search struct {
	dir      string
	tree     fs.FS
	unmarked bool // photos without marks too
	found    []Photo
}

// folder searches one folder, then those in it.
func (s *search) folder(at string) {
	entries, err := fs.ReadDir(s.tree, at)
	if err != nil {
		s.add(at, errors.New("the folder cannot be searched: "+reason(err).Error()))
		return
	}
	marked := map[string]bool{} // marks files, and whether their photo was met
	for _, e := range entries {
		if e.Type().IsRegular() && strings.HasSuffix(e.Name(), input.MarksEnding) {
			marked[e.Name()] = false
		}
	}
	for _, e := range entries {
		name := path.Join(at, e.Name())
		marks := input.Stem(e.Name()) + input.MarksEnding
		_, has := marked[marks]
		switch {
		case strings.HasPrefix(e.Name(), "."):
		case e.IsDir():
			s.folder(name)
		case (has || s.unmarked) && e.Type().IsRegular() && s.isPhoto(name):
			if has {
				marked[marks] = true
			}
			s.add(name, nil)
		}
	}
	for marks, met := range marked {
		if !met && !strings.HasPrefix(marks, ".") {
			s.add(path.Join(at, marks), errors.New("these marks have no photo beside them; put it there, as a file and not as a link"))
		}
	}
}

func (s *search) add(name string, err error) {
	s.found = append(s.found, Photo{Name: filepath.Join(s.dir, filepath.FromSlash(name)), File: name, Err: err})
}

// endings are those that photos have. A damaged photo is known by them alone.
var endings = []string{
	".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".heic", ".heif", ".hif",
	".webp", ".tif", ".tiff", ".avif", ".gif", ".bmp", ".dng",
}

// isPhoto tells a photo from other files of its name, such as notes: by its
// ending or by its first bytes.
func (s *search) isPhoto(name string) bool {
	if slices.Contains(endings, strings.ToLower(path.Ext(name))) {
		return true
	}
	f, err := s.tree.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 12)
	n, err := io.ReadFull(f, head)
	return (err == nil || errors.Is(err, io.ErrUnexpectedEOF)) && beginsPhoto(string(head[:n]))
}

// beginsPhoto knows the first bytes of the kinds of photo that phones and
// programs write: JPEG, PNG, TIFF, ISO media (HEIC, AVIF) and WebP.
func beginsPhoto(head string) bool {
	for _, sign := range []string{"\xff\xd8\xff", "\x89PNG", "II*\x00", "MM\x00*"} {
		if strings.HasPrefix(head, sign) {
			return true
		}
	}
	return len(head) == 12 && (head[4:8] == "ftyp" || head[:4] == "RIFF" && head[8:] == "WEBP")
}

// reason is what the system says, without the name it says it of.
func reason(err error) error {
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file or folder; check the name")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("may not be opened; check its permissions")
	case errors.As(err, &p):
		return p.Err
	}
	return err
}
