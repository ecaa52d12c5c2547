package main

import (
	"errors"
	"fmt"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record"
)

// chartHints are how --chart mends what is wrong with a photo's chart.
var chartHints = map[input.ChartFault]string{
	input.Unnamed: "name a chart with --chart",
	input.Nowhere: "name its file with --chart",
	input.Broken:  "or name the chart's file with --chart",
	input.Double:  "name one with --chart",
}

// withNaming adds, to why a photo's marks or chart are not there, the flag that
// names them; marks is whether the command has --marks.
func withNaming(err error, marks bool) error {
	var none *input.NoMarksError
	var chart *input.ChartError
	switch {
	case marks && errors.As(err, &none):
		return fmt.Errorf("%w, or name the file with --marks", err)
	case errors.As(err, &chart):
		return fmt.Errorf("%w; %s", err, chartHints[chart.Fault])
	}
	return err
}

// recordWays are the commands that a record's findings send a person to.
var recordWays = record.Ways{Report: "padband report", Verify: "padband verify"}

// withMaking adds, to a file that holds no readings, what makes one.
func withMaking(err error) error {
	if errors.Is(err, agreement.ErrNoReadings) {
		return fmt.Errorf("%w, as --json or the page makes it", err)
	}
	return err
}

// withAttaching adds, to a fact that is too long for a record, the flag that keeps
// it in a file.
func withAttaching(err error) error {
	var long *record.LongFactError
	if errors.As(err, &long) {
		return fmt.Errorf("%w, or keep it in a file with --attach", err)
	}
	return err
}
