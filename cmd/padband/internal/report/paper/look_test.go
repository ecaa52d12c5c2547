package paper_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/history/difference"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/report/sheet"
)

// classesShown are the classes of the elements of pages that have all there is.
func classesShown(t *testing.T) map[string]bool {
	t.Helper()
	worst, faulty := paper.WorstPaper(t), paper.ManyPads(t)
	worst.Sums = []judge.Judgement{{Words: []string{"Under the limit."}, Next: []string{"Test again."}}}
	faulty.Readings[0], faulty.Notes = reporttest.PresencePad(0.3), []charts.Note{{Code: charts.NoteNoPad,
		Text: "no pad is marked for iron: skipped"}}
	s := worst.Source
	s.Notes, s.Readings = faulty.Notes, append(s.Readings[:3:3], reporttest.Forms()...)
	s.Meanings = append(s.Meanings, strip.Meaning{})
	piece, err := report.HTML(s, worst.Crop)
	require.NoError(t, err)
	out := map[string]bool{}
	for _, page := range []func() ([]byte, error){
		func() ([]byte, error) { return []byte(piece), nil },
		func() ([]byte, error) { return paper.Page(worst) },
		func() ([]byte, error) { return paper.Page(faulty) },
		func() ([]byte, error) { return difference.Page(doubtedDifference(t)) },
		func() ([]byte, error) { return report.Plan(worst.Chart, "1") },
	} {
		data, err := page()
		require.NoError(t, err)
		root, err := html.Parse(strings.NewReader(string(data)))
		require.NoError(t, err)
		for n := range root.Descendants() {
			for _, a := range n.Attr {
				if a.Key == "class" {
					for _, c := range strings.Fields(a.Val) {
						out[c] = true
					}
				}
			}
		}
	}
	return out
}

// The look: it styles what the pages have and fetches nothing.
func TestPaperLook(t *testing.T) {
	look := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(sheet.CSS, "")
	assert.NotContains(t, look, "url(")
	assert.NotContains(t, look, "@import")
	assert.NotContains(t, look, "<")
	seen, has := 0, classesShown(t)
	for _, r := range regexp.MustCompile(`([^{};]+)\{`).FindAllStringSubmatch(look, -1) {
		for _, c := range classes.FindAllStringSubmatch(r[1], -1) {
			seen++
			assert.True(t, has[c[1]], "no element has the class %s", c[1])
		}
	}
	assert.Greater(t, seen, 50)
}

var classes = regexp.MustCompile(`\.([a-z-]+)`)

// The look: it styles the sheet's classes and nothing else, and fetches nothing.
func TestLookStylesTheSheetAlone(t *testing.T) {
	data, err := os.ReadFile("../../page/web/reading/reading.css")
	require.NoError(t, err)
	look := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(data), "")
	assert.NotContains(t, look, "url(")
	assert.NotContains(t, look, "@import")
	rules, has := 0, classesShown(t)
	for _, r := range regexp.MustCompile(`([^{};]+)\{`).FindAllStringSubmatch(look, -1) {
		if strings.Contains(r[1], "@media") {
			continue
		}
		for _, selector := range strings.Split(regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(r[1], ""), ",") {
			rules++
			assert.True(t, strings.HasPrefix(strings.TrimSpace(selector), ".reading"), selector)
			for _, c := range classes.FindAllStringSubmatch(selector, -1) {
				assert.True(t, has[c[1]], "no element has the class %s", c[1])
			}
		}
	}
	assert.Greater(t, rules, 30)
}
