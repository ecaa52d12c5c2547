package strip

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
)

// Joined is the one answer from several photos of one strip: each pad is read from the
// photo that was taken at its own time. Its readings stand in the order of the chart's
// analytes.
type Joined struct {
	Chart    charts.Chart
	Photos   []Timed // in the order of their times
	Readings []calib.Reading
	Picks    []Pick            // one for each reading, in the same order
	Meanings []Meaning         // one for each reading, in the same order
	Sums     []judge.Judgement // those of rules about several analytes together
	Notes    []charts.Note     // such as an analyte with no pad marked in any photo
}

// Timed is one photo of the strip.
type Timed struct {
	*Result         // its own answer, with all that was said of the strip in any photo's marks
	Index   int     // among the results that were given
	Seconds float64 // from the dip to the photo
}

// Pick is the photo that a pad is read from.
type Pick struct {
	Photo  int   // index among [Joined.Photos]
	InTime bool  // the photo lies within the analyte's read window, or the chart gives none
	Passed []int // photos that would come first by their times and whose own reading is unreliable
}

// OneStrip joins the answers from several photos of one strip. An analyte is taken from
// the photo within its read window that is nearest the middle of the window; where no
// photo is in time, from the one nearest the window, and its reading keeps the warning
// of that; where the chart gives no window, from the first. A photo in which the analyte
// is unreliable comes after the others that are in time, or that are not. What the
// marks of one photo say of the strip and its dip holds for all. The order of the
// results makes no difference.
//
// The error is a [*OneStripError] where the photos cannot be of one strip or a time is
// missing, and else that of [Measured.Answer].
func OneStrip(results []*Result, ask Ask) (*Joined, error) {
	seconds, err := Oneness(results)
	if err != nil {
		return nil, err
	}
	said, err := saidOfStrip(results)
	if err != nil {
		return nil, err
	}
	j := &Joined{Chart: results[0].Chart}
	for i, r := range results {
		again, err := r.measured.Answer(r.sampleOf(said), ask)
		if err != nil {
			return nil, err
		}
		j.Photos = append(j.Photos, Timed{again, i, seconds[i]})
	}
	sort.SliceStable(j.Photos, func(i, k int) bool {
		a, b := j.Photos[i], j.Photos[k]
		return cmp.Or(cmp.Compare(a.Seconds, b.Seconds), cmp.Compare(a.Photo.Facts.SHA256, b.Photo.Facts.SHA256)) < 0
	})
	return j, j.join(ask)
}

// join picks the readings and lets them testify about each other anew: a pad that was
// picked from one photo says nothing of how it looked in another.
func (j *Joined) join(ask Ask) error {
	one := Result{Photo: j.Photos[0].Photo, Chart: j.Chart}
	one.Marks.Sample = j.Photos[0].Marks.Sample
	for _, a := range j.Chart.Analytes {
		p, ok := j.pick(a)
		if ok {
			one.Readings = append(one.Readings, copied(*j.Photos[p.Photo].lone(a.Name)))
			j.Picks = append(j.Picks, p)
		}
		for _, n := range j.notesOf(a.Name, p, ok) {
			if !slices.Contains(j.Notes, n) {
				j.Notes = append(j.Notes, n)
			}
		}
	}
	if err := one.together(ask); err != nil {
		return err
	}
	j.Readings, j.Meanings, j.Sums = one.Readings, one.Meanings, one.Sums
	return nil
}

// notesOf are the notes on an analyte from the photo that it was picked from. Where it
// was picked from none they are those of the first: it is marked in no photo.
func (j *Joined) notesOf(analyte string, p Pick, picked bool) (out []charts.Note) {
	from := j.Photos[0]
	if picked {
		from = j.Photos[p.Photo]
	}
	for _, n := range from.Notes {
		if n.Analyte == analyte {
			out = append(out, n)
		}
	}
	return out
}

// pick chooses the photo that an analyte is read from. ok is false where none shows it.
func (j *Joined) pick(a charts.Analyte) (p Pick, ok bool) {
	var all []candidate
	for i, t := range j.Photos {
		if r := t.lone(a.Name); r != nil {
			all = append(all, candidateOf(i, t.Seconds, *r))
		}
	}
	if len(all) == 0 {
		return p, false
	}
	best := slices.MinFunc(all, func(a, b candidate) int { return cmp.Or(a.byTime(b, true), a.Photo-b.Photo) })
	p = Pick{Photo: best.Photo, InTime: !best.out}
	for _, c := range all {
		if c.unreliable && cmp.Or(c.byTime(best, false), c.Photo-best.Photo) < 0 {
			p.Passed = append(p.Passed, c.Photo)
		}
	}
	return p, true
}

// candidate is a photo that an analyte may be read from.
type candidate struct {
	Photo           int
	out, unreliable bool
	away            float64 // s from the middle of the window; from its nearer end when out of it
}

// candidateOf is the photo taken so many seconds after the dip, with its reading.
func candidateOf(i int, seconds float64, r calib.Reading) candidate {
	c := candidate{Photo: i, unreliable: r.Reliability == calib.Unreliable, away: seconds}
	w := r.Analyte.ReadWindow
	switch readWindow(r.Analyte, seconds) {
	case calib.CodeEarly:
		c.out, c.away = true, w[0]-seconds
	case calib.CodeLate:
		c.out, c.away = true, seconds-w[1]
	default:
		if w != nil {
			c.away = math.Abs(seconds - (w[0]+w[1])/2)
		}
	}
	return c
}

// byTime is negative where c comes before d: what is in time, then, if it counts, what
// is not unreliable, then what is nearer.
func (c candidate) byTime(d candidate, reliability bool) int {
	no := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	order := no(c.out) - no(d.out)
	if reliability {
		order = cmp.Or(order, no(c.unreliable)-no(d.unreliable))
	}
	return cmp.Or(order, cmp.Compare(c.away, d.away))
}

// lone is the reading of an analyte before the pads of the photo testified about each
// other; nil where it was not read.
func (r *Result) lone(analyte string) *calib.Reading {
	for i := range r.alone {
		if r.alone[i].Analyte.Name == analyte {
			return &r.alone[i]
		}
	}
	return nil
}

// copied is a reading whose warnings can be added to without changing the original's.
func copied(r calib.Reading) calib.Reading {
	r.Warnings = slices.Clone(r.Warnings)
	return r
}
