package record

import (
	"fmt"
	"strconv"
	"time"

	"padband/calib/strip"
	"padband/charts"
)

// CheckFact refuses a time or a date that cannot be read; empty is not known.
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

// Date puts what the facts say of times and kit into the record's marks, so that
// the reading and its warnings are of them: what was read of the photo is answered
// again for the sample as it then is.
func (m *Made) Date(read *strip.Measured, ask strip.Ask) (err error) {
	in, marks := Info(m.Facts), m.Result.Marks
	changed := false
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
