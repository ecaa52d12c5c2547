package blind

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
)

// What a run with no seed draws is kept, and another run draws another.
func TestSeedIsDrawnAndKept(t *testing.T) {
	seeds := map[string]bool{}
	for range 3 {
		c := blindConfig(t)
		c.Seed = 0
		r := start(t, c)
		m := regexp.MustCompile(`^# padband blind calls, format 1, seed ([1-9][0-9]{0,8}), set [0-9a-f]{16}, from a screen, reader A\. Reader\n`).FindStringSubmatch(r.text())
		require.NotNil(t, m, r.text())
		seeds[m[1]] = true
		again := start(t, c)
		assert.Equal(t, m[1], strconv.FormatUint(again.page.calls.head.seed, 10))
	}
	assert.Greater(t, len(seeds), 1)
}

// Seconds from the dip to the photo and the strip go along when the marks have them.
func TestRowsHaveTheStripAndItsSeconds(t *testing.T) {
	c := blindConfig(t)
	c.Photos = c.Photos[1:]
	c.Photos[0].Marks.Sample.Dipped = "2026-11-14T08:40:15-05:00" // the photo was taken at 08:41:10
	c.Photos[0].Marks.Sample.Strip = "=12"
	c.Analyte = "PH"
	r := start(t, c)
	r.make(0)
	assert.Contains(t, r.text(), "\nkitchen,A. Reader,5.8,pH,pH,,'=12,55,screen,2.0,\n")
}

var callTimes = regexp.MustCompile(`,screen,[0-9.]+,`)

// Ended after any call, the run goes on where it was: the file at the end is,
// but for times, that of a run that was never ended.
func TestGoesOnAfterAKill(t *testing.T) {
	whole := start(t, blindConfig(t)).withoutPictures()
	for k := range 6 {
		whole.make(k % 3)
	}
	want := callTimes.ReplaceAllString(whole.text(), ",screen,,")
	for kill := range 7 {
		c := blindConfig(t)
		r := start(t, c).withoutPictures()
		for k := range kill {
			r.make(k % 3)
		}
		r.server.Close() // nothing is told to the run; what is not in the file is lost
		c.Seed = uint64(7 * (kill % 2))
		r = start(t, c).withoutPictures()
		made, of := r.page.Calls()
		assert.Equal(t, []int{kill, 6}, []int{made, of})
		for k := kill; k < 6; k++ {
			r.make(k % 3)
		}
		assert.Equal(t, want, callTimes.ReplaceAllString(r.text(), ",screen,,"), "ended after %d calls", kill)
		entries, err := os.ReadDir(filepath.Dir(c.Path))
		require.NoError(t, err)
		assert.Len(t, entries, 1, "no passing file stays")
	}
}

// A file that is not of this run is left as it is, and one line says why.
func TestFilesThatDoNotFit(t *testing.T) {
	c := blindConfig(t)
	r := start(t, c).withoutPictures()
	r.make(0)
	r.make(1)
	good := r.text()
	lines := strings.SplitAfter(good, "\n")
	for want, change := range map[string]func(c *Config) string{
		"holds the calls of A. Reader, not of B":          func(c *Config) string { c.Reader = "B"; return good },
		"was begun with seed 7, not 8":                    func(c *Config) string { c.Seed = 8; return good },
		"was begun with other photos":                     func(c *Config) string { c.Photos = c.Photos[:1]; return good },
		"another analyte":                                 func(c *Config) string { c.Analyte = "pH"; return good },
		"is there already and is no file of blind calls":  func(*Config) string { return "sample,reader,value\n" },
		"the file is empty":                               func(*Config) string { return "" },
		"is of format 2, and this padband knows format 1": func(*Config) string { return strings.Replace(good, "format 1", "format 2", 1) },
		"line 1 is not as padband wrote it":               func(*Config) string { return strings.Replace(good, "seed 7", "seed -7", 1) },
		"line 2 does not name the columns":                func(*Config) string { return strings.Replace(good, "sample,reader", "reader,sample", 1) },
		"line 4 is not as padband wrote it":               func(*Config) string { return good[:len(good)-12] },
		"line 3 is not the call that was asked for there": func(*Config) string { return lines[0] + lines[1] + lines[3] + lines[2] },
		"line 5 is not the call that was asked for there": func(*Config) string { return good + lines[3] },
		"holds 7 calls, and there are 6 pads":             func(*Config) string { return good + strings.Repeat(lines[3], 5) },
	} {
		other := c
		text := change(&other)
		require.NoError(t, os.WriteFile(c.Path, []byte(text), 0o600))
		_, err := New(other)
		require.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, c.Path+": ")
		assert.NotContains(t, err.Error(), "\n")
		assert.NotContains(t, err.Error(), "--", "what the flags are is the command's to say")
		data, err := os.ReadFile(c.Path)
		require.NoError(t, err)
		assert.Equal(t, text, string(data), "left as it was")
	}
	require.NoError(t, os.WriteFile(c.Path, []byte(strings.ReplaceAll(good, "\n", "\r\n")), 0o600))
	_, err := New(c)
	assert.NoError(t, err, "another system's line ends are no matter")
}

// A file that something else wrote to meanwhile is not written over.
func TestFileChangedMeanwhile(t *testing.T) {
	r := start(t, blindConfig(t)).withoutPictures()
	other := start(t, keptAt(Config{Photos: demoPhotos(t), Reader: "A. Reader"}, r.file)).withoutPictures()
	other.make(0)
	text := r.text()
	v := r.state().Pad.Swatches[0].Value
	r.show(0, time.Second)
	status, body := r.send(0, call{Kind: "swatch", Value: &v})
	told := refused(t, http.StatusInternalServerError, status, body).Error
	assert.Contains(t, told, "calls.csv: was changed since")
	assert.NotContains(t, told, r.folder, "the page is not told where")
	assert.Equal(t, text, r.text())
	assert.Zero(t, r.state().At, "the call is not counted")
	require.NoError(t, os.Remove(r.file))
	status, body = r.send(0, call{Kind: "swatch", Value: &v})
	refused(t, http.StatusInternalServerError, status, body)
	assert.NoFileExists(t, r.file)
}

// A folder that is not there is told before a pad is shown.
func TestFileThatCannotBeWritten(t *testing.T) {
	c := blindConfig(t)
	c = keptAt(c, filepath.Join(t.TempDir(), "none", "calls.csv"))
	_, err := New(c)
	assert.ErrorContains(t, err, "cannot be written")
}

// A file that appeared since it was looked for is not written over.
func TestFileThatAppeared(t *testing.T) {
	name := filepath.Join(t.TempDir(), "calls.csv")
	require.NoError(t, os.WriteFile(name, []byte("other"), 0o600))
	assert.ErrorContains(t, (&callFile{store: host.NewFolder(filepath.Dir(name)), name: filepath.Base(name)}).write(nil), "there already")
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "other", string(data))
}

func TestFileNameOfAReader(t *testing.T) {
	for name, want := range map[string]string{"A. Reader": "A-Reader", "../..": "reader", "Zoë": "Zoë", "a/b\\c": "a-b-c", "2nd": "2nd"} {
		assert.Equal(t, "blind-"+want+".csv", FileName(name))
	}
}
