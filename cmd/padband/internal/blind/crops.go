package blind

import (
	"fmt"
	"math"
	"strconv"
	"sync"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/page"
	"padband/cmd/padband/internal/report"
	"padband/colorimetry/photo"
)

// cropWidth is the width of a pad's or a swatch's picture, in pixels.
const cropWidth = 240

// prepared are the pictures of one pad to be called, without anything that tells
// which sample it is; or what keeps it from being shown.
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

// get makes a pad's pictures, or waits until they are made.
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

// decoded is the pad's photo; the error says why it is not the one that was marked.
func (p pad) decoded() (*photo.Photo, error) {
	data, err := p.Read()
	if err != nil {
		return nil, err
	}
	m, err := photo.Decode(data, p.Limits)
	if err != nil {
		return nil, err
	}
	return m, p.Marks.CheckPhoto(m.Width, m.Height, m.Facts.SHA256)
}

// wholePhoto is the pad's photo as a picture.
func (p pad) wholePhoto() ([]byte, error) {
	m, err := p.decoded()
	if err != nil {
		return nil, err
	}
	return page.Preview(m)
}

// from cuts pad and swatches out of the pad's photo.
func (out *prepared) from(p pad) error {
	m, err := p.decoded()
	if err != nil {
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

// crops are the squares around marks.
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
