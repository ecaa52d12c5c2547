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
	"padband/cmd/padband/internal/words"
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
	j, err := s.understandAll(o, p.work)
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
	m = record.Made{Chart: j.chart, Asked: j.asked, Attached: p.files, Version: s.config.Version, Day: time.Now().Format(time.DateOnly)}
	if len(j.strip) > 0 {
		err = j.keptStrip(&m, p.Facts)
	} else {
		err = j.keptAlone(&m, p.Facts)
	}
	if err != nil {
		return m, nil, err
	}
	files, err = m.Files()
	return m, files, err
}

// keptAlone puts the one photo into a record.
func (j job) keptAlone(m *record.Made, said map[string]string) error {
	shot, r, err := j.evidence()
	if err != nil {
		return err
	}
	m.Name, m.Photo, m.Marks, m.Received = shot.Name, shot.Photo, shot.Marks, shot.Received
	m.Result, m.Facts = r, record.FactsOf(r, said)
	return nil
}

// keptStrip puts all photos of a strip into a record, with the one answer from them.
func (j job) keptStrip(m *record.Made, said map[string]string) error {
	var results []*strip.Result
	var names []string
	for i, k := range j.strip {
		shot, r, err := k.evidence()
		if err != nil {
			return fmt.Errorf("%s: %w", longName(i, k.opened), err)
		}
		m.Shots, results, names = append(m.Shots, shot), append(results, r), append(names, longName(i, k.opened))
	}
	joined, err := strip.OneStrip(results, j.ask)
	if err != nil {
		return words.NotOneStrip(err, names)
	}
	m.Joined, m.Facts = joined, record.FactsOfStrip(joined, said)
	return nil
}

// evidence is the photo with its marks as a record keeps them, and what they are read as.
func (j job) evidence() (shot record.Shot, r *strip.Result, err error) {
	shot = record.Shot{Name: j.name, Received: j.way()}
	if shot.Photo, err = j.received(); err != nil {
		return shot, nil, err
	}
	if shot.Marks, err = j.marks.Encode(); err != nil {
		return shot, nil, err
	}
	written, err := charts.ParseMarks(shot.Marks)
	if err != nil {
		return shot, nil, err
	}
	whole, err := j.whole()
	if err != nil {
		return shot, nil, err
	}
	r, err = strip.ReadPhoto(whole, j.chart.Chart, written, j.ask)
	return shot, r, err
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
