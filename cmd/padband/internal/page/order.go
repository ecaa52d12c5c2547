package page

import (
	"context"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
)

// rowsAnswer are the rows whose swatches are all marked, to be looked at in order.
type rowsAnswer struct {
	Rows   []rowShown   `json:"rows"`
	Placed []placedMark `json:"placed"` // what the chart's corners place
}

// rowShown is one row as the photo shows it.
type rowShown struct {
	Analyte string        `json:"analyte"`
	Palest  charts.Palest `json:"palest"`  // its pale end in this photo
	Against string        `json:"against"` // how its colours contradict the chart, in one sentence
	Cells   []cellShown   `json:"cells"`   // in order of value, part by part
}

// cellShown is the cut-out of one swatch.
type cellShown struct {
	Value   float64 `json:"value"`
	Label   string  `json:"label"` // what is printed beside it, when that is more than the value
	Part    int     `json:"part"`
	Picture string  `json:"picture"` // an address
}

// rows shows the rows that are marked whole, each with the end that is pale.
func (s *Page) rows(ctx context.Context, c hosted.Call) hosted.Answer {
	j, _, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	leave, err := s.photos.enter(ctx, s.photos.readings)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	j = j.usable()
	rows, err := j.rows()
	if err != nil {
		return hosted.Refuse(err)
	}
	placed, err := j.placed()
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(rowsAnswer{rows, placed})
}

// rows are the rows that are marked whole, each with its cut-outs.
func (j job) rows() ([]rowShown, error) {
	out := []rowShown{}
	ready, pending := j.marks.Ready(j.chart.Chart)
	if len(pending) == len(j.chart.Analytes) {
		return out, nil
	}
	p, err := j.whole()
	if err != nil {
		return nil, err
	}
	rows, err := strip.Rows(p, j.chart.Chart, ready)
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		out = append(out, rowShown{r.Placed.Analyte.Name, r.Palest, r.Against, j.cells(r.Placed)})
	}
	return out, nil
}

// cells are the cut-outs of a row.
func (j job) cells(a charts.PlacedAnalyte) (out []cellShown) {
	for part := range a.Analyte.Parts {
		for i, sw := range a.Swatches {
			s := a.Analyte.Swatches[i]
			out = append(out, cellShown{s.Value, s.Label, part + 1, j.crop(sw[part].Region)})
		}
	}
	return out
}
