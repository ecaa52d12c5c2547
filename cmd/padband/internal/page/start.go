package page

import (
	"context"
	"encoding/json"
	"path/filepath"
	"slices"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record"
)

// PhotoInfo is a photo as the page knows it.
type PhotoInfo struct {
	ID           string          `json:"id"`
	Name         string          `json:"name"`
	Width        int             `json:"width"`
	Height       int             `json:"height"`
	Preview      size            `json:"preview"`
	Format       string          `json:"format"`
	Profile      string          `json:"profile"`
	Taken        string          `json:"taken"`
	Came         string          `json:"came"`      // in words
	FromFile     bool            `json:"from_file"` // not from a browser
	Position     bool            `json:"position"`
	Notes        []string        `json:"notes"`
	Marks        json.RawMessage `json:"marks"`
	MarksProblem string          `json:"marks_problem"`
	Chart        json.RawMessage `json:"chart"`
	ChartFrom    string          `json:"chart_from"`
}

type size struct {
	Width  int `json:"width"`
	Height int `json:"height"`
}

func info(o *opened) PhotoInfo {
	f := o.photo.Facts
	out := PhotoInfo{
		ID: o.id, Name: o.name, Width: o.photo.Width, Height: o.photo.Height, Preview: size{o.preview.width, o.preview.height},
		Format: f.Format, Profile: f.Profile, Taken: f.Taken, Came: o.came,
		FromFile: o.came == fromFile, Position: f.HasPosition, Notes: []string{},
		Marks: o.marks, MarksProblem: o.marksProblem,
	}
	for _, n := range o.photo.Notes {
		out.Notes = append(out.Notes, n.Text)
	}
	if o.chart != nil {
		out.Chart, out.ChartFrom = o.chart.Data, filepath.Base(o.chart.From)
	}
	return out
}

// start tells the page what it begins with.
func (s *Page) start(context.Context, hosted.Call) hosted.Answer {
	out := struct {
		Photo   *PhotoInfo  `json:"photo"`
		Charts  []ChartInfo `json:"charts"`
		Folder  string      `json:"folder"`
		Shared  bool        `json:"shared"`
		Address string      `json:"address"`
		QR      string      `json:"qr"`
		Version string      `json:"version"`
		Keep    keepInfo    `json:"keep"`
		Sets    []setInfo   `json:"sets"`
		Ask     []string    `json:"ask"`
		Finds   bool        `json:"finds"` // outlines are looked for in photos
	}{
		Sets: setInfos(), Ask: s.config.Ask, Charts: s.book.infos(), Folder: s.config.Folder, Version: s.config.Version,
		Keep: keeping(), Finds: s.config.Find != nil,
	}
	if o := s.photos.first(); o != nil {
		i := info(o)
		out.Photo = &i
	}
	if s.config.Address != "" {
		out.Shared, out.Address, out.QR = true, s.config.Address, s.config.Code
	}
	return hosted.JSON(out)
}

// again tells the page of a photo that is open, when it was loaded again.
func (s *Page) again(_ context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(info(o))
}

// keepInfo is what the page needs to know of a record before it is made.
type keepInfo struct {
	Facts []askedFact `json:"facts"`
	Most  int         `json:"most"` // the most further photos
	Bytes int64       `json:"bytes"`
	Total int64       `json:"total"`
}

// askedFact is a fact of the sample. Apart is true when a marks file has no place for
// it.
type askedFact struct {
	Name     string `json:"name"`
	Words    string `json:"words"`
	Ask      string `json:"ask"`
	Apart    bool   `json:"apart"`
	Optional bool   `json:"optional"` // it is not missed
}

func keeping() keepInfo {
	out := keepInfo{Most: attachMost, Bytes: attachBytes, Total: attachTotal}
	for _, a := range record.Sample {
		out.Facts = append(out.Facts, askedFact{a.Name, a.Words, a.Ask, slices.Contains(apart, a.Name), a.Optional()})
	}
	return out
}
