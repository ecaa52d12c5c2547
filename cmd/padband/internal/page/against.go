package page

import (
	"context"
	"errors"

	"padband/calib/strip"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/report"
)

// asked is what the page asks of the reading: the limits that it is to be set against,
// and the units that it is to be given in too.
type asked struct {
	Limits []string `json:"limits"`
	Units  []string `json:"units"`
}

// mostAsked is how many limits, and how many units, one call may bring.
const mostAsked = 8

// understood turns what was asked into the question that the command would ask too,
// and into its form in a record. The error is about the field "limit" or "unit".
func (a asked) understood(chart charts.Chart) (strip.Ask, record.Asked, error) {
	var q strip.Ask
	if len(a.Limits) > mostAsked || len(a.Units) > mostAsked {
		return q, record.Asked{}, errors.New("this asks for too many limits or units at once; choose fewer")
	}
	for _, text := range a.Limits {
		c, err := limits.ParseLimit(text)
		if err != nil {
			return q, record.Asked{}, fieldError("limit", err)
		}
		q.Limits = append(q.Limits, c)
	}
	if err := q.Check(chart); err != nil {
		return q, record.Asked{}, fieldError("limit", err)
	}
	for _, text := range a.Units {
		u, err := units.Parse(text)
		if err != nil {
			return q, record.Asked{}, fieldError("unit", err)
		}
		q.Units = append(q.Units, u)
	}
	if err := q.Check(chart); err != nil {
		return q, record.Asked{}, fieldError("unit", err)
	}
	return q, record.AskedAs(q, nil), nil
}

func fieldError(field string, err error) error {
	return &charts.TypedError{Field: field, What: err.Error()}
}

// setInfo is a set of limits as the page lists it.
type setInfo struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func setInfos() (out []setInfo) {
	for _, s := range limits.LimitSets() {
		out = append(out, setInfo{s.Name, s.Title})
	}
	return out
}

// plan hands out the sheet on what to do before the dip, for one of the charts.
func (s *Page) plan(_ context.Context, c hosted.Call) hosted.Answer {
	for _, chart := range s.book.all() {
		if chart.Name != c.Value("name") {
			continue
		}
		page, err := report.Plan(chart.Chart, s.config.Version)
		if err != nil {
			return hosted.Refuse(hosted.Fail(hosted.Failed, err))
		}
		out := asDownload(c, "text/html; charset=utf-8", chart.Name+".plan.html")
		out.Data = page
		return out
	}
	return noChart(c)
}
