package record

import (
	"strings"

	"padband/cmd/padband/internal/record/bag"
)

// ofStrip reports whether the record is laid out as one of several photos of one strip:
// it keeps marks under the names of their photos.
func (v *verifying) ofStrip() bool { return ofStrip(v.root) }

func ofStrip(root *bag.Root) bool {
	for _, p := range root.Names() {
		if strings.HasPrefix(p, marksDir) {
			return true
		}
	}
	return false
}

// pairs checks that the photos of a strip are as many as a record keeps, and that each
// has its marks and no marks are without their photo.
func (v *verifying) pairs() {
	photos := v.photos()
	if n := len(photos); n < 2 || n > MostShots {
		v.fault(photoDir, "holds %d of the photos of one strip; a record of one keeps from 2 to %d", n, MostShots)
	}
	have := map[string]bool{}
	for _, p := range photos {
		m := marksOf(p)
		if have[m] = true; !v.root.Has(m) {
			v.fault(m, "is missing: each photo of a strip has its marks")
		}
	}
	for _, p := range v.root.Names() {
		if strings.HasPrefix(p, marksDir) && !have[p] {
			v.fault(p, "is an extra file: the record has no photo with these marks")
		}
	}
}

// paired reports whether the photos can be read again, each with its marks.
func (v *verifying) paired() bool {
	photos := v.photos()
	for _, p := range photos {
		if !v.root.Has(marksOf(p)) {
			return false
		}
	}
	return len(photos) >= 2 && len(photos) <= MostShots
}

// saidOfShots checks the lines of bag-info.txt on each of several photos, which are to be
// these and no more.
func (v *verifying) saidOfShots(want []bag.Fact) {
	var have []bag.Fact
	for _, f := range v.bag.Info {
		if strings.EqualFold(f.Label, labelSHA256) || strings.EqualFold(f.Label, labelShot) {
			have = append(have, f)
		}
	}
	for i, w := range want {
		switch {
		case i >= len(have):
			v.fault("bag-info.txt", "has no %s %q, which the record's files say", w.Label, w.Value)
			return
		case !strings.EqualFold(have[i].Label, w.Label) || have[i].Value != w.Value:
			v.fault("bag-info.txt", "%s is %.80q, but the record's files say %s %q", have[i].Label, have[i].Value, w.Label, w.Value)
			return
		}
	}
	if len(have) > len(want) {
		v.fault("bag-info.txt", "%s is %.80q, of which the record's files say nothing", have[len(want)].Label, have[len(want)].Value)
	}
}
