package charts

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written is a chart's file as a person may have written it.
const written = `{ "chart":"mine" , "analytes": [ {"name":"pH","unit":"pH","swatches":[{"value":6},{"value":7.50}]} ]

}
`

func looks(lot string, l float64) PrintColours {
	return PrintColours{Lot: lot, Day: "2026-11-25", Light: LampDaylight, Camera: "Maker Model", Swatches: []PrintColour{
		{"pH", 6, 1, [3]float64{l, -3.5, 60.25}, [3]float64{0.4, 0.3, 0.5}}, {"pH", 7.5, 1, [3]float64{60, -20, 10}, [3]float64{1, 1, 1}},
	}}
}

func TestAChartRemembersAndForgets(t *testing.T) {
	once, err := Remember([]byte(written), looks("A 1", 80))
	require.NoError(t, err)
	assert.Equal(t, written, string(Forget(once)), "what else stands in the file stays as it is")
	both, err := Remember(once, looks("B", 70))
	require.NoError(t, err)
	again, err := Remember(both, looks("A 1", 81))
	require.NoError(t, err)
	assert.Equal(t, written, string(Forget(again)))
	c, err := ParseChart(again)
	require.NoError(t, err)
	assert.Equal(t, []PrintColours{looks("B", 70), looks("A 1", 81)}, c.Remembered, "a lot stands there once, as it looked last")
	_, known := c.Of("C")
	assert.False(t, known)
	plain, err := ParseChart([]byte(written))
	require.NoError(t, err)
	assert.Equal(t, plain, c.Plain())

	file, err := c.Encode()
	require.NoError(t, err)
	back, err := ParseChart(file)
	require.NoError(t, err)
	assert.Equal(t, c, back)
	without, err := plain.Encode()
	require.NoError(t, err)
	assert.Equal(t, string(without), string(Forget(file)))
}

// The memory may stand anywhere in a file that a person wrote, or be alone in what is no chart.
func TestForgetFindsTheMember(t *testing.T) {
	for file, want := range map[string]string{
		`{"print_colours": [], "chart": "x"}`:               `{ "chart": "x"}`,
		`{"a": {"print_colours": 1}}`:                       `{"a": {"print_colours": 1}}`,
		`{"a": "}, \"print_colours\"", "print_colours":[]}`: `{"a": "}, \"print_colours\""}`,
		`{"print_colours": 1}`:                              `{}`,
		`["print_colours"]`:                                 `["print_colours"]`,
		`{"a": 1, "print_colours": [`:                       `{"a": 1, "print_colours": [`,
	} {
		assert.Equal(t, want, string(Forget([]byte(file))))
	}
}

func TestFaultsOfWhatAChartRemembers(t *testing.T) {
	good, err := Remember([]byte(written), looks("A 1", 80))
	require.NoError(t, err)
	for change, want := range map[[2]string]string{
		{`"lot": "A 1"`, `"lot": ""`}:                      "print_colours[0].lot: is empty",
		{`"day": "2026-11-25"`, `"day": ""`}:               "print_colours[0].day: is empty",
		{`"day": "2026-11-25"`, `"day": "Monday"`}:         "print_colours[0].day",
		{`"light": "daylight"`, `"light": "lamp"`}:         "print_colours[0].light",
		{`"light": "daylight",`, ``}:                       "print_colours[0].light",
		{`[80, -3.5, 60.25]`, `[80, -3.5]`}:                "print_colours[0].swatches[0].lab: holds 2 numbers",
		{`[80, -3.5, 60.25]`, `[80, -3.5, 1e3]`}:           "print_colours[0].swatches[0].lab[2]",
		{`[1, 1, 1]`, `[1, -1, 1]`}:                        "print_colours[0].swatches[1].sd[1]",
		{`"value": 7.5, "part"`, `"value": 7, "part"`}:     "print_colours[0].swatches[1]",
		{`"value": 7.5, "part"`, `"value": 6, "part"`}:     "print_colours[0].swatches[1]: is the same swatch",
		{`"part": 1, "lab": [80`, `"part": 2, "lab": [80`}: "print_colours[0].swatches[0]",
		{`"camera"`, `"phone"`}:                            "phone",
	} {
		require.Contains(t, string(good), change[0])
		_, err := ParseChart([]byte(strings.Replace(string(good), change[0], change[1], 1)))
		assert.ErrorContains(t, err, want, change[1])
	}
	_, err = Remember([]byte(written), looks("", 80))
	assert.ErrorContains(t, err, "print_colours[0].lot")
	_, err = Remember([]byte("{"), looks("A", 80))
	assert.Error(t, err)
}
