package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/lines"
)

const demo = "../../testdata/demo/"

// folder is a new folder with a demo photo p.jpg and its marks; the marks'
// chart is renamed.
func folder(t *testing.T, chart string) string {
	t.Helper()
	dir := t.TempDir()
	photo, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	marks, err := os.ReadFile(demo + "kitchen.marks.json")
	require.NoError(t, err)
	write(t, filepath.Join(dir, "p.jpg"), photo)
	write(t, filepath.Join(dir, "p.marks.json"), []byte(strings.Replace(string(marks), "orchard-well", chart, 1)))
	return dir
}

func write(t *testing.T, name string, data []byte) {
	t.Helper()
	require.NoError(t, os.WriteFile(name, data, 0o600))
}

// refused runs a command that must end soon, with exit code 1, nothing on
// standard output and one printable line on standard error, which it returns.
func refused(t *testing.T, args ...string) string {
	t.Helper()
	type result struct {
		code        int
		out, errOut string
	}
	done := make(chan result, 1)
	go func() {
		code, out, errOut := call(args...)
		done <- result{code, out, errOut}
	}()
	select {
	case r := <-done:
		assert.Equal(t, exitError, r.code, r.errOut)
		assert.Empty(t, r.out)
		line, ended := strings.CutSuffix(r.errOut, "\n")
		assert.True(t, ended && strings.HasPrefix(line, "padband: ") && line == lines.Blanked(line), "%q", r.errOut)
		return line
	case <-time.After(20 * time.Second):
		require.Fail(t, "it hangs", "%q", args)
		return ""
	}
}

// Names that would break the line, steer a terminal or turn its direction.
func TestOddNamesStayOnOneLine(t *testing.T) {
	for name, shown := range map[string]string{
		"a b.jpg": "a b.jpg", "a  b.jpg": "a  b.jpg", "100%s%d.jpg": "100%s%d.jpg", "-x.jpg": "-x.jpg", "été.jpg": "été.jpg", "a.chart.json": "a.chart.json",
		"": `""`, "a\nb.jpg": `"a\nb.jpg"`, "\x1b[2Jb.jpg": `"\x1b[2Jb.jpg"`, "\xff\xfe.jpg": `"\xff\xfe.jpg"`, "\u202egpj.exe": `"\u202egpj.exe"`, " ": `" "`,
	} {
		want := "padband: " + shown + ": there is no such file; check the name and the folder"
		assert.Equal(t, want, refused(t, "read", "--", name))
		assert.Equal(t, want, refused(t, "chart", "check", "--", name))
	}
}

// The same names on standard output, of photos that are there.
func TestOddNamesInReadings(t *testing.T) {
	dir := folder(t, "orchard-well")
	for name, shown := range map[string]string{"a.chart.json": "a.chart.json", "-x.jpg": "-x.jpg", "\x1b[2Jb.jpg": `"\x1b[2Jb.jpg"`, "a\nb.jpg": `"a\nb.jpg"`} {
		require.NoError(t, os.Rename(filepath.Join(dir, "p.jpg"), filepath.Join(dir, name)))
		code, out, errOut := call("read", "--marks", filepath.Join(dir, "p.marks.json"), "--chart", "orchard-well", filepath.Join(dir, name))
		require.Equal(t, exitOK, code, errOut)
		assert.True(t, strings.HasPrefix(out, shown+", read against"), out)
		require.NoError(t, os.Rename(filepath.Join(dir, name), filepath.Join(dir, "p.jpg")))
	}
	chart := filepath.Join(dir, "\x1bc.json")
	write(t, chart, fmt.Appendf(nil, smallChart, "c"))
	code, out, errOut := call("chart", "check", chart)
	require.Equal(t, exitOK, code, errOut)
	assert.Contains(t, out, `\x1bc.json": a chart: nitrate`)
}

func TestFileThatLooksLikeAFlag(t *testing.T) {
	dir := folder(t, "orchard-well")
	t.Chdir(dir)
	require.NoError(t, os.Rename("p.jpg", "-p.jpg"))
	require.NoError(t, os.Rename("p.marks.json", "-p.marks.json"))
	code, _, errOut := call("read", "-p.jpg")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "in -p.jpg; for the file of that name write ./-p.jpg\n")
	code, out, errOut := call("read", "./-p.jpg")
	assert.Equal(t, exitOK, code, errOut)
	assert.Contains(t, out, "-p.jpg, read against")
}

// A note may run over lines, and not back over what was printed.
func TestNoteStaysInItsLines(t *testing.T) {
	name := filepath.Join(t.TempDir(), "c.json")
	text := strings.Replace(fmt.Sprintf(smallChart, "c"), "{", `{"note": "one\r\ntwo\rthree", `, 1)
	write(t, name, []byte(text))
	code, out, errOut := call("chart", "show", name)
	require.Equal(t, exitOK, code, errOut)
	assert.Contains(t, out, "\none\ntwothree\n")
}

// Links that go round or lead nowhere. A chart file that is a bad link must not
// be passed over for another chart.
func TestBadLinks(t *testing.T) {
	dir := folder(t, "orchard-well")
	link := func(to, name string) {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Skipf("no links can be made here: %v", err)
		}
	}
	link("round.jpg", "round.jpg")
	link("nowhere", "lost.jpg")
	assert.Contains(t, refused(t, "read", filepath.Join(dir, "round.jpg")), "cannot be read: ")
	assert.Contains(t, refused(t, "read", filepath.Join(dir, "lost.jpg")), "there is no such file")
	for _, to := range []string{"p.chart.json", "nowhere"} {
		link(to, "p.chart.json")
		assert.Contains(t, refused(t, "read", filepath.Join(dir, "p.jpg")), "p.chart.json: ", to)
		require.NoError(t, os.Remove(filepath.Join(dir, "p.chart.json")))
	}
}

const smallChart = `{"chart": %q, "analytes": [{"name": "nitrate", "unit": "mg/L", "swatches": [{"value": 0}, {"value": 5}]}]}`

func TestChartsBesideThePhoto(t *testing.T) {
	dir := folder(t, "shed")
	photo := filepath.Join(dir, "p.jpg")
	put := func(name, text string) { write(t, filepath.Join(dir, name), []byte(text)) }

	put("other.chart.json", "{")
	line := refused(t, "read", photo)
	assert.Contains(t, line, `there is no chart "shed" beside the photo or among the bundled ones, but a broken chart file is there: `)
	assert.Contains(t, line, "other.chart.json: is not JSON")

	put("one.chart.json", fmt.Sprintf(smallChart, "shed"))
	put("same.chart.json", fmt.Sprintf(smallChart, "shed")) // the same bytes are the same chart
	assert.Contains(t, refused(t, "read", photo), "analyte")
	put("two.chart.json", fmt.Sprintf(smallChart, "shed")+"\n")
	assert.Contains(t, refused(t, "read", photo), `one.chart.json and two.chart.json are both the chart "shed"; name one with --chart`)
}

// A broken file that bears a bundled chart's name is an error: it was meant to be read.
func TestBrokenChartIsNotReplacedByABundledOne(t *testing.T) {
	dir := folder(t, "orchard-well")
	write(t, filepath.Join(dir, "orchard-well.chart.json"), []byte("{}"))
	assert.Contains(t, refused(t, "read", filepath.Join(dir, "p.jpg")), "orchard-well.chart.json: chart: is missing; add it")
}

func TestManyChartsBesideThePhoto(t *testing.T) {
	dir := folder(t, "orchard-well")
	for i := range 2000 {
		write(t, filepath.Join(dir, fmt.Sprintf("c%d.chart.json", i)), fmt.Appendf(nil, smallChart, fmt.Sprintf("c%d", i)))
	}
	code, _, errOut := call("read", filepath.Join(dir, "p.jpg"))
	assert.Equal(t, exitOK, code, errOut)
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// Every command says when its output is lost, once.
func TestOutputThatCannotBeWritten(t *testing.T) {
	for _, args := range [][]string{
		{}, {"--help"}, {"help"}, {"help", "read"}, {"read", "--help"}, {"version"}, {"chart", "list"}, {"chart", "show", "orchard-well"},
		{"chart", "check", "../../charts/bundled/orchard-well.chart.json"},
		{"read", demo + "kitchen.jpg"}, {"read", "--json", demo + "kitchen.jpg", demo + "cellar.jpg"},
	} {
		var errOut strings.Builder
		assert.Equal(t, exitError, run(args, strings.NewReader(""), full{}, &errOut), "%q", args)
		assert.Equal(t, "padband: the output could not be written: no space left on device; make room or write it elsewhere\n", errOut.String(), "%q", args)
	}
}

// broken fails as only a mistake in the program can.
type broken struct{}

func (broken) Write([]byte) (int, error) { panic("a mistake\nin the program") }

func TestMistakeInTheProgramIsOneLine(t *testing.T) {
	var errOut strings.Builder
	assert.Equal(t, exitError, run([]string{"version"}, strings.NewReader(""), broken{}, &errOut))
	assert.Equal(t, "padband: the program itself failed: a mistake in the program; nothing was changed; keep the files and report this with them\n", errOut.String())
}

func TestMegapixels(t *testing.T) {
	assert.Contains(t, refused(t, "read", "--max-megapixels", "1", demo+"kitchen.jpg"), "the limit is 1.0: make it smaller or raise the limit with --max-megapixels")
	for _, n := range []string{"0", "-1", "1001", "9223372036855", "9223372036854775807"} {
		code, out, errOut := call("read", "--max-megapixels", n, demo+"kitchen.jpg")
		assert.Equal(t, exitUsage, code, n)
		assert.Empty(t, out)
		assert.Contains(t, errOut, "--max-megapixels must be from 1 to 1000\n")
	}
	code, _, errOut := call("read", "--max-megapixels", "1000", demo+"kitchen.jpg")
	assert.Equal(t, exitOK, code, errOut)
}
