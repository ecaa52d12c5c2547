package page

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"time"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
)

// keptAnswer is what the page says of a record that was kept.
type keptAnswer struct {
	Name        string   `json:"name"`
	Folder      string   `json:"folder"`
	Fingerprint string   `json:"fingerprint"`
	Attached    int      `json:"attached"`
	Missing     []string `json:"missing"` // the names of the facts that nobody gave
	Report      string   `json:"report"`  // addresses
	Archive     string   `json:"archive"`
}

// keep makes an evidence record of the photo and writes it into the store.
func (s *Page) keep(ctx context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	leave, err := s.photos.enter(ctx, s.photos.keeps)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	c.Comes(keepTime)
	c.Taken(2 * keepTime)
	p, err := unpack(c)
	var out keptAnswer
	if err == nil {
		out, err = s.keepParcel(ctx, o, p)
	}
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(out)
}

func (s *Page) keepParcel(ctx context.Context, o *opened, p parcel) (out keptAnswer, err error) {
	j, err := s.understand(o, p.work)
	if err != nil {
		return out, err
	}
	m, files, err := s.gather(ctx, j.usable(), p)
	if err != nil {
		return out, err
	}
	hosted.Sweep(s.config.Store, time.Now())
	name, err := record.Write(s.config.Store, m.FolderName(), files, p.Zip)
	if err != nil {
		return out, hosted.Fail(unkept(err), err)
	}
	s.kept.add(name)
	return s.told(name, m, files), nil
}

// unkept is the status of the answer when a record could not be written.
func unkept(err error) int {
	var exists *record.ExistsError
	if errors.As(err, &exists) {
		return hosted.Conflict
	}
	return hosted.InsufficientStorage
}

// gather makes the record's files. The reading in it is made as the command makes it.
func (s *Page) gather(ctx context.Context, j job, p parcel) (m record.Made, files []bag.File, err error) {
	leave, err := s.photos.enter(ctx, s.photos.readings)
	if err != nil {
		return m, nil, err
	}
	defer leave()
	photo, err := j.received()
	if err != nil {
		return m, nil, err
	}
	marks, err := j.marks.Encode()
	if err != nil {
		return m, nil, err
	}
	written, err := charts.ParseMarks(marks)
	if err != nil {
		return m, nil, err
	}
	whole, err := j.whole()
	if err != nil {
		return m, nil, err
	}
	r, err := strip.ReadPhoto(whole, j.chart.Chart, written, j.ask)
	if err != nil {
		return m, nil, err
	}
	m = record.Made{
		Name: j.name, Photo: photo, Chart: j.chart, Marks: marks, Result: r, Asked: j.asked, Received: j.way(),
		Facts: record.FactsOf(r, p.Facts), Attached: p.files, Version: s.config.Version, Day: time.Now().Format(time.DateOnly),
	}
	files, err = m.Files()
	return m, files, err
}

// received are the photo's bytes as they came. The bytes of a file are read again, and
// must be the same that the photo was decoded from.
func (o *opened) received() ([]byte, error) {
	if o.came == fromBrowser {
		return o.data, nil
	}
	data, err := o.again()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(o.name), err)
	}
	if fmt.Sprintf("%x", sha256.Sum256(data)) != o.photo.Facts.SHA256 {
		return nil, hosted.Failf(hosted.Conflict, "%s was changed since it was opened here; "+
			"start padband anew with it, so that what is kept is what was read", input.Shown(o.name))
	}
	return data, nil
}

// way says how the photo came, in the record's words.
func (o *opened) way() string {
	if o.came == fromBrowser {
		return record.FromBrowser
	}
	return record.FromFile
}

func (s *Page) told(name string, m record.Made, files []bag.File) keptAnswer {
	out := keptAnswer{Name: name, Folder: s.config.Folder, Attached: len(m.Attached), Missing: []string{}}
	out.Report, out.Archive = "api/records/"+name+"/report", "api/records/"+name+"/zip"
	for _, f := range files {
		if f.Name == bag.TagManifest {
			out.Fingerprint = record.Fingerprint(f.Data)
		}
	}
	for _, a := range record.Sample {
		if bag.Info(m.Facts).Get(a.Label) == "" && !a.Optional() {
			out.Missing = append(out.Missing, a.Name)
		}
	}
	return out
}
