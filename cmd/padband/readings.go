package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/lines"
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

// openReadings reads a reading file, or the reading of a record.
func openReadings(name string) ([]agreement.Single, error) {
	read := func() ([]byte, error) { return beside.ReadFile(name, readingBytes) }
	if isRecord(name) {
		read = func() ([]byte, error) { return recordReading(name) }
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
func recordReading(name string) ([]byte, error) {
	s, err := sheetOf(name, record.Options{Now: time.Now(), Limits: limits(usualMegapixels)})
	if err != nil {
		return nil, err
	}
	if n := s.Result.Faults(); n > 0 {
		return nil, fmt.Errorf("%s in this record; padband verify names them", lines.Count(n, "fault"))
	}
	return s.Source.JSON()
}
