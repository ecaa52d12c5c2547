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
	assert.Equal(t, units.Unit{Name: "mg/L", As: "CaCO3"}, l.Unit)
}

// Health comes before taste where a set has both; other names find the same.
func TestFindLimit(t *testing.T) {
	for _, c := range []struct{ set, analyte, want string }{
		{"us-epa", "nitrate", "10 mg/L as N"},
		{"us-epa", " Nitrate ", "10 mg/L as N"},
		{"us-epa", "fluoride", "4 mg/L as F"},
		{"us-epa", "copper", "1.3 mg/L as Cu"},
		{"us-epa", "free chlorine", "4 mg/L as Cl2"},
		{"us-epa", "pH", "pH 6.5 to 8.5"},
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

func TestHeldBy(t *testing.T) {
	epa, _ := FindLimitSet("us-epa")
	sum := epa.Sums(time.Time{})[0]
	for _, c := range []struct {
		to          []string
		both, known bool
	}{
		{nil, false, false}, {[]string{"nitrate"}, false, true}, {[]string{"Nitrite", "nitrate"}, true, true},
	} {
		both, known := sum.HeldBy(charts.Analyte{Name: "nitrate", RespondsTo: c.to})
		assert.Equal(t, c.both, both, c.to)
		assert.Equal(t, c.known, known, c.to)
	}
}
