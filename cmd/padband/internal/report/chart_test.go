package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/charts"
)

// shed is an invented chart with one of everything.
func shed() charts.Chart {
	at := func(values ...float64) (out []charts.Swatch) {
		for _, v := range values {
			out = append(out, charts.Swatch{Value: v})
		}
		return out
	}
	return charts.Chart{
		Name: "shed", Version: "3", Title: "Garden shed", Note: "Invented.\r\nTwo lines.", KitLifeDays: 90, Handling: []string{"Dip."},
		Strip: []string{"pH", "coliforms", "nitrate"},
		Analytes: []charts.Analyte{
			{Name: "nitrate", Unit: "mg/L", As: "N", RespondsTo: []string{"nitrate", "nitrite", "light"}, Parts: 1, Palest: charts.PalestLowest,
				ReadWindow: &[2]float64{30, 60.5},
				SpoiledBy:  []charts.Spoiler{{Analyte: "pH", Over: 5.5, How: charts.SpoilDisturbs, Source: "lot sheet"}},
				KitError:   &charts.KitError{Steps: 0.5, Source: "sheet"},
				Swatches:   append(at(0, 2.5), charts.Swatch{Value: 7, Label: "7 (6-9)"})},
			{Name: "pH", Unit: "pH", Parts: 4, Swatches: at(5, 6)},
			{Name: "coliforms", Kind: charts.KindPresence, Parts: 1, Swatches: []charts.Swatch{{Label: "no"}, {Value: 1, Label: "yes"}}},
		},
	}
}

func TestChartText(t *testing.T) {
	assert.Equal(t, `shed, version 3
Garden shed
Invented.
Two lines.
Use within 90 days of opening.
The strip's pads, from the dipped tip: pH, coliforms, nitrate.

nitrate, mg/L as N
  answers to nitrate, nitrite and light
  swatches           0, 2.5, 7 (6-9)
  pale end           the lowest swatch
  read after         30 to 60.5 s
  spoiled by         pH over 5.5 pH, which disturbs it; lot sheet
  strip's own error  half a step (95 %), sheet

pH
  swatches           5, 6
  parts              4 pads, read together
  strip's own error  not given; half a step is assumed

coliforms, yes or no
  swatches           no, yes

handling
  Dip.
`, ChartText(shed()))
}

func TestKitErrorText(t *testing.T) {
	for steps, want := range map[float64]string{0.5: "half a step", 0.7: "0.7 of a step", 1: "1 step", 1.5: "1.5 steps"} {
		assert.Equal(t, want+" (95 %)", kitError(&charts.KitError{Steps: steps}))
	}
	assert.Equal(t, "half a step (95 %), three lots", kitError(&charts.KitError{Steps: 0.5, Source: "three lots"}))
}

// Whatever a chart file holds, no line is over 80 columns and nothing steers
// the terminal.
func TestChartTextKeepsToTheColumns(t *testing.T) {
	c := shed()
	long := strings.Repeat("word ", 40) + strings.Repeat("x", 200) + "\x1b[2J"
	c.Name, c.Title, c.Note, c.Handling = long, long, long, []string{long}
	c.Strip = []string{long, "pH"}
	a := &c.Analytes[0]
	a.Name, a.Unit, a.RespondsTo, a.KitError.Source = long, long, []string{long, long}, long
	for range 60 {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: 1234.5})
	}
	text := ChartText(c)
	assert.NotContains(t, text, "\x1b")
	for _, l := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(l)), 80, l)
	}
	assert.Contains(t, text, "\n"+strings.Repeat(" ", 21)+"1234.5, ", "a list goes on under its beginning")
}

func TestPaleEndText(t *testing.T) {
	for end, want := range map[charts.Palest]string{"": "", "lowest": "the lowest swatch", "highest": "the highest swatch", "neither": "neither"} {
		assert.Equal(t, want, paleEnd(end))
	}
}
