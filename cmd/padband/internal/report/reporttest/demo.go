package reporttest

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib/strip"
	"padband/charts"
)

// ReadDemo reads one of the two demonstration photos: "kitchen" in good light,
// "cellar" in bad.
func ReadDemo(t *testing.T, name string) *strip.Result {
	t.Helper()
	return AskDemo(t, name, strip.Ask{})
}

// AskDemo reads one of them with what is asked of it, such as limits to hold it
// against.
func AskDemo(t *testing.T, name string, ask strip.Ask) *strip.Result {
	t.Helper()
	return AskDipped(t, name, "", ask)
}

// AskDipped is [AskDemo] for a strip that was dipped at a time, where one is given.
func AskDipped(t *testing.T, name, dipped string, ask strip.Ask) *strip.Result {
	t.Helper()
	data := fromTop(t, "testdata/demo/"+name+".jpg")
	marks, err := charts.ParseMarks(fromTop(t, "testdata/demo/"+name+".marks.json"))
	require.NoError(t, err)
	chart, err := charts.ParseChart(fromTop(t, "charts/bundled/orchard-well.chart.json"))
	require.NoError(t, err)
	if dipped != "" {
		marks.Sample.Dipped = dipped
	}
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart, Marks: marks, Ask: ask, Whole: true})
	require.NoError(t, err)
	return r
}

// fromTop is a file of the project, by its name from the top folder.
func fromTop(t *testing.T, name string) []byte {
	t.Helper()
	for top := "."; len(top) < 30; top = filepath.Join(top, "..") {
		if _, err := os.Stat(filepath.Join(top, "go.mod")); err == nil {
			data, err := os.ReadFile(filepath.Join(top, name))
			require.NoError(t, err)
			return data
		}
	}
	require.Fail(t, "no go.mod is found above this folder")
	return nil
}
