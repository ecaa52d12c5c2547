// Package marked finds the photos whose pads are to be called. Start at [Find]: it
// looks below a folder for photos with marks beside them and for photos in records. It
// gives them in the order of their names, each with its marks and its chart, and says
// what it left out and why. It does not decode the photos; each is read when its
// pixels are wanted, and not before.
package marked

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/blind"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/colorimetry/photo"
)

// pictureEnding are the endings of photos' names.
var pictureEnding = regexp.MustCompile(`(?i)\.(jpe?g|jpe|jfif|png|heic|heif|webp|tiff?)$`)

// finder gathers the marked photos below a folder.
type finder struct {
	dir    string
	limits photo.Limits
	photos []blind.Photo
	paths  []string // of each, below the folder and without ending: its name where stems clash
	left   []string // what cannot be used, and why
}

// NoPhotosError is the error of a folder without a photo to call.
type NoPhotosError struct {
	Dir  string
	Left []string // what could not be used, and why
}

func (e *NoPhotosError) Error() string {
	first := ""
	if len(e.Left) > 0 {
		first = " that can be used (" + e.Left[0] + ")"
	}
	return input.Shown(e.Dir) + ": there is no marked photo and no record in it" + first
}

// Find finds the photos below a folder that have marks beside them, and the
// records, in the order of their names; limits are those of decoding each. Links
// are not followed. A photo that cannot be used is left out and named. The error
// of a folder without any is a [*NoPhotosError].
func Find(dir string, limits photo.Limits) (found []blind.Photo, left []string, err error) {
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return nil, nil, fmt.Errorf("%s: is no folder; name the folder of marked photos", input.Shown(dir))
	}
	root := dir
	if r, err := filepath.EvalSymlinks(dir); err == nil {
		root = r
	}
	f := &finder{dir: root, limits: limits}
	if err := filepath.WalkDir(root, f.visit); err != nil {
		return nil, nil, fmt.Errorf("%s: cannot be looked through: %w; check its permissions", input.Shown(dir), input.Cause(err))
	}
	if len(f.photos) == 0 {
		return nil, nil, &NoPhotosError{dir, f.left}
	}
	f.name()
	return f.photos, f.left, nil
}

// visit looks at one path: a record, a photo with marks, or neither.
func (f *finder) visit(path string, d fs.DirEntry, err error) error {
	name := d.Name()
	switch {
	case err != nil && path == f.dir:
		return err
	case err != nil:
		f.leave(path, input.Cause(err))
		return fs.SkipDir
	case d.IsDir():
		if _, err := os.Lstat(filepath.Join(path, "bagit.txt")); err == nil {
			f.record(path)
			return fs.SkipDir
		}
	case !d.Type().IsRegular():
	case strings.HasSuffix(name, input.MarksEnding):
		f.beside(strings.TrimSuffix(path, input.MarksEnding))
	case strings.EqualFold(filepath.Ext(name), ".zip"):
		if root, err := bag.Open(path); err == nil { // other zip files are not looked into
			root.Close()
			f.record(path)
		}
	}
	return nil
}

// leave notes what was left out, and why.
func (f *finder) leave(path string, err error) {
	if below, relErr := filepath.Rel(f.dir, path); relErr == nil {
		path = below
	}
	f.left = append(f.left, input.Shown(path)+": "+err.Error())
}

// beside takes a photo by its marks file: the one picture of that stem.
func (f *finder) beside(stem string) {
	name, err := pictureOf(stem)
	if err != nil {
		f.leave(stem+input.MarksEnding, err)
		return
	}
	m, _, err := input.Marks(name, "")
	if err != nil {
		f.leave(name, err)
		return
	}
	c, err := input.Chart(name, "", m)
	if err != nil {
		f.leave(name, err)
		return
	}
	f.add(filepath.Base(stem), stem, m, c.Chart, func() ([]byte, error) { return input.Photo(name) })
}

// pictureOf is the picture that a marks file of this stem is for.
func pictureOf(stem string) (string, error) {
	entries, err := os.ReadDir(filepath.Dir(stem))
	if err != nil {
		return "", input.Cause(err)
	}
	var found []string
	for _, e := range entries {
		if pictureEnding.MatchString(e.Name()) && input.Stem(e.Name()) == filepath.Base(stem) {
			found = append(found, e.Name())
		}
	}
	switch len(found) {
	case 0:
		return "", errors.New("there is no photo beside these marks; put it there")
	case 1:
		return filepath.Join(filepath.Dir(stem), found[0]), nil
	}
	return "", fmt.Errorf("these marks may be for %s; keep one of them there", strings.Join(found, " or "))
}

// record takes the photo of a record, which is a folder or a zip file.
func (f *finder) record(path string) {
	held, err := heldIn(path, false)
	if err != nil {
		f.leave(path, err)
		return
	}
	m, err := charts.ParseMarks(held.MarksData)
	if err != nil {
		f.leave(path, fmt.Errorf("its marks: %w", err))
		return
	}
	c, err := charts.ParseChart(held.ChartData)
	if err != nil {
		f.leave(path, fmt.Errorf("its chart: %w", err))
		return
	}
	// The photo itself is read when a pad of it is to be shown.
	f.add(input.Stem(held.Name), path, m, c, func() ([]byte, error) {
		held, err := heldIn(path, true)
		return held.Photo, err
	})
}

// heldIn opens a record and takes what it holds.
func heldIn(path string, withPhoto bool) (record.Held, error) {
	root, err := bag.Open(path)
	if err != nil {
		return record.Held{}, err
	}
	defer root.Close()
	return record.HeldIn(root, withPhoto)
}

// add takes a photo whose marks fit its chart, as far as they tell without it.
func (f *finder) add(sample, stem string, m charts.Marks, c charts.Chart, read func() ([]byte, error)) {
	if m.Unchecked {
		f.leave(stem, fmt.Errorf("%w; look at them on the marking page and keep the marks", record.ErrUnchecked))
		return
	}
	if m.Photo.Width > 0 && m.Photo.Height > 0 {
		if _, err := m.Place(c, m.Photo.Width, m.Photo.Height); err != nil {
			f.leave(stem, err)
			return
		}
	}
	if below, err := filepath.Rel(f.dir, stem); err == nil && below != "." {
		stem = filepath.ToSlash(below)
	}
	f.photos = append(f.photos, blind.Photo{Sample: lines.Blanked(sample), Marks: m, Chart: c, Read: read, Limits: f.limits})
	f.paths = append(f.paths, lines.Blanked(stem))
}

// name gives photos of one stem their paths for names.
func (f *finder) name() {
	count := map[string]int{}
	for _, p := range f.photos {
		count[p.Sample]++
	}
	for i := range f.photos {
		if count[f.photos[i].Sample] > 1 {
			f.photos[i].Sample = f.paths[i]
		}
	}
}
