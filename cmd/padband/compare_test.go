package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
)

// The calls that the README shows are read, every row.
func TestReadmeCalls(t *testing.T) {
	m := regexp.MustCompile("(?ms)^```csv\n(.*?)^```$").FindStringSubmatch(readText(t, root+"README.md"))
	require.NotNil(t, m)
	calls, err := agreement.Read(strings.NewReader(m[1]))
	require.NoError(t, err)
	assert.Len(t, calls.Rows, 3)
	assert.Empty(t, calls.Left)
}
