package charts

import (
	"errors"
	"fmt"
	"strings"

	"padband/charts/strict"
	"padband/colorimetry"
)

// NoteCode names what a note says.
type NoteCode string

// Notes on an analyte.
const (
	NoteNoPad NoteCode = "no-pad" // no pad of it is marked: it is skipped
	NoteNoAs  NoteCode = "no-as"  // the chart does not say what its figures are expressed as
)

// Note says what is not read of a photo, or not judged.
type Note struct {
	Code    NoteCode
	Analyte string
	Text    string // one line
}

// NoteTexts are the texts of notes.
func NoteTexts(notes []Note) (out []string) {
	for _, n := range notes {
		out = append(out, n.Text)
	}
	return out
}

// Placed is a photo's marks checked against its chart: what can be read.
type Placed struct {
	Whites []Mark
	// WetWhites are soaked with the sample's water.
	WetWhites []Mark
	Pads      []PlacedAnalyte // in the chart's order
	Notes     []Note          // such as an analyte with no pad marked
}

// PlacedAnalyte is one analyte's marks. Pad[k] is part k+1; Swatches[i][k] is
// swatch i (in order of value), part k+1.
type PlacedAnalyte struct {
	Analyte  Analyte
	Pad      []Mark
	Swatches [][]Mark
}

// cell names what one mark stands for: a pad, or the swatch of an index.
type cell struct {
	role    Role
	analyte string
	swatch  int // 0 for a pad
	part    int
}

// CheckPhoto compares what the marks say of their photo with the photo at
// hand: its upright size in pixels and its SHA-256 in hexadecimal (not compared
// when either is empty). The error is a [*FileError].
func (m Marks) CheckPhoto(width, height int, sha256 string) error {
	w, h := m.Photo.Width, m.Photo.Height
	if (w != 0 && w != width) || (h != 0 && h != height) {
		return strict.Fault(
			"photo",
			"mark this photo",
			"these marks are for another photo: %s x %s, this one is %d x %d",
			size(w),
			size(h),
			width,
			height,
		)
	}
	if m.Photo.SHA256 != "" && sha256 != "" && !strings.EqualFold(m.Photo.SHA256, sha256) {
		return strict.Fault(
			"photo.sha256",
			"mark this photo",
			"these marks are for another photo: its hash begins %.12s, this one's %.12s",
			m.Photo.SHA256,
			sha256,
		)
	}
	return nil
}

// size prints a width or height that the marks may leave out.
func size(n int) string {
	if n == 0 {
		return "?"
	}
	return fmt.Sprint(n)
}

// Place checks the marks against the chart and a photo of the given upright
// size in pixels, and puts the layout's cells where the corners say; a swatch
// marked by hand wins over its cell. An analyte with no pad marked is left out
// with a note. What keeps the photo from being read (a mark outside it or of
// another chart, a part or a swatch that is missing) is a [*FileError].
func (m Marks) Place(c Chart, width, height int) (Placed, error) {
	if err := m.CheckPhoto(width, height, ""); err != nil {
		return Placed{}, err
	}
	if m.Chart != "" && m.Chart != c.Name {
		return Placed{}, strict.Fault(
			"chart",
			"give the chart that was marked",
			"these marks are for the chart %s, not for %s",
			strict.Quote(m.Chart),
			strict.Quote(c.Name),
		)
	}
	p := &placer{marks: m, chart: c, cells: map[cell]Mark{}, from: map[cell]int{}}
	steps := []func() error{
		func() error { return p.byHand(width, height) },
		func() error { return p.byCorners(float64(width), float64(height)) },
		p.gather,
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return Placed{}, err
		}
	}
	return p.out, nil
}

// placer collects the marks of one photo by what they stand for.
type placer struct {
	marks    Marks
	chart    Chart
	cells    map[cell]Mark
	from     map[cell]int // the region of a cell that was marked by hand
	spots    []spot
	swatches int
	out      Placed
}

// byHand takes the marks of the file's regions.
func (p *placer) byHand(width, height int) error {
	for i, m := range p.marks.Regions {
		if err := checkRegion(m.Region, region(i)); err != nil {
			return err
		}
		if !m.Region.Inside(width, height) {
			return strict.Fault(
				region(i),
				"move it inside, or give the photo that was marked, at its full size",
				"%s reaches outside the photo of %d x %d pixels",
				m.label(),
				width,
				height,
			)
		}
		if m.Role.ofWhite() {
			if err := p.white(m, region(i)); err != nil {
				return err
			}
			continue
		}
		k, err := p.chart.cell(m, region(i))
		if err != nil && err.Path == region(i)+".analyte" {
			err.Do += ", or name the chart that is in the photo"
		}
		if err != nil {
			return err
		}
		if j, twice := p.from[k]; twice {
			return strict.Fault(region(i), "keep one of them", "marks %s, as does %s", m.label(), region(j))
		}
		p.from[k] = i
		if err := p.put(k, m, region(i)); err != nil {
			return err
		}
	}
	return nil
}

// spot is where a mark was put, and what put it there.
type spot struct {
	mark   Mark
	centre colorimetry.Point
	by     string
}

// put places a pad or a swatch.
func (p *placer) put(k cell, m Mark, by string) *strict.FileError {
	if err := p.alone(m, by); err != nil {
		return err
	}
	p.cells[k] = m
	if k.role == RoleSwatch {
		p.swatches++
	}
	return nil
}

// white places a white area.
func (p *placer) white(m Mark, by string) *strict.FileError {
	if err := p.alone(m, by); err != nil {
		return err
	}
	if m.Role == RoleWetWhite {
		p.out.WetWhites = append(p.out.WetWhites, m)
	} else {
		p.out.Whites = append(p.out.Whites, m)
	}
	return nil
}

// alone notes where a mark lies, and refuses one that covers another: the
// centre of either in the other. White areas may cover each other.
func (p *placer) alone(m Mark, by string) *strict.FileError {
	c := m.Region.Centroid()
	for _, s := range p.spots {
		if m.Role == s.mark.Role && m.Role.ofWhite() {
			continue
		}
		inside, covers := s.mark.Region.Contains(c), m.Region.Contains(s.centre)
		switch {
		case inside:
			return strict.Fault(by, "mark each where it is", "%s lies on %s, which is %s", m.label(), s.by, s.mark.label())
		case covers:
			return strict.Fault(
				by,
				"mark each where it is, a rect as x, y, width, height",
				"%s covers %s, which is %s",
				m.label(),
				s.by,
				s.mark.label(),
			)
		}
	}
	p.spots = append(p.spots, spot{m, c, by})
	return nil
}

// cell finds what a pad or swatch mark stands for on the chart.
func (c Chart) cell(m Mark, path string) (cell, *strict.FileError) {
	a, ok := c.Analyte(m.Analyte)
	if !ok {
		return cell{}, strict.Fault(
			path+".analyte",
			"write one of "+c.names(),
			"is %s, which the chart %s does not have",
			strict.Quote(m.Analyte),
			strict.Quote(c.Name),
		)
	}
	if m.Part < 1 || m.Part > a.Parts {
		return cell{}, strict.Fault(path+".part", "mend it", "is %d, and %s has %s", m.Part, strict.Quote(a.Name), count(a.Parts, "part"))
	}
	if m.Role == RolePad {
		return cell{RolePad, a.Name, 0, m.Part}, nil
	}
	i := a.swatch(m.Value)
	if i < 0 {
		return cell{}, strict.Fault(
			path+".value",
			"write one of "+a.values(),
			"is %s, which %s has no swatch for",
			strict.Figure(m.Value),
			strict.Quote(a.Name),
		)
	}
	return cell{RoleSwatch, a.Name, i, m.Part}, nil
}

// byCorners puts the layout's cells into the photo.
func (p *placer) byCorners(width, height float64) error {
	corners := p.marks.Corners
	if len(corners) == 0 {
		return nil
	}
	if why := cornerFault(corners); why != "" {
		return strict.Fault("corners", cornerOrder, "%s", why)
	}
	if len(p.chart.Layout) == 0 {
		return strict.Fault(
			"corners",
			"remove them and mark each swatch",
			"the chart %s has no layout to place by its corners",
			strict.Quote(p.chart.Name),
		)
	}
	for i, c := range corners {
		if !(c.X >= 0 && c.X <= width && c.Y >= 0 && c.Y <= height) {
			return strict.Fault(
				fmt.Sprintf("corners[%d]", i),
				"move it inside",
				"lies outside the photo of %s x %s pixels",
				strict.Figure(width),
				strict.Figure(height),
			)
		}
	}
	square := [4]colorimetry.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	toPhoto, err := colorimetry.NewHomography(square, [4]colorimetry.Point(corners))
	var fault *colorimetry.CornerError
	if errors.As(err, &fault) {
		return strict.Fault("corners", cornerOrder, "%s", fault.What)
	}
	for i, m := range p.chart.Layout {
		m.Region = m.Region.Map(func(q colorimetry.Point) colorimetry.Point {
			q = toPhoto.Apply(q) // inside the corners, but for rounding
			return colorimetry.Point{X: max(0, min(q.X, width)), Y: max(0, min(q.Y, height))}
		})
		if m.Region.Check() != nil {
			return strict.Fault("corners", "mark the chart larger", "make %s too small to be an area", m.label())
		}
		if m.Role.ofWhite() {
			if err := p.white(m, "corners"); err != nil {
				return err
			}
			continue
		}
		k, err := p.chart.cell(m, fmt.Sprintf("layout.cells[%d]", i))
		if err != nil {
			return err
		}
		if _, hand := p.from[k]; !hand {
			if err := p.put(k, m, "corners"); err != nil {
				return err
			}
		}
	}
	return nil
}

// maxWhites is how many white areas one photo may have: each is weighed against
// all others, and a few dozen already say all there is to know of the light.
const maxWhites = 256

// gather puts the cells in the chart's order and names what is missing.
func (p *placer) gather() error {
	if n := max(len(p.out.Whites), len(p.out.WetWhites)); n > maxWhites {
		return strict.Fault("regions", "keep the largest", "mark %d white areas, over the limit of %d", n, maxWhites)
	}
	for _, a := range p.chart.Analytes {
		pad, missing := p.parts(a, cell{role: RolePad, analyte: a.Name})
		if len(missing) == a.Parts {
			p.out.Notes = append(p.out.Notes, Note{NoteNoPad, a.Name, fmt.Sprintf("no pad is marked for %s: skipped", a.Name)})
			continue
		}
		if len(missing) > 0 {
			return strict.Fault("regions", "mark it", "part %d of the pad %s is not marked", missing[0], strict.Quote(a.Name))
		}
		if p.swatches == 0 {
			return strict.Fault("regions", "mark its swatches", "no swatch is marked: the chart must be in the same photo")
		}
		rows, err := p.rows(a)
		if err != nil {
			return err
		}
		if a.lacksAs() {
			p.out.Notes = append(p.out.Notes, Note{NoteNoAs, a.Name,
				fmt.Sprintf("%s: %s as what? The chart does not say; take it from the print and write it as \"as\"", a.Name, a.Unit)})
		}
		p.out.Pads = append(p.out.Pads, PlacedAnalyte{Analyte: a, Pad: pad, Swatches: rows})
	}
	if len(p.out.Pads) == 0 {
		return strict.Fault("regions", "mark the strip's pads, as "+p.chart.names(), "no pad is marked")
	}
	return nil
}

// rows returns the marks of an analyte's swatches, or says which are missing.
func (p *placer) rows(a Analyte) ([][]Mark, error) {
	var rows [][]Mark
	var first string
	lacking := 0
	for i, s := range a.Swatches {
		row, missing := p.parts(a, cell{role: RoleSwatch, analyte: a.Name, swatch: i})
		if lacking == 0 && len(missing) > 0 {
			first = Mark{Role: RoleSwatch, Analyte: a.Name, Value: s.Value, Part: missing[0]}.label()
		}
		lacking += len(missing)
		rows = append(rows, row)
	}
	switch lacking {
	case 0:
		return rows, nil
	case 1:
		return nil, strict.Fault("regions", "mark it", "%s is not marked", first)
	}
	return nil, strict.Fault("regions", "mark them", "%s is not marked, and %d in all of %s are not", first, lacking, strict.Quote(a.Name))
}

// parts returns the marks of all parts of a cell, and the parts not marked.
func (p *placer) parts(a Analyte, k cell) (marks []Mark, missing []int) {
	for k.part = 1; k.part <= a.Parts; k.part++ {
		if m, ok := p.cells[k]; ok {
			marks = append(marks, m)
		} else {
			missing = append(missing, k.part)
		}
	}
	return marks, missing
}
