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
func commandsOf(t *testing.T, doc string) []string {
	t.Helper()
	blocks := regexp.MustCompile("(?ms)^```sh\n(.*?)^```$").FindAllStringSubmatch(doc, -1)
	require.Len(t, blocks, 1)
	return strings.Split(strings.TrimSuffix(blocks[0][1], "\n"), "\n")
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
	commands := commandsOf(t, readText(t, root+"README.md"))
	require.Len(t, commands, 2)
	assert.Equal(t, "go test ./...", commands[1])
	cmd := exec.Command("sh", "-c", commands[0])
	cmd.Dir = root
	out, err := cmd.Output()
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(out), "kitchen.jpg, "), "%s", out)
	truth := trueValues(t, "kitchen.jpg")
	for _, analyte := range []string{"nitrate", "total hardness", "pH"} {
		v, known := truth[analyte]
		require.True(t, known, analyte)
		reading := regexp.MustCompile(`(?m)^(?i:` + analyte + `).* (Good|Caution)\n  Between ([0-9.]+) and ([0-9.]+); reads ([0-9.]+); band ([0-9.]+) to ([0-9.]+)\.$`)
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

// TestReadmeConsole runs what the README shows on a console, in order and in a
// folder of its own; what it prints stands in the README.
func TestReadmeConsole(t *testing.T) {
	doc := readText(t, root+"README.md")
	blocks := regexp.MustCompile("(?ms)^```console\n\\$ padband (.*?)\n(.*?)^```$").FindAllStringSubmatch(doc, -1)
	require.Len(t, blocks, strings.Count(doc, "```console\n"))
	require.Greater(t, len(blocks), 3)
	testdata, err := filepath.Abs(root + "testdata")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.Symlink(testdata, "testdata"))
	for _, b := range blocks {
		code, out, errOut := call(strings.Fields(b[1])...)
		assert.Equal(t, 0, code, errOut)
		assert.Equal(t, b[2], fingerprints.ReplaceAllString(out, "0000 0000 0000 0000 0000"), "padband %s", b[1])
	}
}

// TestReadmeFiles parses the marks and the chart that the README shows.
func TestReadmeFiles(t *testing.T) {
	blocks := regexp.MustCompile("(?ms)^```json\n(.*?)^```$").FindAllStringSubmatch(readText(t, root+"README.md"), -1)
	require.Len(t, blocks, 2)
	m, err := charts.ParseMarks([]byte(blocks[0][1]))
	require.NoError(t, err)
	assert.Len(t, m.Regions, 2)
	assert.Len(t, m.Corners, 4)
	c, err := charts.ParseChart([]byte(blocks[1][1]))
	require.NoError(t, err)
	assert.Len(t, c.Analytes[0].Swatches, 6)
}

// documents are the texts that tell a contributor what to type.
var documents = []string{"README.md", "DEVELOPERS.md", ".ci/run"}

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
	for _, name := range documents {
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

// The guide's table of folders is the list of packages, and its row of fuzz
// targets, like the check's, is all there are.
func TestGuideListsAllPackagesAndFuzzTargets(t *testing.T) {
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
