package charts

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestChartSurvivesEncoding(t *testing.T) {
	c, err := ParseChart([]byte(goodChart))
	require.NoError(t, err)
	require.NotEmpty(t, c.Layout)
	require.Equal(t, []string{"iron", "nitrate"}, c.Strip)
	require.Equal(t, PalestLowest, c.Analytes[0].Palest)
	require.Equal(t, []Spoiler{{"iron", 0.3, SpoilDisturbs, "a sheet"}, {"nitrate", 80, SpoilBleaches, "b"}}, c.Analytes[0].SpoiledBy)
	require.True(t, c.Analytes[0].BleachesItself())
	require.False(t, c.Analytes[1].BleachesItself())
	data, err := c.Encode()
	require.NoError(t, err)
	back, err := ParseChart(data)
	require.NoError(t, err)
	assert.Equal(t, c, back)
}

func TestMarksSurviveEncoding(t *testing.T) {
	m, err := ParseMarks([]byte(goodMarks))
	require.NoError(t, err)
	require.NotEmpty(t, m.Sample.Kit.Lot)
	require.True(t, m.Sample.BleachRuledOut)
	require.Equal(t, &Looked{By: "A", At: "2026-11-25T14:05:00-05:00", Moved: []string{"pad nitrate"}}, m.Looked)
	data, err := m.Encode()
	require.NoError(t, err)
	back, err := ParseMarks(data)
	require.NoError(t, err)
	assert.Equal(t, m, back)
}

// Marks count as looked at unless their file says otherwise, and only then does a
// written file speak of it.
func TestUncheckedMarksSurviveEncoding(t *testing.T) {
	const region = `"regions": [{"role": "white", "rect": [1, 2, 3, 4]}]`
	for _, c := range []struct {
		said string
		want bool
	}{{"", false}, {`"checked": true, `, false}, {`"checked": false, `, true}} {
		m, err := ParseMarks([]byte("{" + c.said + region + "}"))
		require.NoError(t, err, c.said)
		assert.Equal(t, c.want, m.Unchecked, c.said)
		assert.Nil(t, m.Looked, c.said)
		data, err := m.Encode()
		require.NoError(t, err, c.said)
		assert.Equal(t, c.want, strings.Contains(string(data), "\"checked\": false"), c.said)
		assert.NotContains(t, string(data), "true", c.said)
		back, err := ParseMarks(data)
		require.NoError(t, err, c.said)
		assert.Equal(t, m, back, c.said)
	}
}

// The pads' order is what the chart says; a chart that says none has it from its
// analytes.
func TestPads(t *testing.T) {
	c, err := ParseChart([]byte(goodChart))
	require.NoError(t, err)
	assert.Equal(t, []string{"iron", "nitrate"}, c.Pads())
	c.Strip = nil
	assert.Equal(t, []string{"nitrate", "iron"}, c.Pads())
}

// TestEncodedText holds how a file looks: a list or an object on one line
// while it fits, texts untouched.
func TestEncodedText(t *testing.T) {
	m, err := ParseMarks([]byte(`{"regions": [{"role": "white", "material": "card, \"A\": <1>", "polygon": [[0.5,0],[1,0],[1,1]]}], "sample": {"note": "` + strings.Repeat("n", 140) + `"}}`))
	require.NoError(t, err)
	data, err := m.Encode()
	require.NoError(t, err)
	assert.Equal(t, `{
  "format": 1,
  "regions": [{"role": "white", "material": "card, \"A\": <1>", "polygon": [[0.5, 0], [1, 0], [1, 1]]}],
  "sample": {
    "note": "`+strings.Repeat("n", 140)+`"
  }
}
`, string(data))
}

// TestSwatchesComeSorted: the order in the file does not matter.
func TestSwatchesComeSorted(t *testing.T) {
	c, err := ParseChart([]byte(strings.Replace(goodChart, `{"value": 0}, {"value": 2}, {"value": 5, "label": "five"}`, `{"value": 5, "label": "five"}, {"value": -0.0}, {"value": 2}`, 1)))
	require.NoError(t, err)
	want, err := ParseChart([]byte(goodChart))
	require.NoError(t, err)
	assert.Equal(t, want, c)
	assert.False(t, math.Signbit(c.Analytes[0].Swatches[0].Value), "minus zero is zero")
}

func TestDefaults(t *testing.T) {
	c, err := ParseChart([]byte(`{"chart": "c", "analytes": [{"name": "a", "unit": "mg/L", "swatches": [{"value": 1}, {"value": 2}]}]}`))
	require.NoError(t, err)
	assert.Equal(t, Chart{Format: 1, Name: "c", Analytes: []Analyte{{
		Name: "a", Unit: "mg/L", Kind: KindScale, Spacing: SpacingAuto, Parts: 1, Swatches: []Swatch{{Value: 1}, {Value: 2}},
	}}}, c)
	assert.Equal(t, PalestUnsaid, c.Analytes[0].Palest)
	m, err := ParseMarks([]byte(`{"regions": [{"role": "pad", "analyte": "a", "circle": [1, 2, 3]}, {"role": "white", "circle": [1, 2, 3]}]}`))
	require.NoError(t, err)
	assert.Equal(t, 1, m.Regions[0].Part)
	assert.Equal(t, 0, m.Regions[1].Part)
	assert.Equal(t, 1, m.Format)
}

func TestEncodeRefusesWhatCannotBeReadBack(t *testing.T) {
	for _, c := range []struct {
		chart Chart
		want  string
	}{
		{Chart{}, `chart "": chart: is empty; write a name`},
		{Chart{Name: "c"}, `chart "c": analytes: holds no analyte; add one`},
		{Chart{Name: "c", Analytes: []Analyte{scale("mg/L", SpacingAuto, 1, math.NaN())}}, `chart "c": json: unsupported value: NaN`},
	} {
		data, err := c.chart.Encode()
		assert.EqualError(t, err, c.want)
		assert.Nil(t, data)
	}
	_, err := Marks{Regions: []Mark{{Role: RoleWhite}}}.Encode()
	assert.EqualError(t, err, "marks: regions[0]: has no shape; add polygon, rect or circle")
}
