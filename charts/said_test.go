package charts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSaidOfLightAndWater(t *testing.T) {
	m, err := ParseMarks([]byte(`{"regions": [{"role": "wet-white", "material": "filter", "rect": [1, 2, 30, 40]}],
		"sample": {"light": "tube", "water": "tint"}}`))
	require.NoError(t, err)
	assert.Equal(t, LampTube, m.Sample.Light)
	assert.Equal(t, WaterTint, m.Sample.Water)
	assert.Equal(t, RoleWetWhite, m.Regions[0].Role)
	data, err := m.Encode()
	require.NoError(t, err)
	again, err := ParseMarks(data)
	require.NoError(t, err)
	assert.Equal(t, m, again)
	for _, wrong := range []string{`{"sample": {"light": "neon"}}`, `{"sample": {"water": "brown"}}`} {
		_, err := ParseMarks([]byte(wrong))
		require.Error(t, err, wrong)
		t.Log(err)
	}
	_, err = ParseMarks([]byte(`{"sample": {"light": "", "water": ""}}`))
	require.NoError(t, err)
}

func TestTypedWordsForLightAndWater(t *testing.T) {
	for text, want := range map[string]Lamp{"": LampUnsaid, "daylight": LampDaylight, " Tube ": LampTube, "flash": LampFlash, "LAMP": LampLamp} {
		l, err := ParseLamp(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, l)
	}
	for text, want := range map[string]Water{" ": WaterUnsaid, "Clear": WaterClear, "tint": WaterTint, "dark": WaterDark, "cloudy": WaterCloudy} {
		w, err := ParseWater(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, w)
	}
	_, err := ParseLamp("neon")
	assert.EqualError(t, err, `is "neon"; write one of daylight, lamp, tube, flash, or leave it out for mixed light`)
	_, err = ParseWater("brown")
	assert.EqualError(t, err, `is "brown"; write one of clear, tint, dark, cloudy, or leave it out where nobody looked`)
}

// Nothing wet is printed on a chart, and a message names a wet white as what it is.
func TestWetWhiteIsOfAPhoto(t *testing.T) {
	_, err := ParseChart([]byte(`{"format": 1, "chart": "x", "analytes": [{"name": "nitrate", "unit": "mg/L", "as": "N",
		"swatches": [{"value": 0}, {"value": 5}]}], "layout": {"cells": [{"role": "wet-white", "rect": [0, 0, 0.1, 0.1]}]}}`))
	assert.ErrorContains(t, err, "layout.cells[0].role: is wet-white, but nothing on the printed chart is soaked")
	assert.Equal(t, "wet white", Mark{Role: RoleWetWhite}.label())
	assert.Equal(t, `wet white "filter"`, Mark{Role: RoleWetWhite, Material: "filter"}.label())
	assert.Equal(t, `white "card"`, Mark{Role: RoleWhite, Material: "card"}.label())
}
