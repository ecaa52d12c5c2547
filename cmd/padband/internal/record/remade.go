package record

import (
	"bytes"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
)

// Remade is what comes out when a record's photo is read again from its bytes.
type Remade struct {
	Reading  []byte // the reading's JSON
	Position bool   // whether a photo holds the position it was taken at
	Looked   string // who looked at the outlines, of several photos
	// Report makes the record's own page from the facts, the names of the attached
	// files and the hashes that the record holds; with nil no page is made.
	Report func(in bag.Info, attached []string, hashes []words.Entry) ([]byte, error)
}

// Remade gives the reading made again in the form that [Options] takes.
func (r Reread) Remade() (Remade, error) {
	data, err := r.Source.JSON()
	page := func(in bag.Info, attached []string, hashes []words.Entry) ([]byte, error) {
		return paper.Page(r.sheet(in, attached, hashes))
	}
	return Remade{data, r.position(), r.looked(), page}, err
}

// build names what besides the version decides the bytes of a page: the processor,
// which rounds in its own way, and the source's revision.
func build() string {
	parts := []string{runtime.GOARCH}
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			switch s.Key {
			case "GOAMD64", "GOARM64":
				parts = append(parts, s.Value)
			case "vcs.revision":
				parts = append(parts, s.Value[:min(len(s.Value), 12)])
			}
		}
	}
	return strings.Join(parts, " ")
}

// remade compares what the record says with what its photos give again. kept is the
// record's reading.
func (v *verifying) remade(p Parts, kept []byte, again Remade) {
	v.found = append(v.found, compareReadings(kept, again.Reading)...)
	was, err := reading.Parse(kept)
	is, errIs := reading.Parse(again.Reading)
	if err != nil || errIs != nil {
		return // it is a finding already
	}
	about := photoDir
	if len(p.Shots) == 0 {
		about = v.photos()[0]
		if safe := photoPath(was.Photo.File); safe != about {
			v.fault(readingPath, "names the photo %s, but the record keeps it as %s", bag.Shown(was.Photo.File),
				strings.TrimPrefix(about, photoDir))
		}
		v.said(labelSHA256, bag.Sum("sha256", p.Photo))
		v.looked(p.Marks)
	} else {
		v.saidOfShots(shotFacts(is))
		v.said(labelLooked, again.Looked)
	}
	v.said(labelPosition, yes(again.Position))
	if again.Position {
		v.remark(about, "holds the position it was taken at; mind that before handing the record on")
	}
	v.said(labelProgram, programName+" "+was.Program.Version)
	v.said(labelMethod, strconv.Itoa(was.Program.Method))
	v.said(labelGo, was.Program.Go)
	v.taken(is.Photos()[0].TakenText())
	v.report(again, v.form(was.Program.Method), was.Program == is.Program && v.bag.Info.Get(labelBuild) == build())
}

// firstForm is the form of the sheets of records from before method 3, which do
// not name it.
const firstForm = 1

// form is the form of the record's sheets, as bag-info.txt gives it.
func (v *verifying) form(method int) int {
	named := v.bag.Info.Get(labelForm)
	form, err := strconv.Atoi(named)
	switch {
	case named == "" && method < 3:
		return firstForm
	case err != nil || form < firstForm || strconv.Itoa(form) != named:
		v.fault("bag-info.txt", "%s is %.80q, which no program writes", labelForm, named)
	}
	return form
}

// said checks a fact of bag-info.txt that follows from the record's own files.
func (v *verifying) said(label, want string) {
	if have := v.bag.Info.Get(label); have != want {
		v.fault("bag-info.txt", "%s is %.80q, but the record's files say %q", label, have, want)
	}
}

// taken remarks on a time of the photo in bag-info.txt that is not the photo's own.
func (v *verifying) taken(own string) {
	said := strings.TrimSuffix(v.bag.Info.Get("Photo-Taken"), noOffset)
	a, errA := takenAt(said)
	b, errB := takenAt(own)
	if same := said == own || errA == nil && errB == nil && a.Equal(b); !same && own != "" {
		v.remark("bag-info.txt", "Photo-Taken is %.80q; the photo itself says %.80q", said, own)
	}
}

// report compares the page with the one that the record's own facts give. A page of
// another form, or one that another program made, may differ without a fault.
func (v *verifying) report(again Remade, form int, sameProgram bool) {
	old, err := v.root.Read(reportPath, bag.FileBytes)
	switch {
	case again.Report == nil:
		return
	case !v.root.Has(reportPath):
		v.remark(reportPath, "there is none%s", by("; %s makes one", v.o.Ways.Report))
		return
	case err != nil:
		v.fault(reportPath, "cannot be read: %v", bag.Cause(err))
		return
	}
	rely := by("; rely on the page that %s makes", v.o.Ways.Report)
	page, err := again.Report(v.bag.Info, attachedTo(v.root), rootHashes(v.root))
	switch {
	case err != nil:
		v.fault(reportPath, "cannot be made again: %v", err)
	case bytes.Equal(old, page):
		v.remark(reportPath, "made again from the record: the same")
		v.said(labelForm, strconv.Itoa(paper.Form))
	case form != paper.Form && form >= firstForm:
		v.remark(reportPath, "has sheets of form %d, and this program makes form %d: it was not compared%s", form, paper.Form, rely)
	case sameProgram:
		v.fault(reportPath, "is not the page that the record gives; do not show it%s", by(", make one with %s", v.o.Ways.Report))
	default:
		v.remark(reportPath, "was made by another program and not compared%s", rely)
	}
}

// attachedTo are the names of the files attached, sorted.
func attachedTo(root *bag.Root) (out []string) {
	for _, p := range root.Names() {
		if name, ok := strings.CutPrefix(p, attachedDir); ok {
			out = append(out, name)
		}
	}
	return out
}
