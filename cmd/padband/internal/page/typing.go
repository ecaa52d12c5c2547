package page

import (
	"context"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
)

// understoodChart is what a chart that is being typed was taken for.
type understoodChart struct {
	Rows   []understoodRow `json:"rows"`
	Faults []typedFault    `json:"faults"`
}

// understoodRow is one row of it, and what may be chosen in its inputs.
type understoodRow struct {
	Text  string     `json:"text"`
	Notes []string   `json:"notes"`
	Units []unitInfo `json:"units"`
	Forms []string   `json:"forms"`
}

type unitInfo struct {
	Name  string `json:"name"`
	Means string `json:"means"`
}

// typedFault is a field that cannot be taken as it stands.
type typedFault struct {
	Field   string    `json:"field"`
	What    string    `json:"what"`
	Answers []meaning `json:"answers"`
}

// meaning is a text for a field, and what it means.
type meaning struct {
	Says string `json:"says"`
	Text string `json:"text"`
}

// understood tells a person what a chart is taken for while it is typed. It keeps nothing.
func (s *Page) understood(_ context.Context, c hosted.Call) hosted.Answer {
	var t charts.Typed
	if err := c.Take(&t); err != nil {
		return hosted.Refuse(err)
	}
	u := charts.Understand(t)
	out := understoodChart{Rows: []understoodRow{}, Faults: []typedFault{}}
	for _, r := range u.Rows {
		row := understoodRow{Text: r.Text, Notes: append([]string{}, r.Notes...), Units: []unitInfo{}, Forms: append([]string{}, r.Forms...)}
		for _, n := range r.Units {
			row.Units = append(row.Units, unitInfo{n.Name, n.Means})
		}
		out.Rows = append(out.Rows, row)
	}
	for _, f := range u.Faults {
		fault := typedFault{Field: f.Field, What: strings.Join(strings.Fields(f.What), " "), Answers: []meaning{}}
		for _, a := range f.Answers {
			fault.Answers = append(fault.Answers, meaning{a.Says, a.Text})
		}
		out.Faults = append(out.Faults, fault)
	}
	return hosted.JSON(out)
}
