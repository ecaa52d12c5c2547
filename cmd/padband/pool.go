package main

import (
	"encoding/json"
	"io"

	"padband/calib"
	"padband/calib/strip"
	"padband/cmd/padband/internal/report"
)

// one is a photo that was read, with what it takes to pool it.
type one struct {
	source report.Source
	result *strip.Result
}

// pool reads the photos together and prints it.
func (e env) pool(all []one, o readOptions) (report.PooledSource, error) {
	kind := calib.OneStrip
	if o.strips {
		kind = calib.Strips
	}
	var results []*strip.Result
	s := report.PooledSource{Strips: o.strips, Version: version}
	for _, x := range all {
		results = append(results, x.result)
		s.Files = append(s.Files, x.source.File)
		s.Hashes = append(s.Hashes, x.source.Photo.SHA256)
		s.Chart, s.ChartSHA256 = x.source.Chart, x.source.ChartSHA256
	}
	pooled, notes, err := strip.Pool(results, kind)
	if err != nil {
		return s, err
	}
	s.Notes = notes
	for _, p := range pooled {
		r := named(p, s.Files)
		r.Meaning = o.ask.Of(p.Reading, results[0].Day())
		s.Readings = append(s.Readings, r)
	}
	return s, e.showPooled(s, o.json)
}

// named puts the photos' names for their indices.
func named(p strip.Pooled, files []string) report.PooledReading {
	r := report.PooledReading{Reading: p.Reading, Scatter: p.Scatter, Undated: p.Undated}
	for _, i := range p.Photos {
		r.Photos = append(r.Photos, files[i])
	}
	for _, i := range p.Disagree {
		r.Disagree = append(r.Disagree, files[i])
	}
	for _, l := range p.LeftOut {
		r.LeftOut = append(r.LeftOut, report.LeftOut{File: files[l.Photo], Code: l.Code, Why: l.Why})
	}
	return r
}

func (e env) showPooled(s report.PooledSource, asJSON bool) error {
	if asJSON {
		line, err := json.Marshal(report.NewPooled(s))
		if err != nil {
			return err
		}
		_, err = e.out.Write(append(line, '\n'))
		return err
	}
	_, err := io.WriteString(e.out, "\n"+report.PooledText(s))
	return err
}
