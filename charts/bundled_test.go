package charts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBundled(t *testing.T) {
	entries, err := bundled.ReadDir("bundled")
	require.NoError(t, err)
	all := Bundled()
	require.Len(t, all, len(entries), "every bundled file must parse")
	for i, c := range all {
		assert.Equal(t, c.Name+".chart.json", entries[i].Name(), "a chart's name is its file's")
		found, ok := Find(c.Name)
		assert.True(t, ok)
		assert.Equal(t, c, found)
		data, ok := BundledFile(c.Name)
		require.True(t, ok)
		encoded, err := c.Encode()
		require.NoError(t, err)
		assert.Equal(t, string(data), string(encoded), "the file is as Encode writes it")
	}
	_, ok := Find("nothing")
	assert.False(t, ok)
	_, ok = BundledFile("../bundled/orchard-well")
	assert.False(t, ok)
}

// TestOrchardWell holds what the demonstration rests on.
func TestOrchardWell(t *testing.T) {
	c, ok := Find("orchard-well")
	require.True(t, ok)
	nitrate, ok := c.Analyte("nitrate")
	require.True(t, ok)
	assert.Equal(t, "mg/L", nitrate.Unit)
	assert.Equal(t, "N", nitrate.As)
	assert.Equal(t, "7 (6-9)", nitrate.Swatches[3].Label)
	var steps []Spacing
	for i := range 5 {
		steps = append(steps, nitrate.Spaced(i))
	}
	assert.Equal(t, []Spacing{SpacingLinear, SpacingLog, SpacingLog, SpacingLinear, SpacingLog}, steps)
	swatches, whites := 0, 0
	for _, m := range c.Layout {
		if m.Role == RoleSwatch {
			swatches++
		} else {
			whites++
		}
	}
	assert.Equal(t, 18, swatches)
	assert.Equal(t, 10, whites)
	_, ok = c.Analyte("lead")
	assert.False(t, ok)
}

func TestMillSpring(t *testing.T) {
	c, ok := Find("mill-spring")
	require.True(t, ok)
	assert.Empty(t, c.Layout, "a chart around a bottle has no layout")
	ph, _ := c.Analyte("pH")
	assert.Equal(t, 4, ph.Parts)
	assert.Nil(t, ph.KitError, "the bundled charts show an absent kit error too")
	nitrite, _ := c.Analyte("nitrite")
	assert.Equal(t, KindPresence, nitrite.Kind)
}

// The pale ends of the bundled charts: reagents for nitrate, nitrite and chlorine grow
// from white, and those for hardness, alkalinity and pH turn from colour to colour.
func TestBundledPaleEnds(t *testing.T) {
	for chart, want := range map[string]map[string]Palest{
		"orchard-well": {"nitrate": PalestLowest, "total hardness": PalestNeither, "pH": PalestNeither},
		"mill-spring":  {"free chlorine": PalestLowest, "total alkalinity": PalestNeither, "nitrite": PalestLowest, "pH": PalestNeither},
	} {
		c, ok := Find(chart)
		require.True(t, ok)
		got := map[string]Palest{}
		for _, a := range c.Analytes {
			got[a.Name] = a.Palest
		}
		assert.Equal(t, want, got, chart)
	}
}
