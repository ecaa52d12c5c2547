package record

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
	"padband/colorimetry/photo"
)

// Options are the means that a verification is given.
type Options struct {
	Check   Check        // reads the signature; nil leaves it unchecked, and says so
	Stamp   Stamp        // reads the stamp; nil leaves it unread, and says so
	Signers Signers      // who may sign; nil leaves the signer unchecked, and says so
	Now     time.Time    // the time at which a signer's key must be valid
	Limits  photo.Limits // for [Options.Sheet]
	Again   Again        // reads the photo again; nil leaves it out, and says so
	Ways    Ways         // the commands that a finding sends a person to
}

// Ways are the names of a caller's ways to do more for a record, such as "padband
// report". A way without a name is not mentioned.
type Ways struct {
	Report string // makes a record's page anew
	Verify string // verifies a record whole
}

// by is advice with the way in it; it is nothing without a way.
func by(format, way string) string {
	if way == "" {
		return ""
	}
	return fmt.Sprintf(format, way)
}

// Result is what a verification found, in order.
type Result struct {
	Findings    []bag.Finding
	Fingerprint string // empty without a tag manifest
	Info        bag.Info
}

// Faults is how many findings are faults.
func (r Result) Faults() (n int) {
	for _, f := range r.Findings {
		if f.Fault {
			n++
		}
	}
	return n
}

// Verify checks a whole record: structure, checksums, extra files, links,
// signature, stamp, and the reading made again. It reads and changes nothing.
func Verify(root *bag.Root, o Options) Result {
	held := bag.Check(root)
	v := &verifying{root: root, bag: held, o: o}
	v.found = held.Findings
	v.parts()
	v.found = append(v.found, held.AsWritten(root, outer[:4])...)
	tag, err := root.Read(bag.TagManifest, bag.TagBytes)
	if err != nil {
		v.fault(bag.TagManifest, "%v", bag.Cause(err))
		return Result{v.found, "", held.Info}
	}
	v.signature(tag)
	v.stamp(tag)
	v.again()
	return Result{v.found, Fingerprint(tag), held.Info}
}

// verifying is one verification in progress: what it looks at and what it has found so
// far.
type verifying struct {
	root  *bag.Root
	bag   *bag.Checked
	o     Options
	found []bag.Finding
}

func (v *verifying) fault(about, format string, args ...any) {
	v.found = append(v.found, bag.Fault(about, format, args...))
}

func (v *verifying) remark(about, format string, args ...any) {
	v.found = append(v.found, bag.Remark(about, format, args...))
}

// parts checks that all that a record holds is there, and nothing beside it.
func (v *verifying) parts() {
	for _, p := range needed {
		if !v.root.Has(p) && !(p == marksPath && v.ofStrip()) {
			v.fault(p, "is missing: every record has it")
		}
	}
	if v.ofStrip() {
		v.pairs()
	} else if n := len(v.photos()); n != 1 {
		v.fault(photoDir, "holds %d files; a record is of one photo", n)
	}
	for _, p := range v.root.Names() {
		if !strings.HasPrefix(p, "data/") && !slices.Contains(outer, p) {
			v.fault(p, "is an extra file: it is no part of a record")
		}
		if strings.HasPrefix(p, "data/") && !ours(p, v.ofStrip()) {
			v.fault(p, "is an extra file: a record has no such place")
		}
	}
}

// needed are the files that every record has, besides the photo and bagit.txt; the
// tag manifest of SHA-512 is asked for by itself.
var needed = []string{"bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt", "tagmanifest-sha256.txt",
	chartPath, marksPath, readingPath}

// outer are the files beside data.
var outer = []string{"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt",
	"tagmanifest-sha256.txt", bag.TagManifest, SignaturePath, StampPath}

// ours reports whether a path below data is one where a record keeps something, of one
// photo or of several of one strip.
func ours(p string, strip bool) bool {
	for _, dir := range []string{photoDir, limitsDir, attachedDir} {
		if name, ok := strings.CutPrefix(p, dir); ok && !strings.Contains(name, "/") {
			return true
		}
	}
	if strip && (p == marksPath || strings.HasPrefix(p, marksDir)) {
		return p != marksPath // which photo each is of, pairs checks
	}
	return slices.Contains([]string{chartPath, marksPath, readingPath, reportPath}, p)
}

// photos are the paths of the files that lie where the photo does; a whole record has
// one.
func (v *verifying) photos() (out []string) {
	for _, p := range v.root.Names() {
		if strings.HasPrefix(p, photoDir) {
			out = append(out, p)
		}
	}
	return out
}

// again reads the photos again from the record's own bytes.
func (v *verifying) again() {
	p, kept, why := v.held()
	if why != "" {
		v.remark(readingPath, "%s", why)
		return
	}
	var err error
	if p.Asked, err = askedOf(v.root, v.bag.Info); err != nil {
		v.fault(readingPath, "the photo was not read again: %v", err)
		return
	}
	again, err := v.o.Again(p)
	if err != nil {
		v.fault(readingPath, "the photo cannot be read again: %v", err)
		return
	}
	v.remade(p, kept, again)
}

// held are the parts of the record, without what was asked, and its reading. why says why
// nothing of it can be read again.
func (v *verifying) held() (p Parts, kept []byte, why string) {
	photos := v.photos()
	if v.o.Again == nil || len(photos) == 0 || !v.ofStrip() && len(photos) != 1 || v.ofStrip() && !v.paired() {
		return p, nil, notAgain
	}
	read := func(path string) (data []byte) {
		var err error
		if why != "" {
			return nil
		}
		if data, err = v.root.Read(path, bag.FileBytes); err != nil {
			why = notAgain + ": " + bag.Shown(path) + " cannot be read"
		}
		return data
	}
	for _, path := range photos {
		name := strings.TrimPrefix(path, photoDir)
		if v.ofStrip() {
			p.Shots = append(p.Shots, Shot{Name: name, Photo: read(path), Marks: read(marksOf(path))})
			continue
		}
		p.Name, p.Photo = name, read(path)
	}
	p.Chart = read(chartPath)
	if !v.ofStrip() {
		p.Marks = read(marksPath)
	}
	kept = read(readingPath)
	p.named(kept)
	return p, kept, why
}

// notAgain is the remark on a reading that could not be made again.
const notAgain = "the photo was not read again"

// named gives the photos the names that they came with, as the reading has them.
func (p *Parts) named(kept []byte) {
	was, err := reading.Parse(kept)
	if err != nil {
		return // it is a finding already
	}
	if len(p.Shots) == 0 && was.Photo.File != "" {
		p.Name = was.Photo.File
	}
	for i, s := range p.Shots {
		for _, one := range was.Strip {
			if photoPath(one.File) == photoPath(s.Name) {
				p.Shots[i].Name = one.File
			}
		}
	}
}
