package page

import (
	"encoding/json"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// What the reading is set against is answered in the reading, and what is wrong
// with the question is told about its field.
func TestReadingAgainstALimit(t *testing.T) {
	r := start(t, "kitchen.jpg", "kitchen.marks.json")
	w := r.kitchen()
	w.Ask = asked{Limits: []string{"us-epa"}, Units: []string{"mg/L as NO3"}}
	status, body := r.post("api/photos/1/reading", w)
	got := ok[readingAnswer](t, status, body)
	assert.Contains(t, got.HTML, "that the water is over 10")
	assert.Contains(t, got.HTML, "In mg/L as NO3: reads 44")
	assert.Contains(t, got.HTML, `<div class="reading-next">`)
	assert.Contains(t, got.JSON, `"verdict":"cannot tell"`)
	assert.Contains(t, got.Say, "Cannot tell")
	assert.Equal(t, []string{"Take a photo 45 to 60 s after the dip, for nitrate, total hardness and pH"}, got.Moments)

	for text, c := range map[string]struct{ field, want string }{
		`{"limits":["much"]}`:         {"limit", "is no set of limits and no limit"},
		`{"limits":["10 mg/L"]}`:      {"limit", "10 mg/L"},
		`{"units":["furlong"]}`:       {"unit", "furlong"},
		`{"units":["uS/cm"]}`:         {"unit", "no analyte of the chart can be given in uS/cm"},
		`{"limits":["9 ug/L as Pb"]}`: {"limit", "fits none of"},
		`{"limits":["who","who","who","who","who","who","who","who","who"]}`: {"", "too many"},
	} {
		w.Ask = asked{}
		require.NoError(t, json.Unmarshal([]byte(text), &w.Ask))
		status, body := r.post("api/photos/1/reading", w)
		assert.Equal(t, http.StatusUnprocessableEntity, status, text)
		var no hosted.Refusal
		require.NoError(t, json.Unmarshal(body, &no))
		assert.Equal(t, c.field, no.Field, text)
		assert.Contains(t, no.Error, c.want)
	}
	r.works()
}

// The saved reading is what the command prints with the same question, and a
// record keeps the question.
func TestSavedAgainstALimit(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole build of the command; left out with -short")
	}
	program := filepath.Join(t.TempDir(), "padband")
	out, err := exec.Command("go", "build", "-ldflags", "-X main.version=test", "-o", program, "padband/cmd/padband").CombinedOutput()
	require.NoError(t, err, string(out))
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	w.Marks = changed(t, w.Marks, func(m map[string]any) { m["sample"].(map[string]any)["dilution"] = "1+1" })
	w.Ask = asked{Limits: []string{"nitrate 20 mg/L as N"}, Units: []string{"ppm as N"}}
	status, body := r.post("api/photos/1/save", w)
	ok[kept](t, status, body)
	saved, err := os.ReadFile(filepath.Join(r.folder, "kitchen.reading.json"))
	require.NoError(t, err)
	assert.Contains(t, string(saved), `"undiluted":{"dilution":"1+1"`)
	said, err := exec.Command(program, "read", "--json", "--limit", "nitrate 20 mg/L as N", "--unit", "ppm as N", filepath.Join(r.folder, "kitchen.jpg")).Output()
	require.NoError(t, err)
	assert.Equal(t, string(said), string(saved))

	status, body = r.sendParts("api/photos/1/keep", partsOf(t, keepWork{work: w, Facts: map[string]string{}}))
	got := ok[keptAnswer](t, status, body)
	res, _ := verified(t, filepath.Join(r.folder, got.Name))
	assert.Equal(t, "nitrate 20 mg/L as N", res.Info.Get("Limit"))
	assert.Equal(t, "ppm as N", res.Info.Get("Unit"))
}

func TestPlanOfAChart(t *testing.T) {
	r := start(t)
	status, body := r.get("api/charts/orchard-well/plan")
	assert.Equal(t, http.StatusOK, status)
	assert.Contains(t, string(body), "Before you dip: Orchard well")
	status, _ = r.get("api/charts/nowhere/plan")
	assert.Equal(t, http.StatusNotFound, status)
}
