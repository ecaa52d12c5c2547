package limits

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/charts/units"
)

func TestParseLimit(t *testing.T) {
	for text, want := range map[string]string{
		"10 mg/L as N":                          "|10 mg/L as N",
		"nitrate 10 mg/L as N":                  "nitrate|10 mg/L as N",
		"Nitrate: 50 mg/L NO3":                  "Nitrate|50 mg/L as NO3",
		"free chlorine 4 ppm as Cl2":            "free chlorine|4 ppm as Cl2",
		"6.5-8.5":                               "pH|pH 6.5 to 8.5",
		"pH 6.5 to 8.5":                         "pH|pH 6.5 to 8.5",
		"6.5–8.5 pH":                            "pH|pH 6.5 to 8.5",
		"total alkalinity 80-120 mg/L as CaCO3": "total alkalinity|80 to 120 mg/L as CaCO3",
		"1 gr/gal":                              "|1 gr/gal",
	} {
		c, err := ParseLimit(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, c.Typed.Analyte+"|"+c.Typed.Text(), text)
		}
	}
	for _, name := range []string{"us-epa", "WHO", " eu ", "usgs-hardness", "treatment"} {
		c, err := ParseLimit(name)
		if assert.NoError(t, err, name) {
			assert.Equal(t, strings.ToLower(strings.TrimSpace(name)), c.Set.Name)
		}
	}
}

func TestParseLimitRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"epa":       `"epa" is no set of limits and no limit; write one of us-epa, who, eu, usgs-hardness, treatment, or a limit such as 10 mg/L as N or 6.5-8.5`,
		"../who":    `"../who" is no set of limits and no limit; write one of us-epa, who, eu, usgs-hardness, treatment, or a limit such as 10 mg/L as N or 6.5-8.5`,
		"10":        `"10" has no unit; write it such as 10 mg/L as N`,
		"0 mg/L":    `"0 mg/L" is a limit of 0, which no strip can show; write a limit over 0`,
		"pH 8.5":    `"pH 8.5" has one end; write both ends of the pH to stay in, such as 6.5-8.5`,
		"8.5-6.5":   `"8.5-6.5" does not run from a lower figure to a higher one; write it such as 6.5-8.5`,
		"1,000 ppm": `"1,000 ppm" has a comma in its figure; write a point, and nothing between thousands`,
	} {
		_, err := ParseLimit(text)
		if assert.Error(t, err, text) {
			assert.Equal(t, want, err.Error())
			assert.IsType(t, &units.Error{}, err)
		}
	}
}

// The bundled charts' pads, by name.
func pads(t *testing.T, chart string) []charts.Analyte {
	t.Helper()
	c, ok := charts.Find(chart)
	require.True(t, ok)
	return c.Analytes
}

func TestTypedLimitFindsItsPad(t *testing.T) {
	three := pads(t, "orchard-well") // nitrate, total hardness, pH
	c, err := ParseLimit("44.3 mg/L as NO3")
	require.NoError(t, err)
	require.NoError(t, c.Check(three))
	var got []string
	for _, a := range three {
		for _, l := range c.For(a, time.Time{}) {
			got = append(got, a.Name+" "+string(l.Kind))
		}
	}
	assert.Equal(t, []string{"nitrate health"}, got, "nitrate has health limits, so the typed one counts as one")
	c, _ = ParseLimit("120 mg/L as CaCO3")
	for _, l := range c.For(three[1], time.Time{}) {
		assert.Equal(t, LimitGiven, l.Kind)
	}

	c, _ = ParseLimit("3 ug/L as Pb")
	assert.EqualError(t, c.Check(three), `the limit 3 ug/L as Pb fits none of nitrate, total hardness, pH; write it in a unit that one of them can have`)
	c, _ = ParseLimit("iron 0.3 mg/L")
	assert.EqualError(t, c.Check(three), `the limit 0.3 mg/L is for "iron", and the chart has nitrate, total hardness, pH; name one of them, with a unit that it can have`)
	two := []charts.Analyte{{Name: "nitrate", Unit: "mg/L", As: "N"}, {Name: "nitrite", Unit: "mg/L", As: "N"}}
	c, _ = ParseLimit("10 mg/L as N")
	assert.EqualError(t, c.Check(two), `the limit 10 mg/L as N fits nitrate, nitrite; put the name before it, such as nitrate 10 mg/L as N`)
	c, _ = ParseLimit("nitrate 10 mg/L as N")
	assert.NoError(t, c.Check(two))
	bare := []charts.Analyte{{Name: "nitrate", Unit: "mg/L"}}
	assert.NoError(t, c.Check(bare), "it is judged to lack its as")
	assert.Len(t, c.For(bare[0], time.Time{}), 1)
	epa, _ := ParseLimit("us-epa")
	assert.NoError(t, epa.Check(three))
	assert.Equal(t, 10.0, epa.For(three[0], time.Time{})[0].Value)
}
