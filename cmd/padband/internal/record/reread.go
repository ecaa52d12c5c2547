package record

import (
	"fmt"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry/photo"
)

// Reread is a reading made again from a record's bytes: that of one photo, or the one
// answer from several photos of a strip.
type Reread struct {
	Source report.Source
	Result *strip.Result // nil of several photos
	Joined *strip.Joined // nil of one photo
}

// read is what a record's reading is made from. Of several photos the names are those
// in the record.
func (m Made) read() Reread {
	if m.Joined == nil {
		return Reread{Source: report.Of(m.Name, m.Chart.Hash, m.Version, m.Result), Result: m.Result}
	}
	return rereadStrip(m.Joined, shotNames(m.shots()), m.Chart.Hash, m.Version)
}

// rereadStrip is the answer from several photos, of these names in its order.
func rereadStrip(j *strip.Joined, names []string, chart, version string) Reread {
	s := report.OneStripSource{Joined: j, Files: names, ChartSHA256: chart, Version: version}
	return Reread{Source: report.OfStrip(s), Joined: j}
}

// position reports whether a photo holds the position it was taken at.
func (r Reread) position() bool {
	if r.Joined == nil {
		return r.Result.Photo.Facts.HasPosition
	}
	for _, p := range r.Joined.Photos {
		if p.Photo.Facts.HasPosition {
			return true
		}
	}
	return false
}

// sheet is what a record's report is made from, without its seal. All of it comes from
// the record alone, so the report can be made again.
func (r Reread) sheet(facts []bag.Fact, attached []string, hashes []words.Entry) paper.Input {
	in := paper.Input{
		Source: r.Source, Subject: Subject(facts), Hashes: hashes, Attached: attached, Signer: bag.Info(facts).Get(labelSigned),
	}
	if r.Joined == nil {
		in.Crop, in.Preview = paper.Crops(r.Result), paper.Preview(r.Result)
	} else {
		for _, p := range r.Joined.Photos {
			in.Shots = append(in.Shots, paper.Shot{Crop: paper.Crops(p.Result), Preview: paper.Preview(p.Result)})
		}
	}
	in.Facts, in.Missing = entries(facts)
	return in
}

// ReadAgain makes the reading again from the bytes of a record.
func ReadAgain(p Parts, version string, limits photo.Limits) (Reread, error) {
	c, ask, err := p.asked()
	if err != nil {
		return Reread{}, err
	}
	if len(p.Shots) == 0 {
		r, err := readShot(Shot{Photo: p.Photo, Marks: p.Marks}, marksPath, strip.Input{Chart: c.Chart, Limits: limits, Ask: ask})
		if err != nil {
			return Reread{}, err
		}
		return Reread{Source: report.Of(p.Name, c.Hash, version, r), Result: r}, nil
	}
	var results []*strip.Result
	var pixels int64
	for _, s := range p.Shots {
		path := photoPath(s.Name)
		r, err := readShot(s, marksOf(path), strip.Input{Chart: c.Chart, Limits: limits, Ask: ask})
		if err != nil {
			return Reread{}, fmt.Errorf("%s: %w", path, err)
		}
		pixels += int64(r.Photo.Width) * int64(r.Photo.Height)
		if err := checkShots(len(p.Shots), pixels); err != nil {
			return Reread{}, err
		}
		results = append(results, r)
	}
	j, err := strip.OneStrip(results, ask)
	if err != nil {
		return Reread{}, words.NotOneStrip(err, shotNames(p.Shots))
	}
	var names []string
	for _, t := range j.Photos {
		names = append(names, p.Shots[t.Index].Name)
	}
	return rereadStrip(j, names, c.Hash, version), nil
}

// asked are the chart and the question of a record.
func (p Parts) asked() (c input.ChartFile, ask strip.Ask, err error) {
	if c, err = input.ParseChart(chartPath, p.Chart); err == nil {
		ask, err = p.Asked.Ask()
	}
	return c, ask, err
}

// readShot reads a photo with its marks, which lie at a path in the record.
func readShot(s Shot, marks string, in strip.Input) (*strip.Result, error) {
	m, err := charts.ParseMarks(s.Marks)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", marks, err)
	}
	in.Photo, in.Marks, in.Whole = s.Photo, m, true
	return strip.Read(in)
}

// photoFacts are the facts of the photos that bag-info.txt holds by themselves: the hash
// of the only one, or a line for each of several.
func photoFacts(f reading.File) []bag.Fact {
	if len(f.Strip) > 0 {
		return shotFacts(f)
	}
	return []bag.Fact{{Label: labelSHA256, Value: f.Photo.SHA256}}
}
