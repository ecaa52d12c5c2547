package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// killed runs the program and kills it a while after so many rows are there, if
// it has not ended before.
func killed(t *testing.T, part string, rows int, after time.Duration, args ...string) {
	t.Helper()
	cmd := exec.Command("padband", args...)
	require.NoError(t, cmd.Start())
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for doneIn(part) < rows {
		select {
		case <-ended:
			return
		case <-time.After(time.Millisecond):
		}
	}
	time.Sleep(after)
	_ = cmd.Process.Kill() // it may have ended
	<-ended
}

// doneIn counts the photos that a part's state says are done.
func doneIn(part string) int {
	data, err := os.ReadFile(part + ".state")
	if err != nil {
		return 0
	}
	return max(0, strings.Count(string(data), "\n")-2) // the run's line and the head's
}

// Killed at random moments, some of them twice, and gone on with, the output is
// the bytes of one run, and what was done is not done again: the photos of the
// rows that are there are taken away before the run goes on.
func TestBatchKilledAndResumed(t *testing.T) {
	dir := many(t)
	var names []string
	for _, f := range manyFiles {
		names = append(names, filepath.Join(dir, strings.TrimSuffix(f, "!")))
	}
	list := filepath.Join(t.TempDir(), "list")
	write(t, list, []byte(strings.Join(names, "\n")))
	begun := time.Now()
	whole, err := exec.Command("padband", "batch", list, "--jobs", "2").Output()
	var ended *exec.ExitError
	require.ErrorAs(t, err, &ended)
	took := time.Since(begun)
	table, err := exec.Command("padband", "batch", list, "--csv").Output()
	require.ErrorAs(t, err, &ended)

	kills, amid := 50, 0
	if testing.Short() {
		kills = 5
	}
	for k := range kills {
		out := filepath.Join(t.TempDir(), "out")
		args, want := []string{"batch", list, "--jobs", "2", "--resume", "--out", out}, whole
		if k%2 == 1 {
			args, want = append(args, "--csv"), table
		}
		for range 1 + k%3 {
			killed(t, out+".part", rand.IntN(len(names)-1), time.Duration(rand.Float64()*float64(took)/10), args...)
		}
		if _, err := os.Stat(out); err == nil {
			require.Equal(t, string(want), readText(t, out), "it ended before it was killed")
			continue
		}
		n := doneIn(out + ".part")
		if n > 0 {
			amid++
		}
		for _, name := range names[:n] {
			require.NoError(t, os.Rename(name, name+".away"))
		}
		_, err := exec.Command("padband", args...).Output()
		require.ErrorAs(t, err, &ended)
		assert.Equal(t, 1, ended.ExitCode())
		require.Equal(t, string(want), readText(t, out), "killed after %d rows", n)
		for _, name := range names[:n] {
			require.NoError(t, os.Rename(name+".away", name))
		}
		assert.NoFileExists(t, out+".part")
		assert.NoFileExists(t, out+".part.state")
	}
	t.Logf("%d of %d kills fell between the first row and the last", amid, kills)
	assert.Positive(t, amid, "no kill fell between two rows: nothing was tested")
}

// Interrupted, a run takes the rows of the photos that it holds, and says how to go on.
func TestBatchInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot be interrupted from another one there")
	}
	list, out := filepath.Join(t.TempDir(), "list"), filepath.Join(t.TempDir(), "out")
	write(t, list, []byte(strings.Repeat(demo+"kitchen.jpg\n", 500)))
	cmd := exec.Command("padband", "batch", list, "--jobs", "2", "--out", out)
	var said strings.Builder
	cmd.Stderr = &said
	require.NoError(t, cmd.Start())
	for doneIn(out+".part") == 0 {
		time.Sleep(time.Millisecond)
	}
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	var ended *exec.ExitError
	require.ErrorAs(t, cmd.Wait(), &ended)
	assert.Equal(t, exitError, ended.ExitCode())
	n := doneIn(out + ".part")
	assert.Equal(t, fmt.Sprintf("padband: stopped after %d of 500 photos; go on with --resume\n", n), said.String())
	assert.Equal(t, n, strings.Count(readText(t, out+".part"), "\n"))
	assert.Less(t, n, 500)
}
