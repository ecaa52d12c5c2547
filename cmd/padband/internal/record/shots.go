package record

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/words"
)

// Shot is one of several photos of one strip that a record keeps. Each lies in data/photo
// under its own name, and its marks in data/marks under that of its photo.
type Shot struct {
	Name     string // the photo's name, as received
	Photo    []byte // as received
	Marks    []byte // those that the photo was read with
	Received string // [FromFile] or [FromBrowser]
}

// Caps of what a record of one strip holds, so that the work of verifying one is bounded:
// of photos, and of the pixels of all of them together.
const (
	MostShots  = 12
	mostPixels = 200_000_000
)

// labelShot is the label in bag-info.txt of one of several photos.
const labelShot = "Photo-Of-Strip"

// photoPath is where a photo is in the record, and marksOf where the marks of the photo
// with that path are: those of several.
func photoPath(name string) string { return photoDir + bag.SafeName(name, "photo") }

func marksOf(photo string) string {
	name := strings.TrimPrefix(photo, photoDir)
	return marksDir + strings.TrimSuffix(name, path.Ext(name)) + ".marks.json"
}

// distinct are names of photos of which no two have one place in the record, nor their
// marks: a name that another photo has already gets a number in front.
func distinct(names []string) (out []string) {
	seen := map[string]bool{}
	for _, name := range names {
		one := name
		for n := 2; seen[bag.Folded(marksOf(photoPath(one)))]; n++ {
			one = fmt.Sprintf("%d-%s", n, name)
		}
		seen[bag.Folded(marksOf(photoPath(one)))] = true
		out = append(out, one)
	}
	return out
}

// shots are the photos in the order of the answer's, with distinct names.
func (m Made) shots() (out []Shot) {
	var names []string
	for _, p := range m.Joined.Photos {
		out = append(out, m.Shots[p.Index])
		names = append(names, m.Shots[p.Index].Name)
	}
	for i, name := range distinct(names) {
		out[i].Name = name
	}
	return out
}

// received says how the photos came.
func (m Made) received() string {
	if m.Joined == nil {
		return m.Received
	}
	var ways []string
	for _, s := range m.Shots {
		if !slices.Contains(ways, s.Received) {
			ways = append(ways, s.Received)
		}
	}
	return strings.Join(ways, " and ")
}

// shotNames are the names of photos.
func shotNames(shots []Shot) (out []string) {
	for _, s := range shots {
		out = append(out, s.Name)
	}
	return out
}

// check refuses what is no evidence yet, and more photos than a record holds.
func (m Made) check() error {
	if m.Joined == nil {
		if m.Result.Marks.Unchecked {
			return ErrUnchecked
		}
		return nil
	}
	var pixels int64
	for _, p := range m.Joined.Photos {
		if p.Marks.Unchecked {
			return ErrUnchecked
		}
		pixels += int64(p.Photo.Width) * int64(p.Photo.Height)
	}
	if err := checkShots(len(m.Shots), pixels); err != nil {
		return err
	}
	return m.checkPlace()
}

// checkShots says why so many photos, of so many pixels together, are in no record.
func checkShots(n int, pixels int64) error {
	switch {
	case n > MostShots:
		return fmt.Errorf("%d photos of one strip are too many; a record holds %d at most", n, MostShots)
	case pixels > mostPixels:
		return fmt.Errorf("the photos have %d megapixels together, and those of one record %d at most; keep fewer of them",
			pixels/1_000_000, int64(mostPixels)/1_000_000)
	}
	return nil
}

// FactsOfStrip is [FactsOf] for several photos of one strip. The time is that of the
// first, and what was said of it is not used. The light is a fact where the marks of all
// photos give the same; of other facts all that the marks give stand there.
func FactsOfStrip(j *strip.Joined, said map[string]string) (out []bag.Fact) {
	for _, a := range Sample {
		v := strings.TrimSpace(said[a.Name])
		if a.Name == nameTaken {
			v = photoTime(j.Photos[0].Result)
		}
		if v == "" {
			v = inMarks(j, a)
		}
		out = append(out, bag.Fact{Label: a.Label, Value: v})
	}
	return out
}

// TwofoldError is the error of marks that give two places, or sampling points, of one
// strip, where nobody said which it is.
type TwofoldError struct {
	Fact   SampleFact
	Values []string
}

func (e *TwofoldError) Error() string {
	return fmt.Sprintf("the marks of the photos give the %s as %q and as %q, and one strip has one", strings.ToLower(e.Fact.Words),
		e.Values[0], e.Values[1])
}

// checkPlace refuses two places of one strip.
func (m Made) checkPlace() error {
	for _, a := range Sample {
		if a.Name != namePlace && a.Name != namePoint {
			continue
		}
		all, _ := saidInMarks(m.Joined, a)
		if len(all) > 1 && bag.Info(m.Facts).Get(a.Label) == strings.Join(all, "; ") {
			return &TwofoldError{a, all}
		}
	}
	return nil
}

// saidInMarks is what the marks of the photos give of a fact, each once. silent is
// whether those of some photo give nothing.
func saidInMarks(j *strip.Joined, a SampleFact) (all []string, silent bool) {
	for _, p := range j.Photos {
		one := strings.TrimSpace(a.of(p.Marks.Sample))
		silent = silent || one == ""
		if one != "" && !slices.Contains(all, one) {
			all = append(all, one)
		}
	}
	return all, silent
}

// inMarks is a fact as the marks of the photos give it.
func inMarks(j *strip.Joined, a SampleFact) string {
	all, silent := saidInMarks(j, a)
	switch {
	case len(all) == 0 || a.Name == nameLight && (silent || len(all) > 1):
		return ""
	case a.Name == nameTaken:
		return all[0]
	}
	return strings.Join(all, "; ")
}

// DateStrip is [Made.Date] for several photos: results are those that [strip.OneStrip]
// was given, one for each of Shots, and are answered again. What a person said of the
// strip holds for all photos; only those marks are written anew that say it otherwise.
func (m *Made) DateStrip(results []*strip.Result, ask strip.Ask) error {
	var said charts.SampleInfo
	if _, err := m.say(&said); err != nil {
		return err
	}
	again, shots := slices.Clone(results), slices.Clone(m.Shots)
	changed := false
	for i, r := range results {
		marks := r.Marks
		m.told(&marks.Sample, said)
		if marks.Sample == r.Marks.Sample {
			continue
		}
		changed = true
		var err error
		if shots[i].Marks, err = marks.Encode(); err != nil {
			return err
		}
		one := *r
		if one.Marks, err = charts.ParseMarks(shots[i].Marks); err != nil {
			return err
		}
		again[i] = &one
	}
	if !changed {
		return nil
	}
	j, err := strip.OneStrip(again, ask)
	if err != nil {
		return words.NotOneStrip(err, shotNames(shots))
	}
	m.Joined, m.Shots = j, shots
	return nil
}

// told puts into the sample of one photo what the facts say of the strip otherwise than
// all marks together, and the light of each photo.
func (m *Made) told(s *charts.SampleInfo, said charts.SampleInfo) {
	in, was := bag.Info(m.Facts), m.Joined.Photos[0].Marks.Sample
	set := func(to *string, have, now string) {
		if now != "" && now != have {
			*to = now
		}
	}
	set(&s.Dipped, was.Dipped, in.Get("Dipped"))
	set(&s.Kit.Expires, was.Kit.Expires, in.Get("Kit-Expires"))
	set(&s.Kit.Opened, was.Kit.Opened, in.Get("Kit-Opened"))
	set((*string)(&s.Water), string(was.Water), string(said.Water))
	set((*string)(&s.Light), string(s.Light), string(said.Light))
}

// shotFacts are the facts of several photos that bag-info.txt holds: a line for each, in
// the order of the reading, with its hash as sha256sum prints it, and how long after the
// dip it was taken.
func shotFacts(f reading.File) (out []bag.Fact) {
	for _, p := range f.Strip {
		name := bag.SafeName(p.File, "photo")
		after := strconv.FormatFloat(float64(p.AfterDip), 'f', -1, 64)
		out = append(out, bag.Fact{Label: labelSHA256, Value: p.SHA256 + "  " + name},
			bag.Fact{Label: labelShot, Value: name + ", " + after + " s after the dip"})
	}
	return out
}
