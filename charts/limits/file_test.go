package limits

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"padband/charts/strict"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// goodLimits is the file that the faulty ones are made from.
const goodLimits = `{"format": 1, "set": "village", "title": "Village", "note": "Invented.", "public_supply": true, "limits": [
 {"authority": "Village", "year": 2020, "clause": "4", "analyte": "nitrate", "also": ["nitrate nitrogen"], "value": 8, "unit": "mg/L", "as": "N",
  "kind": "health", "basis": "one sample", "from": "2020-01-01", "until": "2030-12-31", "source": "invented", "note": "None."},
 {"analyte": "pH", "low": 6.6, "high": 8.4, "unit": "pH"},
 {"analyte": "hardness", "classes": [{"name": "soft", "up_to": 50}, {"name": "hard"}], "unit": "°dH"},
 {"analyte": "both", "value": 1, "sum": [{"analyte": "nitrate", "over": 40, "unit": "mg/L", "as": "NO3"}, {"analyte": "nitrite", "over": 2, "unit": "ppm", "as": "NO2"}]}]}`

func parseLimits(data []byte) error { _, err := ParseLimits(data); return err }

func TestParseLimits(t *testing.T) {
	s, err := ParseLimits([]byte(goodLimits))
	require.NoError(t, err)
	assert.Equal(t, "village", s.Name)
	require.Len(t, s.Limits, 4)
	assert.Equal(t, "8 mg/L as N", s.Limits[0].Text())
	assert.True(t, s.Limits[1].PublicSupply)
	assert.Equal(t, LimitGiven, s.Limits[1].Kind)
	assert.Equal(t, BasisSample, s.Limits[1].Basis)
	assert.Equal(t, []Class{{"soft", 50}, {"hard", 0}}, s.Limits[2].Classes)
	assert.Equal(t, "nitrate / 40 mg/L as NO3 + nitrite / 2 ppm as NO2", s.Limits[3].SumsBy())
	assert.Equal(t, "1", s.Limits[3].Text())
}

func TestLimitFaults(t *testing.T) {
	testFlaws(t, goodLimits, parseLimits, []flaw{
		{`"set": "village", `, "", "set: is missing; add it"},
		{`"set": "village"`, `"set": "../village"`, `set: is "../village", with a '.'; choose a name that a file can have`},
		{`: true`, `: "yes"`, `public_supply: is the text "yes", not true or false; write true or false without quotes`},
		{`"clause"`, `"claus"`, "limits[0].claus: is not a field here; remove it, or write one of authority, year, clause, analyte, also, value, value_from, low, high, classes, sum, unit, as, kind, basis, from, until, source, note"},
		{`2020,`, `20,`, "limits[0].year: is 20; write a whole number from 1900 to 2200"},
		{`"value": 8, `, "", "limits[0]: needs one of the three and no other; write value, or low and high, or classes"},
		{`"value": 8`, `"value": 8, "low": 3`, "limits[0]: needs one of the three and no other; write value, or low and high, or classes"},
		{`"value": 8`, `"value": 0`, "limits[0].value: is 0; write more than 0"},
		{`"value": 8`, `"value": "8"`, `limits[0].value: is the text "8", not a number; write a number without quotes`},
		{`"value": 8`, `"value": 8, "value_from": 9`, "limits[0].value_from: is not under value, 8; write the lower of the two there"},
		{`, "as": "N"`, "", `limits[0].as: is missing, and "nitrate" needs it; write N or NO3`},
		{`"unit": "mg/L", "as": "N"`, `"unit": "drops"`, `limits[0].unit: "drops" cannot be used; write one such as mg/L, with as beside it`},
		{`"health"`, `"law"`, `limits[0].kind: is "law"; write one of health, appearance and taste, treatment, indicator, class, given`},
		{`"one sample"`, `"mean"`, `limits[0].basis: is "mean"; write one of one sample, running average, 90th percentile of many taps`},
		{`"2030-12-31"`, `"2019-12-31"`, "limits[0].until: is before from, 2020-01-01; write the earlier day under from"},
		{`"2030-12-31"`, `"31.12.2030"`, `limits[0].until: is "31.12.2030"; write a day such as 2026-09-01`},
		{`"low": 6.6, `, "", "limits[1].low: is missing; add it"},
		{`"high": 8.4`, `"high": 6`, "limits[1].high: is 6; write more than 6.6"},
		{`, "up_to": 50`, "", "limits[2].classes[0].up_to: is missing; add it"},
		{`{"name": "hard"}`, `{"name": "hard", "up_to": 70}`, "limits[2].classes[1].up_to: ends the last class; leave it out of the last class"},
		{`, {"name": "hard"}`, "", "limits[2].classes[0].up_to: ends the last class; leave it out of the last class"},
		{`"over": 40`, `"over": -1`, "limits[3].sum[0].over: is -1; write more than 0"},
		{`, "as": "NO2"`, "", `limits[3].sum[1].as: is missing, and "nitrite" needs it; write N or NO2`},
		{`"analyte": "both", "value"`, `"analyte": "both", "unit": "mg/L", "low": 1, "high": 2, "value"`, "limits[3]: needs one of the three and no other; write value, or low and high, or classes"},
	})
}

func TestSecondLimitForOneAnalyte(t *testing.T) {
	two := func(a, b string) error {
		return parseLimits([]byte(`{"set": "v", "limits": [{"analyte": "iron", "value": 1, "unit": "mg/L"` + a + `}, {"analyte": "iron", "value": 2, "unit": "mg/L"` + b + `}]}`))
	}
	want := `limits[1]: is a second limit for "iron" at the same time, as is limits[0]; keep one, or give them dates`
	assert.EqualError(t, two("", ""), want)
	assert.EqualError(t, two(`, "until": "2026-06-01"`, `, "from": "2026-06-01"`), want, "both hold on that day")
	assert.EqualError(t, two(`, "from": "2026-06-01"`, `, "until": "2026-06-01"`), want, "nor the other way about")
	assert.NoError(t, two(`, "until": "2026-05-31"`, `, "from": "2026-06-01"`))
	assert.NoError(t, two(`, "from": "2026-06-01"`, `, "until": "2026-05-31"`))
	assert.NoError(t, two("", `, "kind": "health"`))
	assert.EqualError(t, parseLimits([]byte(`{"set": "v", "limits": []}`)), "limits: holds no limit; add one")
	many := `{"analyte": "a` + strings.Repeat(`", "value": 1, "unit": "mg/L"}, {"analyte": "a`, maxLimits)
	assert.EqualError(t, parseLimits([]byte(`{"set": "v", "limits": [`+many+`", "value": 1, "unit": "mg/L"}]}`)),
		"limits: has "+strconv.Itoa(maxLimits+1)+" items, over the limit of "+strconv.Itoa(maxLimits)+"; remove some")
}

// A set lists its limits as it likes; those for health are found first.
func TestHealthComesFirst(t *testing.T) {
	s, err := ParseLimits([]byte(`{"format": 1, "set": "mixed", "limits": [
 {"analyte": "copper", "value": 1, "unit": "mg/L", "as": "Cu", "kind": "appearance and taste"},
 {"analyte": "copper", "value": 2, "unit": "mg/L", "as": "Cu", "kind": "health"}]}`))
	require.NoError(t, err)
	found := s.Find("copper", time.Time{})
	require.Len(t, found, 2)
	assert.Equal(t, LimitHealth, found[0].Kind)
	assert.Equal(t, LimitAppearance, found[1].Kind)
}

// Bounds of classes rise.
func TestClassesRise(t *testing.T) {
	for bounds, good := range map[[2]string]bool{{"50", "90"}: true, {"90", "50"}: false, {"50", "50"}: false} {
		text := `{"format": 1, "set": "steps", "limits": [{"analyte": "hardness", "unit": "°dH", "classes": [{"name": "a", "up_to": ` +
			bounds[0] + `}, {"name": "b", "up_to": ` + bounds[1] + `}, {"name": "c"}]}]}`
		assert.Equal(t, good, parseLimits([]byte(text)) == nil, "%v", bounds)
	}
}

// The sums of the rules: WHO, guidelines for drinking-water quality, nitrate and
// nitrite: nitrate / 50 + nitrite / 3 not over 1, both as the ion; the EU's the
// same (2020/2184, Annex I, part B, note); EPA's adds both as nitrogen, not over
// 10 (40 CFR 141.62(b)(9)). See testdata/checks/water_limits.csv.
func TestSumsOfTheRules(t *testing.T) {
	for set, want := range map[string]string{
		"who":    "nitrate / 50 mg/L as NO3 + nitrite / 3 mg/L as NO2",
		"eu":     "nitrate / 50 mg/L as NO3 + nitrite / 3 mg/L as NO2",
		"us-epa": "nitrate + nitrite",
	} {
		s, ok := FindLimitSet(set)
		require.True(t, ok)
		sums := s.Sums(time.Time{})
		require.Len(t, sums, 1, set)
		assert.Equal(t, want, sums[0].SumsBy(), set)
	}
}

// flaw is one edit of a good file and the line it must bring.
type flaw struct{ old, new, want string }

func testFlaws(t *testing.T, good string, parse func([]byte) error, faults []flaw) {
	t.Helper()
	require.NoError(t, parse([]byte(good)))
	for _, f := range faults {
		require.Equal(t, 1, strings.Count(good, f.old), "the text to replace must stand once: %s", f.old)
		err := parse([]byte(strings.Replace(good, f.old, f.new, 1)))
		if assert.Error(t, err, "%s for %s", f.new, f.old) {
			assert.Equal(t, f.want, err.Error())
			assert.IsType(t, &strict.FileError{}, err)
		}
	}
}
