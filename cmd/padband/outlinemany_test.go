package main

import (
	"encoding/csv"
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/outlined"
)

// mixed is a folder with one photo that is marked and one that is not, each with a chart
// of its own name.
func mixed(t *testing.T) string {
	t.Helper()
	dir := folder(t, "orchard-well")
	write(t, filepath.Join(dir, "q.jpg"), []byte(readText(t, demoKitchen)))
	return dir
}

// rowsOf runs a batch as a table: columns by name.
func rowsOf(t *testing.T, find outlined.Finder, args ...string) (rows []map[string]string, code int) {
	t.Helper()
	code, out, _ := callFinding(find, append([]string{"batch", "--csv"}, args...)...)
	all, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = r[i]
		}
		rows = append(rows, row)
	}
	return rows, code
}

// Photos without marks are read on what was found where nothing is asked; each row says
// whether somebody looked, and nothing is written beside the photos.
func TestBatchOutlines(t *testing.T) {
	dir, m := mixed(t), demoOutline(t)
	sure := finds(outline.Outline{Marks: &m})
	rows, code := rowsOf(t, sure, dir, "--outline", "--chart", "orchard-well")
	assert.Zero(t, code)
	require.Len(t, rows, 6)
	for i, row := range rows {
		assert.Empty(t, row["error"])
		assert.NotEmpty(t, row["value"])
		if i < 3 {
			assert.Equal(t, []string{"p.jpg", "yes", "good"}, []string{row["photo"], row["marks_checked"], row["reliability"]})
			assert.NotContains(t, row["warnings"], "marks-unchecked")
		} else {
			assert.Equal(t, []string{"q.jpg", "no", "caution"}, []string{row["photo"], row["marks_checked"], row["reliability"]})
			assert.Contains(t, row["warnings"], "marks-unchecked")
		}
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 3, "two photos and the marks of one")

	never := func(image.Image, int, int, charts.Chart) outline.Outline {
		t.Error("nothing is to be looked for")
		return outline.Outline{}
	}
	rows, code = rowsOf(t, never, dir, "--chart", "orchard-well")
	assert.Zero(t, code)
	assert.Len(t, rows, 3, "without the flag the photo without marks is passed over")

	code, out, errOut := callFinding(sure, "batch", dir, "--outline", "--chart", "orchard-well")
	require.Zero(t, code, errOut)
	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, lines, 2)
	assert.NotContains(t, lines[0], "marks-unchecked")
	assert.Contains(t, lines[1], `"code":"marks-unchecked"`)
}

// Where something is asked or missing, the row says what.
func TestBatchTakesOnlySureOutlines(t *testing.T) {
	dir, m := mixed(t), demoOutline(t)
	q := filepath.Join(dir, "q.jpg")
	asks := outline.Outline{Marks: &m, Questions: []outline.Question{{Code: outline.AskDirection, Analytes: []string{"nitrate"},
		Answers: []outline.Answer{{Choice: outline.ChoiceAsShown, Marks: m}}}}}
	for _, k := range []struct {
		found outline.Outline
		chart []string
		want  string
	}{
		{asks, []string{"--chart", "orchard-well"}, "its outlines are to be looked at first, with padband mark " + q +
			": which end of the row of nitrate is 0?"},
		{outline.Outline{Why: outline.Why{Code: outline.WhyNoPatches}}, []string{"--chart", "orchard-well"},
			"no flat patches that could be the chart were found; take the whole chart and the strip, sharp and without shine, or mark it " +
				"by hand with padband mark " + q},
		{outline.Outline{Marks: &m, Why: outline.Why{Code: outline.WhyNoStrip}}, []string{"--chart", "orchard-well"},
			"the chart was found, and no strip; take the whole chart and the strip, sharp and without shine, or mark it by hand with " +
				"padband mark " + q},
		{outline.Outline{Marks: &m}, nil, "which chart it shows is not known, and " + filepath.Join(dir, "q.chart.json") +
			" is not there; name a chart with --chart"},
	} {
		rows, code := rowsOf(t, finds(k.found), append([]string{dir, "--outline"}, k.chart...)...)
		assert.Equal(t, exitError, code)
		require.Len(t, rows, 4)
		assert.Equal(t, "q.jpg", rows[3]["photo"])
		assert.Equal(t, k.want, rows[3]["error"])
		assert.Empty(t, rows[3]["value"])
		_, out, _ := callFinding(finds(k.found), append([]string{"batch", dir, "--outline"}, k.chart...)...)
		var row struct{ Error string }
		require.NoError(t, json.Unmarshal([]byte(strings.Split(out, "\n")[1]), &row))
		assert.Equal(t, k.want, row.Error)
	}
}

// A run that outlines is another run than one that does not: neither goes on with the
// other's rows.
func TestOutliningIsAnotherRun(t *testing.T) {
	one := batchOptions{}
	two := batchOptions{outline: true}
	assert.NotEqual(t, identity(one), identity(two))
}
