package input

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// Each fault of a photo's chart is told from the others.
func TestChartFaults(t *testing.T) {
	dir := t.TempDir()
	photo := filepath.Join(dir, "p.jpg")
	put := func(name, text string) {
		t.Helper()
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+ChartEnding), []byte(text), 0o600))
	}
	faulty := func(chart string, want ChartFault, text string) {
		t.Helper()
		_, err := Chart(photo, "", charts.Marks{Chart: chart})
		var fault *ChartError
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, want, fault.Fault)
		assert.ErrorContains(t, err, text)
	}
	faulty("", Unnamed, "the marks name no chart and ")
	faulty("mine", Nowhere, `there is no chart "mine" beside the photo`)
	put("a", "{")
	faulty("mine", Broken, "a broken chart file is there: ")
	put("b", someChart)
	put("c", strings.Replace(someChart, "}, {", "}, {\"value\": 2}, {", 1))
	faulty("mine", Double, `b.chart.json and c.chart.json are both the chart "mine"`)
}

// Two files of one name are told apart by their folders; others bear none.
func TestCalled(t *testing.T) {
	all := []string{"early/a.jpg", "late/a.jpg", "late/b.jpg"}
	for name, want := range map[string]string{"early/a.jpg": "early/a.jpg", "late/b.jpg": "b.jpg"} {
		assert.Equal(t, want, Called(name, all))
	}
	assert.Equal(t, []string{"a.jpg", `"a\n.jpg"`}, ShownAll([]string{"a.jpg", "a\n.jpg"}))
}

func TestMarkedFirst(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	for _, n := range []string{"b", "d"} {
		require.NoError(t, os.WriteFile(in(n+MarksEnding), []byte("{}"), 0o600))
	}
	photos := []string{in("a.jpg"), in("b.jpg"), in("c.jpg"), in("d.jpg")}
	assert.Equal(t, []string{in("b.jpg"), in("d.jpg"), in("a.jpg"), in("c.jpg")}, MarkedFirst(photos))
	assert.Equal(t, in("a.jpg"), photos[0], "the caller's stay")
}
