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
		"two dots":         {row(func(a *TypedAnalyte) { a.Values = "1.2.3, 4" }), "analytes.1.values", "no number"},
		"no unit":          {row(func(a *TypedAnalyte) { a.Unit = "" }), "analytes.1.unit", "missing"},
		"same analyte":     {row(func(a *TypedAnalyte) { a.Name = "pH"; a.Unit = "pH" }), "analytes.1.name", "pH"},
		"window":           {row(func(a *TypedAnalyte) { a.ReadWindow = "75-45" }), "analytes.1.read_window", "after"},
		"window in words":  {row(func(a *TypedAnalyte) { a.ReadWindow = "a minute" }), "analytes.1.read_window", "seconds"},
		"window from dots": {row(func(a *TypedAnalyte) { a.ReadWindow = "4.5.5-75" }), "analytes.1.read_window", "after"},
		"window to dots":   {row(func(a *TypedAnalyte) { a.ReadWindow = "45-7.5.5" }), "analytes.1.read_window", "after"},
		"window too long":  {row(func(a *TypedAnalyte) { a.ReadWindow = "45-1" + strings.Repeat("0", 400) }), "analytes.1.read_window", "after"},
		"parts":            {row(func(a *TypedAnalyte) { a.Parts = "0" }), "analytes.1.parts", "whole number"},
		"strip's own":      {row(func(a *TypedAnalyte) { a.KitError = "-1" }), "analytes.1.kit_error", "above 0"},
		"strip's own, NaN": {row(func(a *TypedAnalyte) { a.KitError = "NaN" }), "analytes.1.kit_error", "above 0"},
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
