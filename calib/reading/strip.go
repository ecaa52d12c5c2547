package reading

import (
	"fmt"
	"slices"

	"padband/calib/strip"
)

// OfStrip returns the reading file of the one answer from several photos of a strip.
// files are the photos' names, in the order of the answer's photos.
func OfStrip(j *strip.Joined, files []string, from Origin) File {
	one := Of(&strip.Result{
		Photo: j.Photos[0].Photo, Chart: j.Chart, Readings: j.Readings, Meanings: j.Meanings, Sums: j.Sums, Notes: j.Notes,
	}, from)
	out := File{Format: StripFormat, Chart: one.Chart, Readings: one.Readings, Sums: one.Sums, Notes: one.Notes, Program: one.Program}
	for i, p := range j.Photos {
		from.File = files[i]
		f := Of(p.Result, from)
		out.Strip = append(out.Strip, StripPhoto{f.Photo, Figure(p.Seconds), p.Marks.Unchecked, f.Sample, f.Light})
	}
	for i := range out.Readings {
		p, window := j.Picks[i], j.Readings[i].Analyte.ReadWindow
		one := From{Photo: files[p.Photo], AfterDip: Figure(j.Photos[p.Photo].Seconds), Window: window}
		if window != nil {
			one.InTime = &p.InTime
		}
		for _, k := range p.Passed {
			one.Passed = append(one.Passed, files[k])
		}
		out.Readings[i].From = &one
	}
	return out
}

// PhotoOf is the photo that a reading of the file is from: the only one, or that of the
// strip which the reading names.
func (f File) PhotoOf(r Reading) Photo {
	for _, p := range f.Strip {
		if r.From != nil && p.File == r.From.Photo {
			return p.Photo
		}
	}
	return f.Photo
}

// Photos are all photos of the file.
func (f File) Photos() (out []Photo) {
	for _, p := range f.Strip {
		out = append(out, p.Photo)
	}
	if len(out) == 0 {
		out = append(out, f.Photo)
	}
	return out
}

// stripFault is what is wrong with the photos of a strip: too few, two of one name, or a
// reading from none of them; nil for none, and for a file of one photo.
func (f File) stripFault() error {
	if len(f.Strip) == 0 {
		if f.Format >= StripFormat {
			return &FieldError{"one_strip", "names no photos, and a file of this format has several of one strip"}
		}
		return nil
	}
	names := map[string]bool{}
	for i, p := range f.Strip {
		if p.File == "" || names[p.File] {
			return &FieldError{fmt.Sprintf("one_strip[%d]", i), "has no name of its own"}
		}
		names[p.File] = true
	}
	i := slices.IndexFunc(f.Readings, func(r Reading) bool { return r.From == nil || !names[r.From.Photo] })
	if i >= 0 {
		return &FieldError{fmt.Sprintf("readings[%d]", i), "is from none of the photos of one_strip"}
	}
	return nil
}
