//go:build unix

package main

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Pipes, devices and the system's own tables have no end or no meaning, in any
// place that takes a file.
func TestOrdinaryFilesOnly(t *testing.T) {
	dir := folder(t, "orchard-well")
	photo, pipe := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "p.chart.json")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	const why = "is a pipe or a device, not an ordinary file; save it and name the file"
	for _, name := range []string{pipe, "/dev/zero", "/dev/null"} {
		assert.Equal(t, "padband: "+name+": "+why, refused(t, "read", name))
		assert.Equal(t, "padband: "+name+": "+why, refused(t, "chart", "check", name))
		assert.Equal(t, "padband: "+photo+": "+name+": "+why, refused(t, "read", "--marks", name, photo))
		assert.Equal(t, "padband: "+photo+": "+name+": "+why, refused(t, "read", "--chart", name, photo))
	}
	assert.Equal(t, "padband: "+photo+": "+pipe+": "+why, refused(t, "read", photo))

	require.NoError(t, os.Rename(pipe, filepath.Join(dir, "other.chart.json")))
	code, _, errOut := call("read", photo)
	assert.Equal(t, exitOK, code, "a pipe that is another chart's is passed over: %s", errOut)

	for _, name := range []string{"/proc/self/mem", "/proc/self/pagemap"} {
		if _, err := os.Stat(name); err == nil {
			assert.Equal(t, "padband: "+name+": the file is empty; copy it from the phone again", refused(t, "read", name))
		}
	}
}
