package strip

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"padband/charts"
)

// StripFault is why photos cannot be joined as photos of one strip.
type StripFault string

// The faults of such photos.
const (
	TooFew     StripFault = "too-few"     // there are fewer than two
	SamePhoto  StripFault = "same-photo"  // two are one file
	OtherChart StripFault = "other-chart" // two show different charts
	OtherSaid  StripFault = "other-said"  // the marks of two say different things of the one strip
	NotDipped  StripFault = "no-dip-time" // no marks say when the strip was dipped
	NotTimed   StripFault = "no-time"     // it is not known when one was taken
	BeforeDip  StripFault = "before-dip"  // one was taken before the dip
)

// OneStripError is the error of photos that cannot be joined. Said and Values are of
// [OtherSaid] and [OtherChart].
type OneStripError struct {
	Fault   StripFault
	Photos  []int     // indices of the results that show it; of a fault of all there are none
	Said    string    // the field of the marks' sample, such as "kit.lot"
	Values  [2]string // what the two say, or the names of their charts
	Seconds float64   // from the dip to the photo, of [BeforeDip]
}

func (e *OneStripError) Error() string {
	return fmt.Sprintf("not photos of one strip: %s", strings.TrimSpace(string(e.Fault)+" "+e.Said))
}

// Oneness checks by their charts, marks and times alone whether photos can be of one
// strip: nothing of the results' readings is asked for. [OneStrip] fails with the same
// errors. It gives the seconds from the dip to each photo.
func Oneness(results []*Result) (seconds []float64, err error) {
	if err := joinable(results); err != nil {
		return nil, err
	}
	said, err := saidOfStrip(results)
	if err != nil {
		return nil, err
	}
	for i, r := range results {
		s, known := Elapsed(r.sampleOf(said), r.Photo.Facts)
		switch {
		case !known:
			return nil, &OneStripError{Fault: NotTimed, Photos: []int{i}}
		case s < 0:
			return nil, &OneStripError{Fault: BeforeDip, Photos: []int{i}, Seconds: s}
		}
		seconds = append(seconds, s)
	}
	return seconds, nil
}

// sampleOf is what the marks say of the photo, with what was said of the strip in any.
func (r *Result) sampleOf(said charts.SampleInfo) charts.SampleInfo {
	sample := r.Marks.Sample
	for _, f := range ofStrip {
		*f.at(&sample) = *f.at(&said)
	}
	sample.BleachRuledOut = said.BleachRuledOut
	return sample
}

// joinable refuses fewer than two photos, two of one file, and photos of several charts.
func joinable(results []*Result) error {
	if len(results) < 2 {
		return &OneStripError{Fault: TooFew}
	}
	seen := map[string]int{}
	for i, r := range results {
		if k, twice := seen[r.Photo.Facts.SHA256]; twice {
			return &OneStripError{Fault: SamePhoto, Photos: []int{k, i}}
		}
		seen[r.Photo.Facts.SHA256] = i
		if first := results[0].Chart; !sameChart(r.Chart, first) {
			names := [2]string{named(first), named(r.Chart)}
			return &OneStripError{Fault: OtherChart, Photos: []int{0, i}, Values: names}
		}
	}
	return nil
}

// sameChart compares charts by what their files would hold, but for what they remember.
func sameChart(a, b charts.Chart) bool {
	x, errA := a.Plain().Encode()
	y, errB := b.Plain().Encode()
	return errA == nil && errB == nil && bytes.Equal(x, y)
}

// named is a chart's name with its version.
func named(c charts.Chart) string { return strings.TrimSpace(c.Name + " " + c.Version) }

// ofStrip are the fields of a sample that are of the strip and its dip, and not of one
// photo. The same is how two texts are compared.
var ofStrip = []struct {
	name string
	at   func(*charts.SampleInfo) *string
	same func(a, b string) bool
}{
	{"dipped", func(s *charts.SampleInfo) *string { return &s.Dipped }, sameMoment},
	{"strip", func(s *charts.SampleInfo) *string { return &s.Strip }, sameText},
	{"kit.lot", func(s *charts.SampleInfo) *string { return &s.Kit.Lot }, sameText},
	{"kit.expires", func(s *charts.SampleInfo) *string { return &s.Kit.Expires }, sameExpiry},
	{"kit.opened", func(s *charts.SampleInfo) *string { return &s.Kit.Opened }, sameText},
	{"dilution", func(s *charts.SampleInfo) *string { return &s.Dilution }, sameText},
	{"water", func(s *charts.SampleInfo) *string { return (*string)(&s.Water) }, sameText},
}

// saidOfStrip is what the marks of all photos together say of the strip. Where a photo's
// marks say nothing of something, what another's say holds.
func saidOfStrip(results []*Result) (said charts.SampleInfo, err error) {
	by := make([]int, len(ofStrip)) // the photo that said it first
	for i, r := range results {
		sample := r.Marks.Sample
		said.BleachRuledOut = said.BleachRuledOut || sample.BleachRuledOut
		for k, f := range ofStrip {
			have, now := f.at(&said), *f.at(&sample)
			switch {
			case strings.TrimSpace(now) == "":
			case *have == "":
				*have, by[k] = now, i
			case !f.same(*have, now):
				return said, &OneStripError{Fault: OtherSaid, Photos: []int{by[k], i}, Said: f.name, Values: [2]string{*have, now}}
			}
		}
	}
	if _, err := time.Parse(time.RFC3339, said.Dipped); err != nil {
		return said, &OneStripError{Fault: NotDipped}
	}
	return said, nil
}

func sameText(a, b string) bool { return strings.TrimSpace(a) == strings.TrimSpace(b) }

// sameMoment compares times, which may be told from different zones.
func sameMoment(a, b string) bool {
	x, errA := time.Parse(time.RFC3339, a)
	y, errB := time.Parse(time.RFC3339, b)
	return errA == nil && errB == nil && x.Equal(y)
}

// sameExpiry compares days of expiry; a month means its last day.
func sameExpiry(a, b string) bool {
	x, errA := charts.ParseExpiry(a)
	y, errB := charts.ParseExpiry(b)
	return errA == nil && errB == nil && x.Equal(y)
}
