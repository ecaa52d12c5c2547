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
