package strip

import (
	"errors"
	"fmt"
	"slices"

	"padband/calib"
	"padband/charts"
)

// LeftOut is a photo that did not go into a pool, and why. Code is empty when the
// reason is that its own reading is unreliable.
type LeftOut struct {
	Photo int        // index of the result
	Code  calib.Code // [calib.CodeEarly], [calib.CodeLate], or empty
	Why   string
}

// Pooled is one analyte read from several photos together: the reading that
// [calib.Pool] made, and the photos that it was made of.
type Pooled struct {
	calib.Pooled
	Photos   []int // indices of the results that went in
	LeftOut  []LeftOut
	Disagree []int // indices of the results that disagree with the rest
	Undated  bool  // a photo's time after the dip is not known, so its read window was not checked
}

// Pool reads each analyte that several results have in common from all of them
// together. It leaves out, and names, photos outside the analyte's read window, and
// unreliable ones when two others remain. It fails when the results are not of
// different photos of one chart, or when no analyte can be pooled.
func Pool(results []*Result, kind calib.Together) ([]Pooled, []string, error) {
	if err := poolable(results); err != nil {
		return nil, nil, err
	}
	var out []Pooled
	var notes []string
	for _, a := range results[0].Chart.Analytes {
		p, note, err := poolAnalyte(results, a, kind)
		switch {
		case err != nil:
			return nil, nil, err
		case note != "":
			notes = append(notes, note)
		default:
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return nil, nil, fmt.Errorf("nothing can be pooled: %s", notes[0])
	}
	return out, notes, nil
}

// poolable refuses fewer than two results, results of several charts, and two of
// one photo.
func poolable(results []*Result) error {
	if len(results) < 2 {
		return errors.New("pooling takes two photos or more; name them all")
	}
	seen := map[string]bool{}
	for _, r := range results {
		if r.Chart.Name != results[0].Chart.Name || r.Chart.Version != results[0].Chart.Version {
			return fmt.Errorf("the photos show different charts, %q and %q; pool photos of one chart", results[0].Chart.Name, r.Chart.Name)
		}
		if seen[r.Photo.Facts.SHA256] {
			return errors.New("two of the photos are the same file; name each photo once")
		}
		seen[r.Photo.Facts.SHA256] = true
	}
	return nil
}

// poolAnalyte pools one analyte from the photos within its read window. The note says
// why this analyte cannot be pooled; the error says why the photos do not go together.
func poolAnalyte(results []*Result, a charts.Analyte, kind calib.Together) (p Pooled, note string, err error) {
	if a.Kind == charts.KindPresence {
		return p, a.Name + " is a yes or no and is not pooled", nil
	}
	readings := map[int]calib.Reading{}
	unknown := 0
	for i, r := range results {
		k := slices.IndexFunc(r.Readings, func(x calib.Reading) bool { return x.Analyte.Name == a.Name })
		if k < 0 {
			continue
		}
		seconds, ok := Elapsed(r.Marks.Sample, r.Photo.Facts)
		if !ok {
			unknown++
		} else {
			if code := readWindow(a, seconds); code != "" {
				p.LeftOut = append(p.LeftOut, LeftOut{i, code, fmt.Sprintf("taken %.0f s after the dip; the pad is read at %g to %g s",
					seconds, a.ReadWindow[0], a.ReadWindow[1])})
				continue
			}
		}
		readings[i] = r.Readings[k]
		p.Photos = append(p.Photos, i)
	}
	p.dropUnreliable(readings)
	if len(p.Photos) < 2 {
		note := a.Name + ": fewer than two photos can be used"
		for _, l := range p.LeftOut {
			note += fmt.Sprintf("; left out: photo %d, %s", l.Photo+1, l.Why)
		}
		return p, note, nil
	}
	var rs []calib.Reading
	for _, i := range p.Photos {
		rs = append(rs, readings[i])
	}
	if a.ReadWindow != nil && unknown > 0 {
		p.Undated = true
	}
	p.Pooled, err = calib.Pool(rs, kind)
	p.warnUnchecked(results)
	for _, k := range p.Pooled.Disagree {
		p.Disagree = append(p.Disagree, p.Photos[k])
	}
	return p, "", err
}

// dropUnreliable leaves the unreliable photos out when two or more others remain.
// Otherwise all stay, and the pool is as unreliable as most of its photos.
func (p *Pooled) dropUnreliable(readings map[int]calib.Reading) {
	var good []int
	for _, i := range p.Photos {
		if readings[i].Reliability != calib.Unreliable {
			good = append(good, i)
		}
	}
	if len(good) < 2 || len(good) == len(p.Photos) {
		return
	}
	for _, i := range p.Photos {
		if !slices.Contains(good, i) {
			p.LeftOut = append(p.LeftOut, LeftOut{Photo: i, Why: "its own reading is unreliable"})
		}
	}
	p.Photos = good
}
