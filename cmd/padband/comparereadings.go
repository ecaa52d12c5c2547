package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/readers"
	"padband/cmd/padband/internal/record"
)

// readingBytes is as large as a reading file may be.
const readingBytes = 4 << 20

// isReading reports whether a name is that of a reading or a record, and not of
// a table of calls.
func isReading(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), ".json") || isRecord(name)
}

// isRecord reports whether a name is that of a record: a folder or a zip file.
func isRecord(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir() || strings.HasSuffix(strings.ToLower(name), ".zip")
}

// compareReadings compares two reading files, or one with another method's value.
func (e env) compareReadings(names []string, o compareOptions) error {
	a, err := e.openReadings(names[0])
	if err != nil {
		return err
	}
	var gaps []agreement.Gap
	var notes []string
	if o.against != "" {
		gaps, err = gapsAgainst(a, o.against)
	} else {
		var b []agreement.Single
		if b, err = e.openReadings(names[1]); err == nil {
			gaps, notes, err = gapsOfTwo(a, b, o.strips)
		}
	}
	if err != nil {
		return err
	}
	if err := e.showGaps(gaps, o.json); err != nil {
		return err
	}
	for _, n := range notes {
		if !o.json {
			fmt.Fprintf(e.out, "\n%s\n", n)
		}
	}
	return nil
}

// openReadings reads a reading file, or the reading of a record.
func (e env) openReadings(name string) ([]agreement.Single, error) {
	read := func() ([]byte, error) { return beside.ReadFile(name, readingBytes) }
	if isRecord(name) {
		read = func() ([]byte, error) { return e.recordReading(name) }
	}
	data, err := read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	s, err := agreement.ParseReading(filepath.Base(name), data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	return s, nil
}

// recordReading is the reading that a record keeps. One with faults is not compared.
func (e env) recordReading(name string) ([]byte, error) {
	s, err := sheetOf(name, record.Options{Now: time.Now(), Limits: limits(usualMegapixels)})
	if err != nil {
		return nil, err
	}
	if n := s.Result.Faults(); n > 0 {
		return nil, fmt.Errorf("%s in this record; padband verify names them", lines.Count(n, "fault"))
	}
	return s.Source.JSON()
}

// gapsAgainst compares the one reading that the value can be of.
func gapsAgainst(all []agreement.Single, text string) ([]agreement.Gap, error) {
	value, err := agreement.ParseAgainst(text)
	if err != nil {
		return nil, err
	}
	var gaps []agreement.Gap
	var names []string
	var whys []error
	for _, a := range all {
		b, err := value.For(a)
		if err != nil {
			whys = append(whys, err)
			continue
		}
		gaps, names = append(gaps, agreement.Between(a, b, agreement.ByReference)), append(names, a.Analyte)
	}
	switch {
	case len(gaps) == 0:
		return nil, fmt.Errorf("--against %q fits none of the readings: %w", text, whys[0])
	case len(gaps) > 1:
		return nil, fmt.Errorf("--against %q may be of %s; put the name before it, such as \"%s %s\"", text, strings.Join(names, " or "), names[0], text)
	}
	return gaps, nil
}

// gapsOfTwo compares the analytes that both files have; notes name the others.
func gapsOfTwo(a, all []agreement.Single, strips string) (gaps []agreement.Gap, notes []string, err error) {
	r, err := relation(a[0], all[0], strips)
	if err != nil {
		return nil, nil, err
	}
	var left []string
	for _, x := range a {
		y, why := partner(x, all)
		if why != "" {
			left = append(left, x.Analyte+": "+why)
			continue
		}
		gaps = append(gaps, agreement.Between(x, y, r))
	}
	if len(gaps) == 0 {
		return nil, nil, fmt.Errorf("the two files have no reading to compare; %s", left[0])
	}
	for _, l := range left {
		notes = append(notes, "Not compared: "+l+".")
	}
	return gaps, notes, nil
}

// partner is the reading of the same analyte, in the same unit, or why there is none.
func partner(x agreement.Single, all []agreement.Single) (agreement.Single, string) {
	for _, y := range all {
		if !strings.EqualFold(x.Analyte, y.Analyte) {
			continue
		}
		if x.Unit != y.Unit || x.As != y.As {
			return y, fmt.Sprintf("one is in %s, the other in %s", agreement.UnitText(x.Unit, x.As), agreement.UnitText(y.Unit, y.As))
		}
		return y, ""
	}
	return agreement.Single{}, "the second file does not read it"
}

// relation says what two files share: the photo's hash tells one photo; what two photos
// show has to be said.
func relation(a, b agreement.Single, strips string) (agreement.Relation, error) {
	same := a.Photo != "" && a.Photo == b.Photo
	switch {
	case same && strips == "two":
		return "", errors.New("both readings are of one photo, which shows one strip; leave --strips out")
	case same:
		return agreement.SamePhoto, nil
	case strips == "one":
		return agreement.OneStrip, nil
	case strips == "two":
		return agreement.TwoStrips, nil
	}
	return "", errors.New("the readings are of two photos; say whether they show one strip or two: --strips one, or --strips two")
}

// showGaps prints the comparisons.
func (e env) showGaps(gaps []agreement.Gap, asJSON bool) error {
	for i, g := range gaps {
		text := []byte(readers.GapText(g))
		if asJSON {
			data, err := readers.GapJSON(g, version)
			if err != nil {
				return fmt.Errorf("the comparison is no JSON: %w; print it without --json", err)
			}
			text = append(data, '\n')
		} else if i > 0 {
			text = append([]byte("\n"+strings.Repeat("-", 80)+"\n\n"), text...)
		}
		if _, err := e.out.Write(text); err != nil {
			return nil // it is told at the end of run
		}
	}
	return nil
}
