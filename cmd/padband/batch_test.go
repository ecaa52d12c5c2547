package main

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/reading"
	"padband/charts"
	"padband/cmd/padband/internal/batch"
)

// many is a folder with six photos that can be read, two of one name among them,
// and four that cannot: cut short, of another size than its marks say, with
// marks that are none, and marks without a photo.
func many(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	put := func(name string, data []byte) {
		name = filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o700))
		require.NoError(t, os.WriteFile(name, data, 0o600))
	}
	var last []byte
	for _, demoName := range []string{"cellar", "kitchen"} {
		photo, err := os.ReadFile(demo + demoName + ".jpg")
		require.NoError(t, err)
		marks, err := os.ReadFile(demo + demoName + ".marks.json")
		require.NoError(t, err)
		for _, at := range []string{"", "a/", "a/deep er/"} {
			put(at+demoName+".jpg", photo)
			put(at+demoName+".marks.json", marks)
		}
		put("bad/other"+demoName+".jpg", last)
		put("bad/other"+demoName+".marks.json", marks)
		put("bad/cut.jpg", photo[:len(photo)/2])
		put("bad/cut.marks.json", marks)
		last = photo
	}
	put("bad/marks.jpg", last)
	put("bad/marks.marks.json", []byte("{"))
	put("bad/lone.marks.json", []byte("{}"))
	return dir
}

// manyFiles are the rows' names in order, and whether there is a reading.
var manyFiles = []string{
	"a/cellar.jpg", "a/deep er/cellar.jpg", "a/deep er/kitchen.jpg", "a/kitchen.jpg",
	"bad/cut.jpg!", "bad/lone.marks.json!", "bad/marks.jpg!", "bad/othercellar.jpg!", "bad/otherkitchen.jpg!",
	"cellar.jpg", "kitchen.jpg",
}

// A folder's rows are in order and each is what read --json prints, but for the
// name; a photo that cannot be read has one with what read would say.
func TestBatchRowsAreThoseOfRead(t *testing.T) {
	dir := many(t)
	code, out, errOut := call("batch", dir, "--jobs", "3")
	assert.Equal(t, exitError, code)
	assert.Equal(t, "padband: 5 of 11 photos could not be read; their rows say why\n", errOut)
	lines := strings.SplitAfter(out, "\n")
	require.Len(t, lines, len(manyFiles)+1)
	for i, file := range manyFiles {
		file, bad := strings.CutSuffix(file, "!")
		_, read, why := call("read", "--json", filepath.Join(dir, file))
		if !bad {
			assert.Equal(t, strings.Replace(read, `"file":"`+filepath.Base(file)+`"`, `"file":"`+file+`"`, 1), lines[i])
			continue
		}
		var row reading.Failed
		require.NoError(t, json.Unmarshal([]byte(lines[i]), &row), lines[i])
		assert.Equal(t, file, row.Photo.File)
		if !strings.HasSuffix(file, ".marks.json") {
			assert.Equal(t, why, "padband: "+filepath.Join(dir, file)+": "+row.Error+"\n")
		}
	}
}

// However many jobs, and from a list as from the folder: the same bytes.
func TestBatchIsTheSameHoweverItIsRun(t *testing.T) {
	dir := many(t)
	_, want, _ := call("batch", dir, "--jobs", "1")
	for _, jobs := range []string{"2", "8"} {
		_, out, _ := call("batch", dir, "--jobs", jobs)
		assert.Equal(t, want, out)
	}
	t.Chdir(dir)
	var names []string
	for _, f := range manyFiles {
		if f = strings.TrimSuffix(f, "!"); !strings.HasSuffix(f, ".marks.json") {
			names = append(names, f)
		}
	}
	write(t, "list", []byte(strings.Join(names, "\n")))
	_, out, _ := call("batch", "list")
	var listed []string
	for _, line := range strings.SplitAfter(want, "\n") {
		if !strings.Contains(line, "lone.marks.json") {
			listed = append(listed, strings.ReplaceAll(line, dir+string(filepath.Separator), ""))
		}
	}
	assert.Equal(t, strings.Join(listed, ""), out)
}

// The table has a row a reading with the columns of read's table, a row a photo
// that could not be read, and no more columns than it says.
func TestBatchTable(t *testing.T) {
	code, out, _ := call("batch", "--csv", many(t))
	assert.Equal(t, exitError, code)
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+6*3+5)
	last := len(rows[0]) - 1
	assert.Equal(t, "photo,error", rows[0][0]+","+rows[0][last])
	var files []string
	for _, r := range rows[1:] {
		file := r[0]
		if r[last] != "" {
			file += "!"
			assert.Empty(t, strings.Join(r[1:last], ""))
		}
		if len(files) == 0 || files[len(files)-1] != file {
			files = append(files, file)
		}
	}
	assert.Equal(t, manyFiles, files)
	assert.Contains(t, out, "a/kitchen.jpg,2026-11-14T08:41:10-05:00,nitrate,mg/L,N,within,")
}

// Exit codes: 3 for --strict with an unreliable reading, 1 when a photo could not
// be read, in one run as in one that finds its output whole or half done.
func TestBatchExitCodes(t *testing.T) {
	bad := many(t)
	for _, c := range []struct {
		dir   string
		flags []string
		want  int
	}{
		{demo, nil, exitOK},
		{demo, []string{"--strict"}, exitUnreliable},
		{demo, []string{"--strict", "--shard", "2/2"}, exitOK},
		{bad, []string{"--strict"}, exitError},
	} {
		for _, table := range []string{"--csv=false", "--csv"} {
			out := filepath.Join(t.TempDir(), "out")
			args := append([]string{"batch", c.dir, table, "--out", out}, c.flags...)
			code, printed, errOut := call(args...)
			assert.Equal(t, c.want, code, errOut)
			assert.Empty(t, printed)
			before := readText(t, out)
			code, _, _ = call(args...)
			assert.Equal(t, exitError, code, "it is there")
			code, _, errOut = call(append(args, "--resume")...)
			assert.Equal(t, c.want, code, errOut)
			code, _, errOut = call(append(args, "--force")...)
			assert.Equal(t, c.want, code, errOut)
			assert.Equal(t, before, readText(t, out))
		}
	}
}

// The output of another run is not taken for this one's.
func TestBatchKnowsItsOutput(t *testing.T) {
	dir := many(t)
	out := filepath.Join(t.TempDir(), "out")
	for _, table := range []string{"--csv=false", "--csv"} {
		code, _, errOut := call("batch", demo, table, "--out", out)
		require.Equal(t, exitOK, code, errOut)
		for _, args := range [][]string{
			{"batch", dir, table}, {"batch", demo, table, "--shard", "1/2"}, {"batch", demo, map[string]string{"--csv": "--csv=false", "--csv=false": "--csv"}[table]},
		} {
			assert.Contains(t, refused(t, append(args, "--resume", "--out", out)...), "out is of another run: ")
		}
		require.NoError(t, os.Remove(out))
	}
	args := []string{"batch", demo, "--out", out}
	for _, flags := range [][]string{{"--chart", "mill-spring"}, {"--max-megapixels", "4"}, {"--csv"}, {"--limit", "who"}, {"--unit", "mg/L as NO3"}, {"--guard", "90"}, {"--dilution", "1+1"}, {"--shard", "1/2"}} {
		j, err := batch.Open(out, batch.OpenOptions{Run: identity(batchOptions{readOptions: readOptions{megapixels: 200}})})
		require.NoError(t, err)
		require.NoError(t, j.Close())
		assert.Contains(t, refused(t, append(append(args, "--resume"), flags...)...), "out.part is of another run: ")
		assert.Contains(t, refused(t, args...), "out.part is there, of a run that did not end; go on with --resume")
		code, _, errOut := call(append(args, "--resume")...)
		assert.Equal(t, exitOK, code, errOut)
		require.NoError(t, os.Remove(out))
	}
}

// BenchmarkBatch reads the demo photo, of 3 megapixels, over and over: on two
// processors two jobs take half the time of one.
func BenchmarkBatch(b *testing.B) {
	for _, jobs := range []int{1, 2, 4} {
		b.Run(fmt.Sprintf("jobs=%d", jobs), func(b *testing.B) {
			o := batchOptions{readOptions: readOptions{megapixels: 200}}
			rows := batch.RowMaker{Read: o.source}
			photos := make([]batch.Photo, b.N)
			for i := range photos {
				photos[i] = batch.Photo{Name: demo + "kitchen.jpg", File: "kitchen.jpg"}
			}
			b.ReportAllocs()
			b.ResetTimer()
			require.NoError(b, batch.Run(b.Context(), photos, jobs, rows.Row, func(r batch.Row) error {
				_, err := io.Discard.Write(r.Data)
				require.Equal(b, batch.Good, r.Outcome, "%s", r.Data)
				return err
			}))
		})
	}
}

// What is wrong with an output is said with the flags that help.
func TestBatchSaysHowToGoOn(t *testing.T) {
	for err, want := range map[error]string{
		&batch.PartError{Name: "o.part"}:                             "o.part is there, of a run that did not end; go on with --resume, or begin again with --force",
		&batch.OtherRunError{Name: "o"}:                              "o is of another run: other photos, flags or another version of the program; give the same, or begin again with --force",
		&batch.BusyError{Name: "o.part"}:                             "o.part is being written by another run; wait for its end, or name another file with --out",
		&batch.FullError{Name: "o.part", Err: errors.New("no room")}: "o.part: cannot be written: no room; make room and go on with --resume",
	} {
		assert.EqualError(t, withGoingOn(err), want)
	}
}

// A run goes on only with the words for light and water that it began with.
func TestRunsOfOtherWordsDiffer(t *testing.T) {
	seen := map[string]bool{}
	for _, said := range []saidOptions{{}, {lamp: charts.LampTube}, {lamp: charts.LampFlash}, {look: charts.WaterTint}} {
		o := batchOptions{}
		o.saidOptions = said
		seen[identity(o)] = true
	}
	assert.Len(t, seen, 4)
}
