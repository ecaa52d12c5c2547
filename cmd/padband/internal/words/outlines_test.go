package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib/strip/outline"
	"padband/charts"
)

// cabin is an invented chart of two rows.
var cabin = charts.Chart{Name: "cabin", Analytes: []charts.Analyte{
	{Name: "nitrate", Unit: "mg/L", Parts: 1, Swatches: []charts.Swatch{{Value: 0}, {Value: 2.5}, {Value: 7, Label: "7 (6-9)"}}},
	{Name: "bacteria", Parts: 1, Kind: charts.KindPresence, Swatches: []charts.Swatch{{Value: 0, Label: "no"}, {Value: 1, Label: "yes"}}},
}}

func TestOutlineQuestions(t *testing.T) {
	pad := &charts.Mark{Role: charts.RolePad, Analyte: "nitrate", Part: 1}
	swatch := func(analyte string, v float64) *charts.Mark {
		return &charts.Mark{Role: charts.RoleSwatch, Analyte: analyte, Value: v, Part: 1}
	}
	for _, k := range []struct {
		code     outline.Code
		analytes []string
		patch    *charts.Mark
		row      bool
		want     string
	}{
		{outline.AskDirection, []string{"nitrate"}, nil, false, "Which end of the row of nitrate is 0?"},
		{outline.AskDirection, []string{"bacteria"}, nil, false, "Which end of the row of bacteria is no?"},
		{outline.AskDirection, []string{"nitrate", "bacteria"}, nil, false, "Which end of the rows of nitrate and bacteria is the lowest value?"},
		{outline.AskDirection, nil, nil, false, "Which end of all rows is the lowest value?"},
		{outline.AskDirection, []string{"lead"}, nil, false, "Which end of the row of lead is the lowest value?"},
		{outline.AskRows, nil, nil, false, "Which row of the chart, and which pad, is of what?"},
		{outline.AskStripEnd, nil, nil, false, "Which end of the strip is its tip, the end that was dipped?"},
		{outline.AskStrip, nil, nil, false, "No strip was found. Is there one in the photo?"},
		{outline.AskPatch, nil, nil, false, "One patch was not seen: it may be nearly white. Is it where it is marked?"},
		{outline.AskPatch, []string{"nitrate"}, nil, false, "One patch of nitrate was not seen: it may be nearly white. Is it where it is marked?"},
		{outline.AskPatch, []string{"nitrate"}, pad, false, "The pad of nitrate was not seen: it may be nearly white. Is it where it is marked?"},
		{outline.AskPatch, nil, swatch("nitrate", 2.5), false, "The swatch for 2.5 of nitrate was not seen: it may be nearly white. Is it where it is marked?"},
		{outline.AskPatch, nil, swatch("nitrate", 7), false, "The swatch for 7 (6-9) of nitrate was not seen: it may be nearly white. Is it where it is marked?"},
		{outline.AskPatch, []string{"nitrate"}, swatch("nitrate", 7), true,
			"Not all patches of the row of nitrate were seen. Where is the swatch for 7 (6-9) of nitrate?"},
		{outline.AskPatch, nil, pad, true, "Not all patches of all rows were seen. Where is the pad of nitrate?"},
		{outline.AskPlace, nil, nil, false, "More than one group of patches could be the chart. Which one is it?"},
		{"news", nil, nil, false, "Is this right?"},
	} {
		assert.Equal(t, k.want, OutlineQuestion(outline.Question{Code: k.code, Analytes: k.analytes}, cabin, k.patch, k.row))
	}
}

func TestOutlineAnswers(t *testing.T) {
	pads := []string{"nitrate", "pH"}
	for _, k := range []struct {
		code   outline.Code
		choice outline.Choice
		at     Lie
		want   string
	}{
		{outline.AskDirection, outline.ChoiceAsShown, Lie{Low: "left"}, "The left end"},
		{outline.AskDirection, outline.ChoiceTurned, Lie{Low: "right"}, "The right end"},
		{outline.AskDirection, outline.ChoiceTurned, Lie{}, "The other way round"},
		{outline.AskRows, outline.ChoiceAsShown, Lie{Rows: pads, From: "top"}, "The rows from the top are of nitrate and pH"},
		{outline.AskRows, outline.ChoiceOther, Lie{Rows: pads, From: "top", Pads: []string{"pH", "nitrate"}, First: "left"},
			"The rows from the top are of nitrate and pH; the pads from the left are of pH and nitrate"},
		{outline.AskRows, outline.ChoiceOther, Lie{Pads: pads, First: "left"}, "The pads from the left are of nitrate and pH"},
		{outline.AskStripEnd, outline.ChoiceAsShown, Lie{Tip: "bottom", Pads: pads}, "The bottom end: from there come nitrate and pH"},
		{outline.AskStripEnd, outline.ChoiceTurned, Lie{}, "The other way round"},
		{outline.AskStrip, outline.ChoiceWithout, Lie{}, "No, the photo shows the chart alone"},
		{outline.AskStrip, outline.ChoiceAsShown, Lie{}, "No, the photo shows the chart alone"},
		{outline.AskStrip, outline.ChoiceOther, Lie{Pads: pads, Spot: true, X: 120.4, Y: 80.6}, "Yes at x 120, y 81"},
		{outline.AskPatch, outline.ChoiceAsShown, Lie{Spot: true, X: 120.4, Y: 80.6}, "Yes at x 120, y 81"},
		{outline.AskPatch, outline.ChoiceAsShown, Lie{}, "Yes, as it is marked"},
		{outline.AskPatch, outline.ChoiceWithout, Lie{}, "No, the photo does not show it"},
		{outline.AskPatch, outline.ChoiceOther, Lie{Spot: true, X: 9, Y: 8}, "No, it is at x 9, y 8"},
		{outline.AskPatch, outline.ChoiceTurned, Lie{}, "No, it is elsewhere"},
		{outline.AskPatch, outline.ChoiceAsShown, Lie{Row: true, Spot: true, X: 9, Y: 8}, "At x 9, y 8"},
		{outline.AskPatch, outline.ChoiceOther, Lie{Row: true, Spot: true, X: 9, Y: 8}, "At x 9, y 8"},
		{outline.AskPatch, outline.ChoiceAsShown, Lie{Row: true}, "Yes, as it is marked"},
		{outline.AskPlace, outline.ChoiceOther, Lie{Spot: true, X: 9, Y: 8}, "The one at x 9, y 8"},
		{outline.AskPlace, outline.ChoiceNone, Lie{Spot: true, X: 9, Y: 8}, "None of these: it is to be marked by hand"},
		{"news", outline.ChoiceAsShown, Lie{}, "Yes, as it is marked"},
		{"news", outline.ChoiceWithout, Lie{}, "Without it"},
		{"news", outline.ChoiceOther, Lie{}, "Another way"},
	} {
		assert.Equal(t, k.want, OutlineAnswer(k.code, k.choice, k.at), "%+v", k)
	}
}

func TestNotOutlined(t *testing.T) {
	for want, why := range map[string]outline.Why{
		"": {},
		"No flat patches that could be the chart were found.": {Code: outline.WhyNoPatches, Wanted: 3},
		"The chart was found, and no strip.":                  {Code: outline.WhyNoStrip},
		"1 row was found, and the chart has 3.":               {Code: outline.WhyRows, Found: 1, Wanted: 3, FoundEach: 6, WantedEach: 6},
		"2 rows were found, and the chart has 3; the longest has 1 patch, and the chart's longest 6.": {
			Code: outline.WhyRows, Found: 2, Wanted: 3, FoundEach: 1, WantedEach: 6},
		"24 rows were seen, and they do not fit the chart's 7; the longest has 6 patches, and the chart's longest 7.": {
			Code: outline.WhyRows, Found: 24, Wanted: 7, FoundEach: 6, WantedEach: 7},
		"3 rows were found; the longest has 5 patches, and the chart's longest 6.": {
			Code: outline.WhyRows, Found: 3, Wanted: 3, FoundEach: 5, WantedEach: 6},
	} {
		assert.Equal(t, want, NotOutlined(why))
	}
}
