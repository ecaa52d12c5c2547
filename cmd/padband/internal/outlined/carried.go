package outlined

import (
	"image"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/colorimetry/photo"
)

// A strip is photographed several times, and its pads are due at different seconds. The
// person looks at the outlines of one photo; those of the others are found by them.

// Carrier looks for a chart as [outline.Carry] does.
type Carrier func(seen image.Image, width, height int, chart charts.Chart, earlier outline.Earlier) outline.Outline

// OneStrip looks for the chart in photos of one strip. Without a carrier, and while no
// marks of the strip were looked at, it is its finder.
type OneStrip struct {
	Find   Finder
	Carry  Carrier
	Limits photo.Limits
	looked []lookedAt
}

// lookedAt is a photo whose marks a person drew or looked at.
type lookedAt struct {
	chart   string
	earlier outline.Earlier
	read    func() ([]byte, error)
}

// Add takes in a photo of that upright size with its marks; read gives its bytes. Marks
// that nobody looked at tell nothing of the next photo: a slip in one would be one in all.
func (s *OneStrip) Add(marks charts.Marks, chart string, width, height int, read func() ([]byte, error)) {
	if s.Carry != nil && !marks.Unchecked && len(marks.Asked) == 0 {
		s.looked = append(s.looked, lookedAt{chart, outline.Earlier{Marks: marks, Width: width, Height: height}, read})
	}
}

// Finder looks for the chart by each photo with marks in turn, until nothing is asked.
func (s *OneStrip) Finder(seen image.Image, width, height int, chart charts.Chart) outline.Outline {
	var first *outline.Outline
	for _, l := range s.looked {
		if l.chart != chart.Name {
			continue
		}
		o := s.Carry(seen, width, height, chart, l.seen(s.Limits))
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
	return s.Find(seen, width, height, chart)
}

// seen is the photo with its picture, small. One that is gone by now tells where things
// lie, and no colours.
func (l lookedAt) seen(limits photo.Limits) outline.Earlier {
	data, err := l.read()
	if err != nil {
		return l.earlier
	}
	if _, picture, _, err := photo.Glance(data, limits, outline.Longest); err == nil {
		l.earlier.Seen = picture
	}
	return l.earlier
}
