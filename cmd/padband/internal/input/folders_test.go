package input

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

const someChart = `{"chart": "mine", "analytes": [{"name": "nitrate", "unit": "mg/L", "as": "N", "swatches": [{"value": 0}, {"value": 5}]}]}`

// A folder is looked into once: a chart that comes later is not seen by the one
// who remembers, and is by the one who does not. A folder that cannot be looked
// into is tried again.
func TestFoldersAreLookedIntoOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "photos")
	photo, marks := filepath.Join(dir, "p.jpg"), charts.Marks{Chart: "mine"}
	var f Folders
	_, err := f.Chart(photo, "", marks)
	assert.ErrorContains(t, err, "the folder ")
	require.NoError(t, os.Mkdir(dir, 0o700))
	_, err = f.Chart(photo, "", marks)
	assert.ErrorContains(t, err, `there is no chart "mine"`)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "some"+ChartEnding), []byte(someChart), 0o600))
	_, err = f.Chart(photo, "", marks)
	assert.ErrorContains(t, err, `there is no chart "mine"`)
	c, err := Chart(photo, "", marks)
	require.NoError(t, err)
	again, err := new(Folders).Chart(photo, "", marks)
	require.NoError(t, err)
	assert.Equal(t, "mine", c.Name)
	assert.Equal(t, c, again)
}
