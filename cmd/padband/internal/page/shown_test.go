package page

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// The page to show holds the readings with their pictures, loads nothing, and does not
// hold what the photo says of its place.
func TestShownIsOnePageThatLoadsNothing(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	status, body := r.post("api/photos/1/reading", w)
	reading := ok[readingAnswer](t, status, body)
	type page struct{ Name, Text string }
	status, body = r.post("api/photos/1/shown", w)
	got := ok[page](t, status, body)
	assert.Equal(t, "kitchen.reading.html", got.Name)
	assert.Contains(t, got.Text, "Photo kitchen.jpg, chart Orchard well, three pads.")
	assert.Contains(t, got.Text, "A strip is a screening test.")
	for _, part := range strings.Split(reading.HTML, "<img")[:1] {
		assert.Contains(t, got.Text, part, "the words of the page")
	}
	doc, err := html.Parse(strings.NewReader(got.Text))
	assert.NoError(t, err)
	pictures := 0
	for n := range doc.Descendants() {
		assert.NotContains(t, []string{"script", "link", "iframe", "form"}, n.Data)
		for _, a := range n.Attr {
			switch a.Key {
			case "src":
				assert.True(t, strings.HasPrefix(a.Val, "data:image/"), a.Val[:min(len(a.Val), 40)])
				pictures++
			case "href", "action", "onclick":
				assert.Fail(t, "the page leads elsewhere", a.Val)
			}
		}
	}
	assert.GreaterOrEqual(t, pictures, 9)
}

// Whatever a person typed of the sample stands on the page as text.
func TestShownEscapesWhatWasTyped(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	var marks map[string]any
	require.NoError(t, json.Unmarshal(w.Marks, &marks))
	marks["sample"] = map[string]string{"place": "<script>alert(1)</script>"}
	data, err := json.Marshal(marks)
	require.NoError(t, err)
	w.Marks = data
	status, body := r.post("api/photos/1/shown", w)
	got := ok[struct{ Text string }](t, status, body)
	assert.Contains(t, got.Text, "&lt;script&gt;alert(1)&lt;/script&gt;")
	assert.NotContains(t, got.Text, "<script>")
}
