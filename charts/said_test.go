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
