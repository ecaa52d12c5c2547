package charts

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDescribeMakesTheChartThatWasTyped(t *testing.T) {
	c, err := Describe(Typed{
		Title: " Bottle of the barn, 2026 ", Handling: "Dip one second.\n\n Hold level. ", KitLifeDays: "90",
		Analytes: []TypedAnalyte{
			{Name: "nitrate", Unit: "mg/L as N", Values: "0, 1, 3, 7 (6, or 9), 12", ReadWindow: "45 - 75 s", KitError: "0.4"},
			{Name: "pH", Values: "5 6.5 7", Parts: "2"},
		},
	})
	require.NoError(t, err)
	assert.Equal(t, "bottle-of-the-barn-2026", c.Name)
	assert.Equal(t, []string{"Dip one second.", "Hold level."}, c.Handling)
	assert.Equal(t, 90, c.KitLifeDays)
	n, ph := c.Analytes[0], c.Analytes[1]
	assert.Equal(t, [2]string{"mg/L", "N"}, [2]string{n.Unit, n.As})
	assert.Equal(t, []Swatch{{0, ""}, {1, ""}, {3, ""}, {7, "7 (6, or 9)"}, {12, ""}}, n.Swatches)
	assert.Equal(t, &[2]float64{45, 75}, n.ReadWindow)
	assert.Equal(t, 0.4, n.KitError.Steps)
	assert.Equal(t, "pH", ph.Unit)
	assert.Equal(t, 2, ph.Parts)
	assert.Len(t, ph.Swatches, 3)
	data, err := c.Encode()
	require.NoError(t, err)
	again, err := ParseChart(data)
	require.NoError(t, err)
	assert.Equal(t, c, again)
}

func TestDescribeBlamesTheField(t *testing.T) {
	row := func(edit func(*TypedAnalyte)) Typed {
		a := TypedAnalyte{Name: "iron", Unit: "mg/L", Values: "0, 1, 2"}
		edit(&a)
		return Typed{Title: "x", Analytes: []TypedAnalyte{{Name: "pH", Values: "6, 7"}, a}}
	}
	for name, c := range map[string]struct {
		typed       Typed
		field, says string
	}{
		"no title":         {Typed{}, "title", "name"},
		"no rows":          {Typed{Title: "x"}, "analytes", "analyte"},
		"days":             {Typed{Title: "x", KitLifeDays: "soon"}, "kit_life_days", "whole number"},
		"no name":          {row(func(a *TypedAnalyte) { a.Name = " " }), "analytes.1.name", "measures"},
		"a word":           {row(func(a *TypedAnalyte) { a.Values = "0, few, 2" }), "analytes.1.values", `"few"`},
		"one value":        {row(func(a *TypedAnalyte) { a.Values = "3" }), "analytes.1.values", "two or more"},
		"twice":            {row(func(a *TypedAnalyte) { a.Values = "1, 2, 1" }), "analytes.1.values", "twice"},
		"two dots":         {row(func(a *TypedAnalyte) { a.Values = "1.2.3, 4" }), "analytes.1.values", "several points"},
		"no unit":          {row(func(a *TypedAnalyte) { a.Unit = "" }), "analytes.1.unit", "missing"},
		"same analyte":     {row(func(a *TypedAnalyte) { a.Name = "pH"; a.Unit = "pH" }), "analytes.1.name", "pH"},
		"window":           {row(func(a *TypedAnalyte) { a.ReadWindow = "75-45" }), "analytes.1.read_window", "after"},
		"window in words":  {row(func(a *TypedAnalyte) { a.ReadWindow = "a minute" }), "analytes.1.read_window", "seconds"},
		"window from dots": {row(func(a *TypedAnalyte) { a.ReadWindow = "4.5.5-75" }), "analytes.1.read_window", "no span"},
		"window to dots":   {row(func(a *TypedAnalyte) { a.ReadWindow = "45-7.5.5" }), "analytes.1.read_window", "no span"},
		"window too long":  {row(func(a *TypedAnalyte) { a.ReadWindow = "45-1" + strings.Repeat("0", 400) }), "analytes.1.read_window", "after"},
		"parts":            {row(func(a *TypedAnalyte) { a.Parts = "0" }), "analytes.1.parts", "whole number"},
		"strip's own":      {row(func(a *TypedAnalyte) { a.KitError = "-1" }), "analytes.1.kit_error", "above 0"},
		"strip's own, NaN": {row(func(a *TypedAnalyte) { a.KitError = "NaN" }), "analytes.1.kit_error", "no number"},
		"kind":             {row(func(a *TypedAnalyte) { a.Kind = "guess" }), "analytes.1.kind", "guess"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Describe(c.typed)
			var fault *TypedError
			require.ErrorAs(t, err, &fault)
			assert.Equal(t, c.field, fault.Field)
			assert.Contains(t, fault.What, c.says)
			assert.NotContains(t, fault.What, "\n")
		})
	}
}

// Each row is typed as a person types it who means what stands beside it.
func TestUnderstandTellsTheRowBack(t *testing.T) {
	for _, c := range []struct {
		typed TypedAnalyte
		text  string
		notes string
	}{
		{TypedAnalyte{Name: "nitrate", Values: "0 0,5 1 2 5 10", Unit: "mg/l", As: "nitrogen"}, "6 swatches: 0 | 0.5 | 1 | 2 | 5 | 10 mg/L as N", ""},
		{TypedAnalyte{Name: "nitrate", Values: "0; 0,5; 1", Unit: "mg/L NO3"}, "3 swatches: 0 | 0.5 | 1 mg/L as NO3", ""},
		{TypedAnalyte{Name: "nitrate", Values: "0; 1", Unit: "ppm", As: "not said"}, "2 swatches: 0 | 1 ppm", "ppm is taken as mg/L in water; without what it is expressed as (N or NO3), it is read, and set against no limit"},
		{TypedAnalyte{Name: "iron", Values: "0, 0.3, 1", Unit: "µg/L"}, "3 swatches: 0 | 0.3 | 1 ug/L", ""},
		{TypedAnalyte{Name: "iron", Values: "0 ppm, 1 ppm"}, "2 swatches: 0 | 1 ppm", "ppm is taken as mg/L in water"},
		{TypedAnalyte{Name: "total hardness", Values: "0 5 10", Unit: "gpg"}, "3 swatches: 0 | 5 | 10 gr/gal", ""},
		{TypedAnalyte{Name: "total hardness", Values: "0 3 7", Unit: "dH"}, "3 swatches: 0 | 3 | 7 °dH", ""},
		{TypedAnalyte{Name: "pH", Values: "9; 7,5; 6"}, "3 swatches: 9 | 7.5 | 6 pH", "the values fall, as they were typed"},
		{TypedAnalyte{Name: "glue", Values: "1, 2", Unit: "drops"}, "2 swatches: 1 | 2 drops", `the unit "drops" is not known here: it is read, and set against no limit`},
		{TypedAnalyte{Name: "nitrate", Values: "1, 2", Unit: "mg/L", As: "CaCO3"}, "2 swatches: 1 | 2 mg/L as CaCO3", "nitrate is usually expressed as N or NO3; as CaCO3 it is read, and set against no limit"},
		{
			TypedAnalyte{Name: "pH", Values: "6, 7 (6.8 to 7.2)", ReadWindow: "0,5-1 min", KitError: "0,5", Parts: "2"}, "2 swatches: 6 | 7 (6.8 to 7.2) pH",
			"2 pads are read together; read 30 to 60 seconds after the dip; the strip's own error is 0.5 of a swatch step",
		},
	} {
		typed := Typed{Title: "x", Analytes: []TypedAnalyte{c.typed}}
		u := Understand(typed)
		assert.Empty(t, u.Faults, "%v", c.typed)
		assert.Equal(t, c.text, u.Rows[0].Text)
		assert.Equal(t, c.notes, strings.Join(u.Rows[0].Notes, "; "))
		chart, err := Describe(typed)
		require.NoError(t, err)
		shown := chart.Analytes[0].Unit
		if as := chart.Analytes[0].As; as != "" {
			shown += " as " + as
		}
		assert.True(t, strings.HasSuffix(c.text, " "+shown), "%s, and the chart says %s", c.text, shown)
	}
}

// What is asked names its field, and each answer put into that field settles it.
func TestUnderstandAsks(t *testing.T) {
	for name, c := range map[string]struct {
		edit    func(*TypedAnalyte)
		field   string
		answers int
	}{
		"comma":  {func(a *TypedAnalyte) { a.Values = "0,5,10" }, "values", 2},
		"order":  {func(a *TypedAnalyte) { a.Values = "0, 5, 1, 2" }, "values", 1},
		"form":   {func(a *TypedAnalyte) { a.As = "" }, "as", 3},
		"ppm":    {func(a *TypedAnalyte) { a.Unit, a.As = "ppm", "" }, "as", 3},
		"grains": {func(a *TypedAnalyte) { a.Name, a.Unit, a.As = "total hardness", "grains", "" }, "unit", 2},
		"window": {func(a *TypedAnalyte) { a.ReadWindow = "1-2" }, "read_window", 2},
		"error":  {func(a *TypedAnalyte) { a.KitError = "1,000" }, "kit_error", 2},
	} {
		t.Run(name, func(t *testing.T) {
			a := TypedAnalyte{Name: "nitrate", Unit: "mg/L", As: "N", Values: "0, 1, 2"}
			c.edit(&a)
			faults := Understand(Typed{Title: "x", Analytes: []TypedAnalyte{a}}).Faults
			require.Len(t, faults, 1)
			assert.Equal(t, "analytes.0."+c.field, faults[0].Field)
			require.Len(t, faults[0].Answers, c.answers)
			for _, answer := range faults[0].Answers {
				settled := a
				*settled.field(c.field) = answer.Text
				if answer.Text == "1000" {
					continue // a thousand steps are refused as such
				}
				assert.Empty(t, Understand(Typed{Title: "x", Analytes: []TypedAnalyte{settled}}).Faults, answer.Text)
			}
		})
	}
}

func (t *TypedAnalyte) field(name string) *string {
	return map[string]*string{"values": &t.Values, "as": &t.As, "unit": &t.Unit, "read_window": &t.ReadWindow, "kit_error": &t.KitError}[name]
}

// All that is wrong is told at once, each at its field.
func TestUnderstandNamesEveryField(t *testing.T) {
	u := Understand(Typed{KitLifeDays: "soon", Analytes: []TypedAnalyte{
		{Values: "1/2, 3", Unit: "furlong as N", Parts: "x", ReadWindow: "1 min", KitError: "-1"},
		{Name: "nitrate", Values: "0 gr/gal, 1 gr/gal", Unit: "mg/L NO3", As: "N"},
		{Name: "iron", Values: "0 ppb, 1 ppb", Unit: "mg/L", As: "milk"},
		{Name: "zinc", Values: "0 ppb, 1 ppb", Unit: "mg/L"},
		{Name: "lead", Values: "0, 1", Unit: "mg/L as milk"},
	}})
	var got []string
	for _, f := range u.Faults {
		got = append(got, f.Field)
	}
	assert.Equal(t, []string{
		"title", "kit_life_days", "analytes.0.name", "analytes.0.values", "analytes.0.parts", "analytes.0.read_window", "analytes.0.kit_error",
		"analytes.1.as", "analytes.2.as", "analytes.3.values", "analytes.4.unit",
	}, got)
	u = Understand(Typed{Title: "x", Analytes: []TypedAnalyte{{Name: "pH", Values: "6, 7"}, {Name: "pH", Values: "6, 7"}}})
	require.Len(t, u.Faults, 1, "what only the file's reader finds")
	assert.Equal(t, "analytes.1.name", u.Faults[0].Field)
	assert.Equal(t, "°dH", Understand(Typed{Analytes: []TypedAnalyte{{Name: "hardness"}}}).Rows[0].Units[3].Name)
}
