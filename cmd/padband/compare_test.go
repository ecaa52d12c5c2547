package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
)

// The calls that the guide shows are read, every row.
func TestGuideCalls(t *testing.T) {
	calls, err := agreement.Read(strings.NewReader(blockOf(t, "cmd/padband/guide/readers.md", "csv")))
	require.NoError(t, err)
	assert.Len(t, calls.Rows, 3)
	assert.Empty(t, calls.Left)
}

// The library says what a comparison leaves open, and the command which flags help.
func TestFlagsFor(t *testing.T) {
	assert.Empty(t, flagsFor([]agreement.Comparison{{Verdict: agreement.Few, LeftCount: 1, Left: make([]agreement.LeftOut, 1)}}))
	got := flagsFor([]agreement.Comparison{{Verdict: agreement.Few}, {Verdict: agreement.NoMeasure, LeftCount: 13, Left: make([]agreement.LeftOut, 13)}})
	assert.Equal(t, "\nThe flag --chart names the chart, and --limit the limit that matters.\n"+
		"\nWith --json, up to 1000 of the rows left out are listed.\n", got)
}
