package record

import (
	"bufio"
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

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record/bag"
)

// inFolder and inZipFile keep a record in a folder of this machine.
func inFolder(parent, name string, files []bag.File) error {
	_, err := Write(host.NewFolder(parent), name, files, false)
	return err
}

func inZipFile(parent, name string, files []bag.File) error {
	_, err := Write(host.NewFolder(parent), name, files, true)
	return err
}

// childParent, when set, makes this test program a writer of records, to be killed.
const childParent = "RECORD_TEST_WRITES_INTO"

func TestMain(m *testing.M) {
	if parent := os.Getenv(childParent); parent != "" {
		writeUntilKilled(parent)
	}
	os.Exit(m.Run())
}

// writeUntilKilled writes records, folders and zip files in turn.
func writeUntilKilled(parent string) {
	files, err := Make(content(), nil)
	for i := 0; err == nil; i++ {
		if i == 0 {
			fmt.Println("ready")
		}
		write := inFolder
		if i%2 == 1 {
			write = inZipFile
		}
		err = write(parent, fmt.Sprintf("rec%d", i), files)
	}
	fmt.Println(err)
	os.Exit(1)
}

// Killed at any moment, the writer leaves whole records and parts that are none.
func TestKilledWriterLeavesNoHalfRecord(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	parent := t.TempDir()
	r := rand.New(rand.NewPCG(2, 3))
	whole, parts, span := 0, 0, writingTime(t)
	for i := range kills {
		dir := filepath.Join(parent, fmt.Sprint(i))
		require.NoError(t, os.Mkdir(dir, 0o755))
		killOne(t, dir, time.Duration(r.Int64N(int64(span))))
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		for _, e := range entries {
			if strings.HasPrefix(e.Name(), hosted.PassingLarge) {
				parts++
				continue
			}
			res := verify(t, filepath.Join(dir, e.Name()), nil)
			assert.Zero(t, res.Faults(), "%s: %s", e.Name(), lines(res.Findings))
			whole++
		}
		require.NoError(t, os.RemoveAll(dir))
	}
	t.Logf("%d kills: %d whole records, %d parts", kills, whole, parts)
	assert.Positive(t, whole)
	assert.Greater(t, parts, kills/10, "the kills must strike while a record is being written")
}

// writingTime is how long this machine takes for some records now, busy or not.
func writingTime(t *testing.T) time.Duration {
	t.Helper()
	files, parent, begun := made(t, nil), t.TempDir(), time.Now()
	for i := range 2 {
		require.NoError(t, inFolder(parent, fmt.Sprint("a", i), files))
		require.NoError(t, inZipFile(parent, fmt.Sprint("b", i), files))
	}
	return max(time.Since(begun), 20*time.Millisecond)
}

func killOne(t *testing.T, dir string, after time.Duration) {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childParent+"="+dir)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "ready\n", line)
	time.Sleep(after)
	require.NoError(t, c.Process.Kill())
	require.Error(t, c.Wait())
}

func TestNothingIsWrittenOver(t *testing.T) {
	parent := t.TempDir()
	files := made(t, nil)
	require.NoError(t, inFolder(parent, "rec", files))
	require.NoError(t, os.WriteFile(filepath.Join(parent, "z.zip"), []byte("mine"), 0o600))
	var exists *ExistsError
	assert.ErrorAs(t, inFolder(parent, "rec", files[:1]), &exists)
	assert.ErrorAs(t, inZipFile(parent, "z", files), &exists)
	assert.Zero(t, verify(t, filepath.Join(parent, "rec"), nil).Faults())
	data, err := os.ReadFile(filepath.Join(parent, "z.zip"))
	require.NoError(t, err)
	assert.Equal(t, "mine", string(data))
}

func TestFullDiskLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("a small disk is mounted for this test, which only root can do, on Linux")
	}
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a small disk cannot be mounted here, as in a container without that right: %s", out)
	}
	defer func() { assert.NoError(t, exec.Command("umount", dir).Run()) }()
	c := content()
	c.Photo = make([]byte, 400<<10)
	for i := range c.Photo {
		c.Photo[i] = byte(rand.IntN(256))
	}
	files, err := Make(c, nil)
	require.NoError(t, err)
	for _, write := range []func(string, string, []bag.File) error{inFolder, inZipFile} {
		err := write(dir, "rec", files)
		require.ErrorContains(t, err, "no space left on device; nothing was kept, make room")
		assert.NotContains(t, err.Error(), "\n")
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Empty(t, entries)
	}
}
