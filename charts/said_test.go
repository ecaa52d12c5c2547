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
