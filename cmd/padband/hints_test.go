package main

import (
	"errors"
	"fmt"
	"net"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/blind"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record"
)

// What is wrong with a photo's files is said with the flags that the command has.
func TestNamingFlags(t *testing.T) {
	none := &input.NoMarksError{Name: "p.marks.json"}
	assert.EqualError(t, withNaming(none, true), "no marks: p.marks.json is not there; mark the photo first, or name the file with --marks")
	assert.EqualError(t, withNaming(none, false), "no marks: p.marks.json is not there; mark the photo first")
	for fault, want := range map[input.ChartFault]string{
		input.Unnamed: "x; name a chart with --chart", input.Nowhere: "x; name its file with --chart",
		input.Broken: "x; or name the chart's file with --chart", input.Double: "x; name one with --chart",
	} {
		err := fmt.Errorf("%w", &input.ChartError{Fault: fault, Err: errors.New("x")})
		assert.EqualError(t, withNaming(err, false), want)
	}
	other := errors.New("x")
	assert.Equal(t, other, withNaming(other, true))
	assert.EqualError(t, withAttaching(&record.LongFactError{Label: "Note", Letters: 1001}),
		"Note is 1001 letters long and may be 1000; say it shorter, or keep it in a file with --attach")
	assert.EqualError(t, withMaking(agreement.ErrNoReadings), "holds no readings; name a file that ends in .reading.json, as --json or the page makes it")
	assert.EqualError(t, withOut(blind.ErrNoPads, ""), "no pad is marked in these photos; mark them first, with padband mark")
}

// A port that is taken is named without a flag, for blind has none of a port.
func TestPortThatIsTaken(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, err = markOptions{port: l.Addr().(*net.TCPAddr).Port}.listen()
	var taken *host.PortError
	require.ErrorAs(t, err, &taken)
	assert.NotContains(t, err.Error(), "--")
}
