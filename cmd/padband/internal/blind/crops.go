package blind

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"sync"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/page"
	"padband/cmd/padband/internal/report"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// cropWidth is the width of a pad's or a swatch's picture, in pixels.
const cropWidth = 240

// prepared holds the pictures of one pad to be called, or the reason why it cannot be
// shown. Nothing in it tells which sample the pad is from.
type prepared struct {
	pad      [][]byte               // by part
	swatches [][][]byte             // by swatch and part
	whole    func() ([]byte, error) // the photo, made when it is asked for
	seconds  string                 // from the dip to the photo; empty when not known
	problem  string
}

// shelf keeps the pictures of the pad that is shown and of its neighbours.
type shelf struct {
	pads []pad
	one  sync.Mutex // one photo is decoded at a time
	mu   sync.Mutex
	made map[int]func() prepared
	make func(pad) prepared
}

func newShelf(pads []pad) *shelf {
	return &shelf{pads: pads, made: map[int]func() prepared{}, make: prepare}
}

// get returns a pad's pictures. It makes them, or waits until they are made.
func (s *shelf) get(at int) prepared {
	s.mu.Lock()
	for k := range s.made {
		if k < at-1 || k > at+1 {
			delete(s.made, k)
		}
	}
	if s.made[at] == nil {
		s.made[at] = sync.OnceValue(func() prepared {
			s.one.Lock()
			defer s.one.Unlock()
			return s.make(s.pads[at])
		})
	}
	made := s.made[at]
	s.mu.Unlock()
	return made()
}

// ahead makes the next pad's pictures while this one is looked at.
func (s *shelf) ahead(at int) {
	if at+1 < len(s.pads) {
		go s.get(at + 1)
	}
}

// prepare cuts a pad's pictures out of its photo.
func prepare(p pad) (out prepared) {
	defer func() {
		if fault := recover(); fault != nil {
			out = prepared{problem: oneLine(fmt.Sprintf("its pictures could not be made: %v", fault))}
		}
	}()
	if err := out.from(p); err != nil {
		return prepared{problem: oneLine(err.Error())}
	}
	return out
}

// checked says why a photo is not the one that was marked.
func (p pad) checked(m *photo.Photo) error {
	return p.Marks.CheckPhoto(m.Width, m.Height, m.Facts.SHA256)
}

// wholePhoto is the pad's photo as a picture.
func (p pad) wholePhoto() ([]byte, error) {
	data, err := p.Read()
	if err != nil {
		return nil, err
	}
	m, jpeg, err := page.Preview(data, p.Limits)
	if err != nil {
		return nil, err
	}
	return jpeg, p.checked(m)
}

// from cuts pad and swatches out of the pad's photo.
func (out *prepared) from(p pad) error {
	data, err := p.Read()
	if err != nil {
		return err
	}
	m, err := photo.Decode(data, p.Limits, p.squares(data)...)
	if err != nil {
		return err
	}
	if err := p.checked(m); err != nil {
		return err
	}
	placed, err := p.Marks.Place(p.Chart, m.Width, m.Height)
	if err != nil {
		return err
	}
	for _, a := range placed.Pads {
		if a.Analyte.Name == p.analyte.Name {
			err = out.cut(m, a)
		}
	}
	if err != nil {
		return err
	}
	if s, known := strip.Elapsed(p.Marks.Sample, m.Facts); known {
		out.seconds = strconv.FormatFloat(math.Round(s), 'f', 0, 64)
	}
	out.whole = sync.OnceValues(p.wholePhoto)
	return nil
}

// squares are the parts of the photo that the pad's pictures show, on whole pixels.
// Where the marks cannot be placed there are none, and then all of the photo is
// decoded.
func (p pad) squares(data []byte) (out []colorimetry.Region) {
	width, height, err := photo.Size(data, p.Limits)
	if err != nil {
		return nil
	}
	placed, err := p.Marks.Place(p.Chart, width, height)
	if err != nil {
		return nil
	}
	for _, a := range placed.Pads {
		if a.Analyte.Name != p.analyte.Name {
			continue
		}
		for _, marks := range append(slices.Clone(a.Swatches), a.Pad) {
			for _, m := range marks {
				r := report.Around(m.Region, width, height).Points
				least := colorimetry.Point{X: math.Floor(r[0].X), Y: math.Floor(r[0].Y)}
				size := colorimetry.Point{X: math.Ceil(r[0].X+r[1].X) - least.X, Y: math.Ceil(r[0].Y+r[1].Y) - least.Y}
				out = append(out, colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{least, size}})
			}
		}
	}
	return out
}

// cut makes the pictures of one analyte.
func (out *prepared) cut(m *photo.Photo, a charts.PlacedAnalyte) (err error) {
	if out.pad, err = crops(m, a.Pad); err != nil {
		return err
	}
	for _, s := range a.Swatches {
		parts, err := crops(m, s)
		if err != nil {
			return err
		}
		out.swatches = append(out.swatches, parts)
	}
	return nil
}

// crops are the pictures of the squares around some marks.
func crops(p *photo.Photo, marks []charts.Mark) (out [][]byte, err error) {
	for _, m := range marks {
		r := report.Around(m.Region, p.Width, p.Height).Points
		data, err := page.Cut(p, r[0].X, r[0].Y, r[1].X, r[1].Y, cropWidth)
		if err != nil {
			return nil, err
		}
		out = append(out, data)
	}
	return out, nil
}
