package paper

import (
	"fmt"
	"slices"
	"strconv"

	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// cropOf gives pictures of the photo that a reading is from.
func (in Input) cropOf(reading int) func(colorimetry.Region) string {
	s := in.Strip()
	if s == nil {
		return in.Crop
	}
	return in.shot(s.Picks[reading].Photo).Crop
}

// shot is one of several photos; it is empty where no pictures are to be shown.
func (in Input) shot(photo int) (none Shot) {
	if photo < len(in.Shots) {
		return in.Shots[photo]
	}
	return none
}

// fileOf is the photo that a reading is from, by its file; it is empty for the only one.
func (in Input) fileOf(reading int) string {
	if in.Strip() == nil {
		return ""
	}
	return lines.OneLine(in.From(reading).File)
}

// lightsOf are the words on the light of each photo.
func lightsOf(in Input) (out []lightWords) {
	of := func(s report.Source) lightWords {
		return lightWords{s.Light.Reliability, report.LightWarnings(s.Light), sentenceOf(report.FiguresOf(s))}
	}
	s := in.Strip()
	if s == nil {
		return []lightWords{of(in.Source)}
	}
	for i := range s.Photos {
		out = append(out, of(s.Shot(i)))
	}
	return out
}

// aboutsOf sets out the photo and the facts. Several photos of a strip follow the facts,
// each with its own.
func aboutsOf(in Input, lights []lightWords) []about {
	s := in.Strip()
	if s == nil {
		return newAbouts(in, &lights[0])
	}
	out := newAbouts(in, nil)
	for i := range s.Photos {
		one := about{
			Shot: fmt.Sprintf("Photo %d of %d", i+1, len(s.Photos)), View: newView(s.Shot(i), in.shot(i).Preview, numbersOf(in, i)),
			Facts: words.Printed(shotFacts(*s, i)), Light: &lights[i],
		}
		out = append(out, one)
	}
	return out
}

// numbersOf are the analytes of all readings, numbered as these are. Those that are read
// from another photo than this one have no number.
func numbersOf(in Input, photo int) (out []numbered) {
	s := in.Strip()
	for i, r := range in.Readings {
		n := numbered{r.Analyte.Name, strconv.Itoa(i + 1)}
		if s != nil && s.Picks[i].Photo != photo {
			n.number = ""
		}
		out = append(out, n)
	}
	return out
}

// shotFacts are the facts of one of several photos.
func shotFacts(s report.OneStripSource, photo int) []words.Entry {
	p := s.Photos[photo]
	taken := p.Photo.Facts.Taken
	if taken == "" {
		taken = p.Marks.Sample.Taken
	}
	read := []string{}
	for i, r := range s.Readings {
		if s.Picks[i].Photo == photo {
			read = append(read, r.Analyte.Name)
		}
	}
	if len(read) == 0 {
		read = append(read, "nothing")
	}
	out := []words.Entry{
		{Label: "File", Value: s.Files[photo]}, {Label: "Taken", Value: words.Moment(taken)},
		{Label: "After the dip", Value: words.AfterDip(p.Seconds)}, {Label: "Read from it", Value: lines.List(read)},
		{Label: "Light", Value: words.Lamp(p.Marks.Sample.Light)},
	}
	return slices.DeleteFunc(out, func(e words.Entry) bool { return e.Value == "" })
}
