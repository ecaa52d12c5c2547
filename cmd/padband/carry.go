package main

import (
	"image"

	"padband/calib/strip"
	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/outlined"
	"padband/colorimetry/photo"
)

// A strip is photographed several times, and its pads are due at different seconds. The
// person looks at the outlines of one photo; those of the others are found by them.

// carrier looks for a chart as [outline.Carry] does.
type carrier func(seen image.Image, width, height int, chart charts.Chart, earlier outline.Earlier) outline.Outline

// oneStrip looks for the chart in photos of one strip without marks.
type oneStrip struct {
	find       outlined.Finder // while no marks of the strip were looked at
	carry      carrier         // nil: there is only find
	megapixels int
	looked     []lookedAt
}

// lookedAt is a photo whose marks a person drew or looked at.
type lookedAt struct {
	name   string
	result *strip.Result
}

// add takes in a photo that was read. Marks that nobody looked at tell nothing of the
// next photo: a slip in one would be one in all.
func (s *oneStrip) add(name string, r *strip.Result) {
	if s.carry != nil && !r.Marks.Unchecked && len(r.Marks.Asked) == 0 {
		s.looked = append(s.looked, lookedAt{name, r})
	}
}

// finder looks for the chart by each photo with marks in turn, until nothing is asked.
func (s *oneStrip) finder(seen image.Image, width, height int, chart charts.Chart) outline.Outline {
	var first *outline.Outline
	for _, l := range s.looked {
		if l.result.Chart.Name != chart.Name {
			continue
		}
		o := s.carry(seen, width, height, chart, l.earlier(s.megapixels))
		if o.Marks != nil && o.Why.Code == "" && len(o.Questions) == 0 {
			return o
		}
		if first == nil {
			first = &o
		}
	}
	if first != nil {
		return *first
	}
	return s.find(seen, width, height, chart)
}

// earlier is the photo with its picture, small. One that is gone by now tells where
// things lie, and no colours.
func (l lookedAt) earlier(megapixels int) outline.Earlier {
	e := outline.Earlier{Marks: l.result.Marks, Width: l.result.Photo.Width, Height: l.result.Photo.Height}
	data, err := input.Photo(l.name)
	if err != nil {
		return e
	}
	if _, seen, _, err := photo.Glance(data, photoLimits(megapixels), outline.Longest); err == nil {
		e.Seen = seen
	}
	return e
}
