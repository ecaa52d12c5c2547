package record

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/record/bag"
)

// clocks are the forms in which records write a time.
var clocks = []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02"}

// ParseTime reads a time as a record has it, with an offset from UTC or without, to
// the second, the minute or the day. Without an offset the time is given as if its
// clock were UTC's. ok is false when the text is no time at all.
func ParseTime(s string) (t time.Time, offset, ok bool) {
	s = strings.TrimSpace(strings.TrimSuffix(s, "(no offset)"))
	for _, form := range clocks {
		if t, err := time.Parse(form, s); err == nil {
			return t, false, true
		}
		for _, zone := range []string{"Z07:00", " Z07:00", " -07:00"} {
			if t, err := time.Parse(form+zone, s); err == nil && len(form) > len(time.DateOnly) {
				return t, true, true
			}
		}
	}
	return time.Time{}, false, false
}

// CheckFact refuses a time or a date that cannot be read. An empty one is accepted: it
// is not known.
func CheckFact(name, v string) error {
	if v == "" {
		return nil
	}
	var err error
	form := "a time with its offset, such as 2026-11-14T08:40:18-05:00"
	switch name {
	case "dipped":
		_, err = time.Parse(time.RFC3339, v)
	case "taken":
		if _, _, ok := ParseTime(v); !ok {
			err = strconv.ErrSyntax
		}
	case nameLight:
		if _, err := charts.ParseLamp(v); err != nil {
			return err
		}
	case nameWater:
		if _, err := charts.ParseWater(v); err != nil {
			return err
		}
	case "opened":
		form = "a day, such as 2026-09-01"
		_, err = time.Parse(time.DateOnly, v)
	case "expires":
		form = "a month, such as 2027-05, or a day"
		_, err = charts.ParseExpiry(v)
	}
	if err != nil {
		return fmt.Errorf("is %.40q, which cannot be read; write %s", v, form)
	}
	return nil
}

// Date puts what the facts say of times and kit into the record's marks, so that the
// reading and its warnings take account of them. What was read of the photo is then
// answered again for this sample.
func (m *Made) Date(read *strip.Measured, ask strip.Ask) (err error) {
	in, marks := bag.Info(m.Facts), m.Result.Marks
	changed, err := m.say(&marks.Sample)
	if err != nil {
		return err
	}
	set := func(to *string, label string) {
		v := in.Get(label)
		if label == "Photo-Taken" && CheckFact("dipped", v) != nil {
			return // without an offset it is no point in time
		}
		if v != "" && v != *to {
			*to, changed = v, true
		}
	}
	set(&marks.Sample.Dipped, "Dipped")
	set(&marks.Sample.Kit.Expires, "Kit-Expires")
	set(&marks.Sample.Kit.Opened, "Kit-Opened")
	if m.Result.Photo.Facts.Taken == "" {
		set(&marks.Sample.Taken, "Photo-Taken")
	}
	if !changed {
		return nil
	}
	if m.Marks, err = marks.Encode(); err != nil {
		return err
	}
	written, err := charts.ParseMarks(m.Marks)
	if err != nil {
		return err
	}
	m.Result, err = read.Answer(written.Sample, ask)
	return err
}

// say puts the words for light and water into a sample, and writes them in the facts as
// marks have them. changed is whether the sample said something else before.
func (m *Made) say(s *charts.SampleInfo) (changed bool, err error) {
	before := *s
	for i, f := range m.Facts {
		switch {
		case f.Value == "":
			continue
		case f.Label == labelLight:
			s.Light, err = charts.ParseLamp(f.Value)
			m.Facts[i].Value = string(s.Light)
		case f.Label == labelWater:
			s.Water, err = charts.ParseWater(f.Value)
			m.Facts[i].Value = string(s.Water)
		}
		if err != nil {
			return false, fmt.Errorf("%s %w", f.Label, err)
		}
	}
	return *s != before, nil
}

// takenAt reads a photo's time with its offset. It refuses a time without one, which
// is no point in time.
func takenAt(s string) (time.Time, error) { return time.Parse(time.RFC3339, s) }
