package main

import (
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// root is the module's folder, seen from here.
const root = "../../"

func readText(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

// commandsOf returns the lines of a document's only block of shell commands.
func commandsOf(t *testing.T, name string) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(blockOf(t, name, "sh"), "\n"), "\n")
}

// trueValues are the demonstration photo's true values by analyte.
func trueValues(t *testing.T, photo string) map[string]float64 {
	t.Helper()
	r := csv.NewReader(strings.NewReader(readText(t, root+"testdata/demo/truth.csv")))
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	out := map[string]float64{}
	for _, row := range rows[1:] {
		if row[0] == photo {
			out[row[1]], err = strconv.ParseFloat(row[4], 64)
			require.NoError(t, err)
		}
	}
	return out
}

// A newcomer copies the two commands of the README: the first reads the demo
// photo, each band covering the truth; the second is the test of everything,
// which here would run itself.
func TestReadmeCommands(t *testing.T) {
	commands := commandsOf(t, "README.md")
	require.Len(t, commands, 2)
	assert.Equal(t, "go test -timeout 30m ./...", commands[1])
	cmd := exec.Command("sh", "-c", commands[0])
	cmd.Dir = root
	out, err := cmd.Output()
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(out), "kitchen.jpg, "), "%s", out)
	truth := trueValues(t, "kitchen.jpg")
	for _, analyte := range []string{"nitrate", "total hardness", "pH"} {
		v, known := truth[analyte]
		require.True(t, known, analyte)
		reading := regexp.MustCompile(`(?m)^(?i:` + analyte + `).* (Clear|Doubtful) reading\n  Between ([0-9.]+) and ([0-9.]+); reads ([0-9.]+)\. Colour read as ([0-9.]+) to ([0-9.]+)\.$`)
		m := reading.FindStringSubmatch(string(out))
		require.NotNil(t, m, "%s is not read in:\n%s", analyte, out)
		var n [7]float64
		for i := 2; i < 7; i++ {
			n[i], err = strconv.ParseFloat(m[i], 64)
			require.NoError(t, err)
		}
		assert.True(t, n[2] <= n[4] && n[4] <= n[3], "%s: %v between %v and %v", analyte, n[4], n[2], n[3])
		assert.True(t, n[5] <= v && v <= n[6], "%s: the truth %v in %v to %v", analyte, v, n[5], n[6])
	}
}

// fingerprints differ with the day and the version of Go.
var fingerprints = regexp.MustCompile(`\b[0-9a-f]{4}( [0-9a-f]{4}){4}\b`)

// sessions returns what a document shows on a console: the words after padband
// of each call, and what it prints.
func sessions(t *testing.T, doc string) (out [][2]string) {
	t.Helper()
	for _, m := range regexp.MustCompile("(?ms)^```console\n\\$ padband (.*?)\n(.*?)^```$").FindAllStringSubmatch(doc, -1) {
		out = append(out, [2]string{m[1], m[2]})
	}
	require.Len(t, out, strings.Count(doc, "```console\n"))
	return out
}

// The README and the guide's pages show what a call prints: each page's calls
// are made in order and in a folder of their own.
func TestConsolesOfReadmeAndGuide(t *testing.T) {
	testdata, err := filepath.Abs(root + "testdata")
	require.NoError(t, err)
	all := 0
	for _, page := range append(guidePages(t), "README.md") {
		calls := sessions(t, readText(t, root+page))
		all += len(calls)
		t.Run(page, func(t *testing.T) {
			t.Chdir(t.TempDir())
			require.NoError(t, os.Symlink(testdata, "testdata"))
			for _, c := range calls {
				code, out, errOut := call(strings.Fields(c[0])...)
				assert.Equal(t, 0, code, errOut)
				assert.Equal(t, c[1], fingerprints.ReplaceAllString(out, "0000 0000 0000 0000 0000"), "padband %s", c[0])
			}
		})
	}
	assert.Greater(t, all, 6)
}

// blockOf returns a document's only block of that kind.
func blockOf(t *testing.T, name, kind string) string {
	t.Helper()
	blocks := regexp.MustCompile("(?ms)^```"+kind+"\n(.*?)^```$").FindAllStringSubmatch(readText(t, root+name), -1)
	require.Len(t, blocks, 1, name)
	return blocks[0][1]
}

// TestGuideFiles parses the marks and the chart that the guide shows.
func TestGuideFiles(t *testing.T) {
	m, err := charts.ParseMarks([]byte(blockOf(t, "cmd/padband/guide/marks.md", "json")))
	require.NoError(t, err)
	assert.Len(t, m.Regions, 2)
	assert.Len(t, m.Corners, 4)
	c, err := charts.ParseChart([]byte(blockOf(t, "cmd/padband/guide/charts.md", "json")))
	require.NoError(t, err)
	assert.Len(t, c.Analytes[0].Swatches, 6)
}

// guidePages are the Markdown files of the guide, seen from the module's folder.
func guidePages(t *testing.T) (out []string) {
	t.Helper()
	files, err := filepath.Glob("guide/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		out = append(out, "cmd/padband/"+filepath.ToSlash(f))
	}
	return out
}

// documents are the texts that tell a person what to type.
func documents(t *testing.T) []string {
	return append(guidePages(t), "README.md", "DEVELOPERS.md", "calib/scene/README.md", ".ci/run")
}

// testsIn returns the names of a folder's tests, fuzz targets and benchmarks.
func testsIn(t *testing.T, folder string) (out []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
	require.NoError(t, err)
	declared := regexp.MustCompile(`(?m)^func ((?:Test|Fuzz|Benchmark)\w*)\(`)
	for _, f := range files {
		for _, m := range declared.FindAllStringSubmatch(readText(t, f), -1) {
			out = append(out, m[1])
		}
	}
	return out
}

// everyTest is [testsIn] of all packages.
func everyTest(t *testing.T) (out []string) {
	t.Helper()
	for _, p := range listPackages(t) {
		out = append(out, testsIn(t, p.Dir)...)
	}
	return out
}

// What the documents tell to type names folders, tests and fuzz targets that exist.
func TestDocumentsNameWhatExists(t *testing.T) {
	folder := regexp.MustCompile("[ '\"`](\\./\\w[\\w/]*)")
	chosen := regexp.MustCompile(`go test (\./\w[\w/]*) .*-(?:run|fuzz) '?\^?((?:Fuzz)?[A-Z]\w*)`)
	folders, tests := 0, 0
	for _, name := range documents(t) {
		text := readText(t, root+name)
		for _, m := range folder.FindAllStringSubmatch(text, -1) {
			assert.DirExists(t, root+m[1], name)
			folders++
		}
		for _, m := range chosen.FindAllStringSubmatch(text, -1) {
			assert.Contains(t, strings.Join(testsIn(t, root+m[1]), " "), m[2], "%s: %s", name, m[0])
			tests++
		}
	}
	assert.Greater(t, folders, 8)
	assert.Greater(t, tests, 2)
	assert.Contains(t, readText(t, root+"calib/scene/demo.go"), "//go:generate ", "DEVELOPERS.md: go generate ./calib/scene")
}

// The contributor's guide's table of folders is the list of packages, and its
// row of fuzz targets, like the check's, is all there are.
func TestDevelopersGuideListsAllPackagesAndFuzzTargets(t *testing.T) {
	guide := readText(t, root+"DEVELOPERS.md")
	_, house, found := strings.Cut(guide, "\n## The house\n")
	require.True(t, found)
	house, _, _ = strings.Cut(house, "\n## ")
	var rows []string
	for _, m := range regexp.MustCompile("(?m)^\\| `([\\w/]+)` \\|").FindAllStringSubmatch(house, -1) {
		assert.DirExists(t, root+m[1])
		rows = append(rows, m[1])
	}
	for _, p := range listPackages(t) {
		name := strings.TrimPrefix(p.ImportPath, "padband/")
		assert.Contains(t, rows, name)
		for _, f := range testsIn(t, p.Dir) {
			if strings.HasPrefix(f, "Fuzz") {
				assert.Contains(t, guide, "`"+f+"`")
			}
		}
	}
	for _, m := range regexp.MustCompile("`(Fuzz\\w+)`").FindAllStringSubmatch(guide, -1) {
		assert.Contains(t, everyTest(t), m[1])
	}
	for _, m := range regexp.MustCompile("`(Test\\w+)` in `([\\w/]+)`").FindAllStringSubmatch(guide, -1) {
		assert.Contains(t, testsIn(t, root+m[2]), m[1])
	}
}
