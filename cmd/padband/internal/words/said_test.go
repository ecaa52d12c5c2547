package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/charts"
)

// Every word has its own words, and what nobody said has none.
func TestLightAndWaterAsSaid(t *testing.T) {
	seen := map[string]bool{"": true}
	for _, l := range charts.Lamps() {
		text := Lamp(l)
		assert.False(t, seen[text], text)
		assert.NotEqual(t, string(l), text)
		seen[text] = true
	}
	for _, w := range charts.Waters() {
		text := Water(w)
		assert.False(t, seen[text], text)
		seen[text] = true
	}
	assert.Empty(t, AsSaid(charts.SampleInfo{Place: "kitchen"}, calib.LightReport{}))
	assert.Equal(t, "As was said: taken by daylight.", AsSaid(charts.SampleInfo{Light: charts.LampDaylight}, calib.LightReport{}))
	assert.Equal(t, "As was said: taken by daylight (not used).", AsSaid(charts.SampleInfo{Light: charts.LampDaylight},
		calib.LightReport{Warnings: []calib.Warning{{Code: calib.CodeLightSaid}}}))
	assert.Equal(t, "As was said: the water looked clear.", AsSaid(charts.SampleInfo{Water: charts.WaterClear}, calib.LightReport{}))
	assert.Equal(t, "As was said: taken under a tube; the water looked like weak tea.",
		AsSaid(charts.SampleInfo{Light: charts.LampTube, Water: charts.WaterTint}, calib.LightReport{}))
}
