package page

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"time"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/words"
)

// stripWork is what the page sends of a strip before it is read: the photos that there
// are, the chart, and when the strip was dipped and what time it is now by the page's
// clock.
type stripWork struct {
	Photos []shotWork      `json:"photos"`
	Chart  json.RawMessage `json:"chart"`
	Dipped string          `json:"dipped"`
	Now    string          `json:"now"`
}

// stripAnswer says of each photo when it was taken, why they cannot be of one strip, and
// which photos are still to be taken.
type stripAnswer struct {
	Photos []string         `json:"photos"`
	Fault  strip.StripFault `json:"fault"`
	Why    string           `json:"why"`
	Due    []string         `json:"due"`
	Until  string           `json:"until"` // when to ask again, for the first of them is past then
	InTime bool             `json:"in_time"`
}

// strip tells of the photos of a strip before they are read.
func (s *Page) strip(_ context.Context, c hosted.Call) hosted.Answer {
	var in stripWork
	if err := c.Take(&in); err != nil {
		return hosted.Refuse(err)
	}
	chart, err := charts.ParseChart(in.Chart)
	if err != nil {
		return hosted.Refuse(err)
	}
	out := stripAnswer{Photos: []string{}, Due: []string{}}
	results, names, err := s.shots(in, chart)
	if err != nil {
		return hosted.Refuse(err)
	}
	var taken []float64
	for _, r := range results {
		sample := r.Marks.Sample
		sample.Dipped = in.Dipped
		at := cmp.Or(r.Photo.Facts.Taken, sample.Taken)
		seconds, known := strip.Elapsed(sample, r.Photo.Facts)
		if dipped, err := time.Parse(time.RFC3339, in.Dipped); err == nil && known {
			at = after(dipped, seconds).Format(time.RFC3339) // by the same clock as the dip
			taken = append(taken, seconds)
		}
		out.Photos = append(out.Photos, words.TakenOfStrip(at, seconds, known))
	}
	if len(results) > 1 {
		_, err = strip.Oneness(results)
		out.fault(err, names)
	}
	out.due(chart, in, taken)
	return hosted.JSON(out)
}

// shots are the photos as far as [strip.Oneness] looks at them, with their names.
func (s *Page) shots(in stripWork, chart charts.Chart) (results []*strip.Result, names []string, err error) {
	for i, p := range in.Photos {
		o, err := s.shot(p.ID)
		if err != nil {
			return nil, nil, err
		}
		if err := checkSample(p.Marks); err != nil {
			return nil, nil, err
		}
		m, err := charts.ParseMarks(p.Marks)
		if err != nil {
			return nil, nil, err
		}
		results = append(results, &strip.Result{Photo: o.photo, Chart: s.chartOf(m, chart), Marks: m})
		names = append(names, longName(i, o))
	}
	return results, names, nil
}

// fault takes over why photos cannot be of one strip, in the command's words.
func (a *stripAnswer) fault(err error, names []string) {
	var e *strip.OneStripError
	if errors.As(err, &e) {
		a.Fault, a.Why = e.Fault, words.NotOneStrip(err, names).Error()
	}
}

// due says which photos are still to be taken: for the pads that are in time in none of
// those taken so many seconds after the dip, and whose time is not past.
func (a *stripAnswer) due(chart charts.Chart, in stripWork, taken []float64) {
	dipped, err := time.Parse(time.RFC3339, in.Dipped)
	now, errNow := time.Parse(time.RFC3339, in.Now)
	if err != nil || errNow != nil {
		return
	}
	left := charts.Chart{}
	a.InTime = len(taken) > 0
	for _, analyte := range chart.Analytes {
		if analyte.ReadWindow == nil || inTime(analyte, taken) {
			continue
		}
		a.InTime = false
		if now.Sub(dipped).Seconds() < analyte.ReadWindow[1] {
			left.Analytes = append(left.Analytes, analyte)
		}
	}
	moments, _ := left.Moments()
	first := 0.0
	for i, m := range moments {
		a.Due = append(a.Due, words.DueMoment(m, dipped)+".")
		if i == 0 || m.To < first {
			first = m.To
		}
	}
	if len(moments) > 0 {
		a.Until = after(dipped, first+1).Format(time.RFC3339)
	}
}

func after(dipped time.Time, seconds float64) time.Time {
	return dipped.Add(time.Duration(seconds * float64(time.Second)))
}

// inTime reports whether any photo is in time for an analyte.
func inTime(a charts.Analyte, taken []float64) bool {
	for _, seconds := range taken {
		if strip.InTime(a, seconds) {
			return true
		}
	}
	return false
}
