package main

import (
	"bytes"
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/outlined"
)

// demoOutline are the demonstration's true marks, each swatch a region of its own.
func demoOutline(t *testing.T) charts.Marks {
	t.Helper()
	m, _, err := input.Marks(demoKitchen, "")
	require.NoError(t, err)
	c, ok := charts.Find("orchard-well")
	require.True(t, ok)
	cells, err := m.Cells(c, m.Photo.Width, m.Photo.Height)
	require.NoError(t, err)
	return charts.Marks{Regions: slices.Concat(m.Regions, cells)}
}

// finds is a finder that returns the same whatever it is shown.
func finds(o outline.Outline) outlined.Finder {
	return func(image.Image, int, int, charts.Chart) outline.Outline { return o }
}

// callFinding is [call] with another way to look for a chart.
func callFinding(find outlined.Finder, args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = env{in: strings.NewReader(""), out: &o, err: &e, finder: find}.dispatch(args)
	return code, o.String(), e.String()
}

// bareFolder holds the demo photo under these names, without marks.
func bareFolder(t *testing.T, names ...string) string {
	t.Helper()
	dir := t.TempDir()
	data := readText(t, demoKitchen)
	for _, n := range names {
		write(t, filepath.Join(dir, n), []byte(data))
	}
	return dir
}

// What was found lies beside the photo, unlooked at, and can be read: the warning stands
// at each pad until the marks say that somebody looked.
func TestOutlineWritesMarks(t *testing.T) {
	dir := bareFolder(t, "p.jpg", "q.jpg")
	p, q := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "q.jpg")
	m := demoOutline(t)
	code, out, errOut := callFinding(finds(outline.Outline{Marks: &m}), "outline", p, q, "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	assert.Empty(t, errOut)
	assert.Contains(t, out, "p.jpg, outlined as \"Orchard well, three pads\"\n  Found: 3 of 3 pads, 18 of 18 swatches and 3 white areas.\n")
	assert.Contains(t, out, "\n\nq.jpg, outlined as")
	for _, l := range strings.Split(out, "\n") {
		if !strings.Contains(l, dir) { // the temporary folder's own name is long
			assert.LessOrEqual(t, len([]rune(l)), 80, l)
		}
	}
	written, _, err := input.Marks(p, "")
	require.NoError(t, err)
	assert.True(t, written.Unchecked)
	assert.Equal(t, "orchard-well", written.Chart)
	assert.Equal(t, charts.PhotoRef{Width: 2016, Height: 1512, SHA256: "54ed5e82673607ec2203c7a06a7cdf6a11e5944c22525c6f97d4fead5676f36f"},
		written.Photo)
	code, out, errOut = call("read", p, "--limit", "us-epa")
	require.Zero(t, code, errOut)
	assert.Equal(t, 3, strings.Count(out, "[marks-unchecked]"))
	looked := strings.Replace(readText(t, filepath.Join(dir, "p.marks.json")), "\"checked\": false", "\"checked\": true", 1)
	write(t, filepath.Join(dir, "p.marks.json"), []byte(looked))
	code, later, errOut := call("read", p, "--limit", "us-epa")
	require.Zero(t, code, errOut)
	assert.NotContains(t, later, "unchecked")
	reads := regexp.MustCompile(`(?m)^  Between .*$`)
	require.Len(t, reads.FindAllString(out, -1), 3)
	assert.Equal(t, reads.FindAllString(out, -1), reads.FindAllString(later, -1), "no figure moves")
}

// No file is written over marks that are there, and by force what they say of the
// sample and which chart they name stays.
func TestOutlineOverMarks(t *testing.T) {
	dir := folder(t, "orchard-well")
	p, file := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "p.marks.json")
	was, m := readText(t, file), demoOutline(t)
	find := finds(outline.Outline{Marks: &m})
	code, out, errOut := callFinding(find, "outline", p)
	assert.Equal(t, exitError, code)
	assert.Empty(t, out)
	assert.Equal(t, "padband: "+p+": "+file+" is there already; look at it with padband mark, or replace it with --force\n", errOut)
	assert.Equal(t, was, readText(t, file))

	code, _, errOut = callFinding(find, "outline", p, "--force")
	require.Zero(t, code, errOut)
	got, _, err := input.Marks(p, "")
	require.NoError(t, err)
	assert.True(t, got.Unchecked)
	assert.Equal(t, "kitchen", got.Sample.Place)
	assert.Equal(t, "OW-2418", got.Sample.Kit.Lot)

	write(t, file, []byte("{broken"))
	code, _, errOut = callFinding(find, "outline", p, "--force")
	assert.Equal(t, exitError, code, "broken marks name no chart")
	assert.Contains(t, errOut, "name a chart with --chart")
	code, _, errOut = callFinding(find, "outline", p, "--force", "--chart", "orchard-well")
	require.Zero(t, code, errOut)

	// Two photos of one stem have one marks file; the second does not take it by force.
	write(t, filepath.Join(dir, "p.jpeg"), []byte(readText(t, p)))
	code, out, errOut = callFinding(find, "outline", p, filepath.Join(dir, "p.jpeg"), "--force")
	assert.Equal(t, exitError, code)
	assert.Equal(t, 1, strings.Count(out, "Wrote"))
	assert.Contains(t, errOut, "p.marks.json was written for "+p+" just now; outline photos of one name in folders of their own\n")
}

// Questions are printed with their answers, the file holds the best guess, and by
// --json all of it is printed and nothing is written.
func TestOutlineAsks(t *testing.T) {
	dir := bareFolder(t, "p.jpg", "q.jpg")
	p, q := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "q.jpg")
	m := demoOutline(t)
	find := finds(outline.Outline{Marks: &m, Questions: []outline.Question{{Code: outline.AskStripEnd, Answers: []outline.Answer{
		{Choice: outline.ChoiceAsShown, Marks: m}, {Choice: outline.ChoiceNone, Marks: m}}}}})
	code, out, errOut := callFinding(find, "outline", "--json", p, q, "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	rows := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, rows, 2)
	for i, row := range rows {
		var doc struct {
			Photo     struct{ File string }
			Marks     json.RawMessage
			Questions []struct{ Code, Text string }
		}
		require.NoError(t, json.Unmarshal([]byte(row), &doc))
		assert.Equal(t, []string{"p.jpg", "q.jpg"}[i], doc.Photo.File)
		assert.Equal(t, "strip-end", doc.Questions[0].Code)
		_, err := charts.ParseMarks(doc.Marks)
		assert.NoError(t, err)
	}
	assert.NoFileExists(t, filepath.Join(dir, "p.marks.json"))

	code, out, errOut = callFinding(find, "outline", p, "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "  ? Which end of the strip is its tip, the end that was dipped?\n"+
		"    - The top end: from there come nitrate, total hardness and pH (marked so\n      now).\n"+
		"    - None of these: it is to be marked by hand.\n"+
		"  Wrote p.marks.json with the best guess; what is asked above is for you to say.\n")
	assert.FileExists(t, filepath.Join(dir, "p.marks.json"))
}

// Nothing found is one line and exit code 1, and one object and exit code 0 by --json;
// it does not stop the other photos.
func TestOutlineFindsNothing(t *testing.T) {
	dir := bareFolder(t, "p.jpg", "q.jpg")
	p, q := filepath.Join(dir, "p.jpg"), filepath.Join(dir, "q.jpg")
	m, calls := demoOutline(t), 0
	find := func(image.Image, int, int, charts.Chart) outline.Outline {
		if calls++; calls%2 == 1 {
			return outline.Outline{Why: outline.Why{Code: outline.WhyRows, Found: 1, Wanted: 3}}
		}
		return outline.Outline{Marks: &m}
	}
	code, out, errOut := callFinding(find, "outline", p, q, "--chart", "orchard-well")
	assert.Equal(t, exitError, code)
	assert.True(t, strings.HasPrefix(out, "q.jpg, outlined as"), out)
	assert.Equal(t, "padband: "+p+": 1 row was found, and the chart has 3; take the whole chart and the strip, sharp and without shine, "+
		"or mark it by hand with padband mark "+p+"\n", errOut)
	assert.NoFileExists(t, filepath.Join(dir, "p.marks.json"))
	calls = 0
	code, out, errOut = callFinding(find, "outline", p, "--json", "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, `"marks":null`)
	assert.Contains(t, out, `"why_not":"1 row was found, and the chart has 3."`)
}

// A wrong call and a chart that is not there are told before a photo is looked at.
func TestOutlineCalls(t *testing.T) {
	dir := bareFolder(t, "p.jpg")
	p := filepath.Join(dir, "p.jpg")
	never := func(image.Image, int, int, charts.Chart) outline.Outline {
		t.Fatal("nothing is to be looked for")
		return outline.Outline{}
	}
	for _, k := range []struct {
		code int
		want string
		args []string
	}{
		{exitUsage, "name a photo to outline", nil},
		{exitUsage, "--json writes no file, so --force has nothing to replace", []string{p, "--json", "--force"}},
		{exitUsage, "--chart takes a file; only the photo can come from standard input", []string{p, "--chart", "-"}},
		{exitUsage, "a photo from standard input is outlined alone: write - once, and other photos in calls of their own", []string{"-", p}},
		{exitUsage, "no file lies beside a photo from standard input: name its chart with --chart, and print with --json", []string{"-", "--json"}},
		{exitUsage, "--max-megapixels must be from 1 to 1000", []string{p, "--max-megapixels", "0"}},
		{exitError, "nothing: no chart file and no bundled chart of this name; bundled: mill-spring, orchard-well", []string{p, "--chart", "nothing"}},
		{exitError, p + ": which chart it shows is not known, and " + filepath.Join(dir, "p.chart.json") + " is not there; name a chart with --chart",
			[]string{p}},
		{exitError, dir + ": is a folder; name a file", []string{dir, "--chart", "orchard-well"}},
		{exitError, p + ": the photo is too large: 2016 x 1512 is 3.0 megapixels, the limit is 1.0: make it smaller or raise the limit with --max-megapixels",
			[]string{p, "--chart", "orchard-well", "--max-megapixels", "1"}},
		{exitError, "standard input: nothing came; send the whole photo into it, or name the photo's file",
			[]string{"-", "--chart", "orchard-well", "--json"}},
	} {
		code, out, errOut := callFinding(never, append([]string{"outline"}, k.args...)...)
		assert.Equal(t, k.code, code, k.args)
		assert.Empty(t, out)
		said := strings.Split(strings.TrimSpace(errOut), "\n")
		assert.Equal(t, "padband: "+k.want, said[len(said)-1])
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1, "nothing was written")
}

// A photo's own chart file names its chart, and standard input is outlined like a file.
func TestOutlineFindsTheChart(t *testing.T) {
	dir := bareFolder(t, "p.jpg")
	p, m := filepath.Join(dir, "p.jpg"), demoOutline(t)
	data, _ := charts.BundledFile("orchard-well")
	write(t, filepath.Join(dir, "p.chart.json"), []byte(strings.Replace(string(data), "orchard-well", "mine", 1)))
	code, _, errOut := callFinding(finds(outline.Outline{Marks: &m}), "outline", p)
	require.Zero(t, code, errOut)
	written, _, err := input.Marks(p, "")
	require.NoError(t, err)
	assert.Equal(t, "mine", written.Chart)

	var o, e bytes.Buffer
	code = env{in: strings.NewReader(readText(t, demoKitchen)), out: &o, err: &e, finder: finds(outline.Outline{Marks: &m})}.
		dispatch([]string{"outline", "-", "--chart", "orchard-well", "--json"})
	require.Zero(t, code, e.String())
	assert.Contains(t, o.String(), `"file":"standard input","sha256":"54ed5e82`)
}
