package charts

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// limitsOf are all limits that come with the program of the set for a
// jurisdiction of the published table.
func limitsOf(t *testing.T, jurisdiction string) []Limit {
	t.Helper()
	set, known := map[string]string{"US EPA": "us-epa", "WHO": "who", "EU": "eu"}[jurisdiction]
	require.True(t, known, jurisdiction)
	s, ok := FindLimitSet(set)
	require.True(t, ok)
	return s.Limits
}

// tableAs is what the table's way to express a value is here.
var tableAs = map[string]string{"NO3 ion": "NO3", "NO2 ion": "NO2"}

// tableKinds sorts the table's words: what is binding or a guideline value is
// for health.
func tableKind(kind string) LimitKind {
	switch {
	case strings.HasPrefix(kind, "SMCL"):
		return LimitAppearance
	case strings.HasPrefix(kind, "indicator"):
		return LimitIndicator
	}
	return LimitHealth
}

// figureOf is a limit's figure as the table prints one.
func figureOf(l Limit) [2]float64 {
	switch {
	case l.TwoSided():
		return [2]float64{l.Low, l.High}
	case l.ValueFrom > 0:
		return [2]float64{l.ValueFrom, l.Value}
	}
	return [2]float64{l.Value, 0}
}

// Every row of the published table is a limit here, exactly, and every limit
// of the three authorities is one of its rows but for the figures in its notes.
func TestLimitsAgainstTable(t *testing.T) {
	matched := map[string]int{}
	for _, row := range published(t, "water_limits.csv") {
		var want [2]float64
		for i, s := range strings.Split(row[3], "-") {
			want[i] = number(t, s)
		}
		analyte, _, _ := strings.Cut(row[2], " (")
		clause := row[1]
		if clause == "same" { // the row before
			clause = "GDWQ 4th ed incl. addenda 2022, ch.12 nitrate and nitrite"
		}
		found := 0
		for _, l := range limitsOf(t, row[0]) {
			if l.Analyte != analyte || l.Clause != clause || figureOf(l) != want || l.Kind != tableKind(row[6]) {
				continue
			}
			found++
			assert.Equal(t, row[0], l.Authority)
			if as := row[5]; as != "" {
				if a, ok := tableAs[as]; ok {
					as = a
				}
				assert.Equal(t, as, l.Unit.As, row)
			}
			if analyte == "pH" {
				assert.Equal(t, "pH", l.Unit.Name)
			} else {
				assert.Equal(t, row[4], l.Unit.Name, row)
			}
			assert.Equal(t, strings.Contains(row[6], "90th percentile"), l.Basis == BasisPercentile, row)
			assert.Equal(t, row[6] == "MRDL", l.Basis == BasisAverage, row)
			assert.NotEmpty(t, l.Source)
		}
		assert.Equal(t, 1, found, "%v", row)
		matched[row[0]]++
	}
	assert.Equal(t, 21, matched["US EPA"])
	assert.Equal(t, 9, matched["WHO"])
	assert.Equal(t, 18, matched["EU"])
	assert.Len(t, limitsOf(t, "US EPA"), 21)
	assert.Len(t, limitsOf(t, "WHO"), 9)
	assert.Len(t, limitsOf(t, "EU"), 18+2, "lead until 2036 and the sum of ratios stand in notes of the table")
}

// The figures that the table has in its notes.
func TestLimitsInTheTablesNotes(t *testing.T) {
	day := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	lead, ok := FindLimit("eu", "lead", day)
	require.True(t, ok)
	assert.Equal(t, "10 ug/L as Pb", lead.Text(), "10 ug/L until 12 January 2036")
	assert.Equal(t, "2036-01-11", lead.Until)
	eu, _ := FindLimitSet("eu")
	sums := eu.Sums(day)
	require.Len(t, sums, 1)
	assert.Equal(t, "nitrate / 50 mg/L as NO3 + nitrite / 3 mg/L as NO2", sums[0].SumsBy(), "[NO3]/50+[NO2]/3<=1")
	assert.Equal(t, 1.0, sums[0].Value)
}

func TestLimitsFollowTheDay(t *testing.T) {
	on := func(text string) time.Time {
		d, err := time.Parse(time.DateOnly, text)
		require.NoError(t, err)
		return d
	}
	for _, c := range []struct {
		set, day string
		want     float64
	}{
		{"us-epa", "2026-11-25", 0.015}, {"us-epa", "2027-10-31", 0.015}, {"us-epa", "2027-11-01", 0.01},
		{"eu", "2036-01-11", 10}, {"eu", "2036-01-12", 5},
	} {
		l, ok := FindLimit(c.set, "lead", on(c.day))
		require.True(t, ok)
		assert.Equal(t, c.want, l.Value, "%s %s", c.set, c.day)
	}
}

// USGS classes against the published table: upper bounds, no gaps.
func TestHardnessClassesAgainstTable(t *testing.T) {
	l, ok := FindLimit("usgs-hardness", "total hardness", time.Time{})
	require.True(t, ok)
	rows := published(t, "usgs_hardness_classes.csv")
	require.Len(t, l.Classes, len(rows))
	for i, row := range rows {
		want := 0.0
		if row[2] != "" {
			want = number(t, row[2])
		}
		assert.Equal(t, Class{row[0], want}, l.Classes[i])
	}
	assert.Equal(t, Unit{"mg/L", "CaCO3"}, l.Unit)
}

// Health comes before taste where a set has both; other names find the same.
func TestFindLimit(t *testing.T) {
	for _, c := range []struct{ set, analyte, want string }{
		{"us-epa", "nitrate", "10 mg/L as N"},
		{"us-epa", " Nitrate ", "10 mg/L as N"},
		{"us-epa", "fluoride", "4 mg/L as F"},
		{"us-epa", "copper", "1.3 mg/L as Cu"},
		{"us-epa", "free chlorine", "4 mg/L as Cl2"},
		{"us-epa", "pH", "6.5 to 8.5 pH"},
		{"us-epa", "aluminum", "0.05 to 0.2 mg/L"},
		{"who", "nitrate", "50 mg/L as NO3"},
		{"eu", "nitrite", "0.5 mg/L as NO2"},
		{"eu", "ammonia", "0.5 mg/L as NH4"},
		{"eu", "conductivity", "2500 uS/cm"},
		{"treatment", "hardness", "1 gr/gal"},
		{"usgs-hardness", "total hardness", "4 classes"},
	} {
		l, ok := FindLimit(c.set, c.analyte, time.Time{})
		if assert.True(t, ok, c) {
			assert.Equal(t, c.want, l.Text(), c)
		}
	}
	for _, c := range [][2]string{{"us-epa", "calcium hardness"}, {"us-epa", "bromine"}, {"who", "pH"}, {"nobody", "nitrate"}, {"../us-epa", "nitrate"}} {
		_, ok := FindLimit(c[0], c[1], time.Time{})
		assert.False(t, ok, c)
	}
	epa, _ := FindLimitSet("us-epa")
	assert.Len(t, epa.Find("copper", time.Time{}), 2)
	require.Len(t, epa.Sums(time.Time{}), 1)
	assert.Equal(t, "nitrate + nitrite", epa.Sums(time.Time{})[0].SumsBy())
}

// What comes with the program can be read, is said to be for public supplies
// where it is, and names a source or says that there is none.
func TestBundledLimits(t *testing.T) {
	all := LimitSets()
	require.Len(t, all, 5)
	for _, s := range all {
		public := s.Name == "us-epa" || s.Name == "who" || s.Name == "eu"
		for i, l := range s.Limits {
			assert.Equal(t, public, l.PublicSupply, "%s %d", s.Name, i)
			assert.NotEmpty(t, l.Source)
			assert.NotEmpty(t, l.Whose())
			assert.Equal(t, s.Name == "treatment", l.Source == "common practice, no source")
		}
	}
	assert.Equal(t, "US EPA, 40 CFR 141.62(b)(7)", all[0].Limits[0].Whose())
}

func TestParseLimit(t *testing.T) {
	for text, want := range map[string]string{
		"10 mg/L as N":                          "|10 mg/L as N",
		"nitrate 10 mg/L as N":                  "nitrate|10 mg/L as N",
		"Nitrate: 50 mg/L NO3":                  "Nitrate|50 mg/L as NO3",
		"free chlorine 4 ppm as Cl2":            "free chlorine|4 ppm as Cl2",
		"6.5-8.5":                               "pH|6.5 to 8.5 pH",
		"pH 6.5 to 8.5":                         "pH|6.5 to 8.5 pH",
		"6.5–8.5 pH":                            "pH|6.5 to 8.5 pH",
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
		"0 mg/L":    `"0 mg/L" is nothing at all, which no strip can show; write a limit over 0`,
		"pH 8.5":    `"pH 8.5" has one end; write both ends of the pH to stay in, such as 6.5-8.5`,
		"8.5-6.5":   `"8.5-6.5" does not run from a lower figure to a higher one; write it such as 6.5-8.5`,
		"1,000 ppm": `"1,000 ppm" has a comma in its figure; write a point, and nothing between thousands`,
	} {
		_, err := ParseLimit(text)
		if assert.Error(t, err, text) {
			assert.Equal(t, want, err.Error())
			assert.IsType(t, &UnitError{}, err)
		}
	}
}

// The bundled charts' pads, by name.
func pads(t *testing.T, chart string) []Analyte {
	t.Helper()
	c, ok := Find(chart)
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
	two := []Analyte{{Name: "nitrate", Unit: "mg/L", As: "N"}, {Name: "nitrite", Unit: "mg/L", As: "N"}}
	c, _ = ParseLimit("10 mg/L as N")
	assert.EqualError(t, c.Check(two), `the limit 10 mg/L as N fits nitrate, nitrite; put the name before it, such as nitrate 10 mg/L as N`)
	c, _ = ParseLimit("nitrate 10 mg/L as N")
	assert.NoError(t, c.Check(two))
	bare := []Analyte{{Name: "nitrate", Unit: "mg/L"}}
	assert.NoError(t, c.Check(bare), "it is judged to lack its as")
	assert.Len(t, c.For(bare[0], time.Time{}), 1)
	epa, _ := ParseLimit("us-epa")
	assert.NoError(t, epa.Check(three))
	assert.Equal(t, 10.0, epa.For(three[0], time.Time{})[0].Value)
}

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
	testFaults(t, goodLimits, parseLimits, []fault{
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
	assert.NoError(t, two(`, "until": "2026-05-31"`, `, "from": "2026-06-01"`))
	assert.NoError(t, two(`, "from": "2026-06-01"`, `, "until": "2026-05-31"`))
	assert.NoError(t, two("", `, "kind": "health"`))
	assert.EqualError(t, parseLimits([]byte(`{"set": "v", "limits": []}`)), "limits: holds no limit; add one")
	many := `{"analyte": "a` + strings.Repeat(`", "value": 1, "unit": "mg/L"}, {"analyte": "a`, maxLimits)
	assert.EqualError(t, parseLimits([]byte(`{"set": "v", "limits": [`+many+`", "value": 1, "unit": "mg/L"}]}`)),
		"limits: has "+strconv.Itoa(maxLimits+1)+" items, over the limit of "+strconv.Itoa(maxLimits)+"; remove some")
}

func TestHoldsBoth(t *testing.T) {
	epa, _ := FindLimitSet("us-epa")
	sum := epa.Sums(time.Time{})[0]
	for _, c := range []struct {
		to          []string
		both, known bool
	}{
		{nil, false, false}, {[]string{"nitrate"}, false, true}, {[]string{"Nitrite", "nitrate"}, true, true},
	} {
		both, known := Analyte{Name: "nitrate", RespondsTo: c.to}.HoldsBoth(sum)
		assert.Equal(t, c.both, both, c.to)
		assert.Equal(t, c.known, known, c.to)
	}
}
