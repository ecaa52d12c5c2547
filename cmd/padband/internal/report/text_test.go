package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// good is a light that leaves nothing to say.
var good = calib.LightReport{Reliability: calib.Good}

// The whole text of one photo, as a person sees it.
func TestWholeText(t *testing.T) {
	r := reporttest.Nitrate()
	r.Reliability = calib.Caution
	r.Warnings = []calib.Warning{{Code: "glare", Seen: "20 % of the pad shines and was left out. Tilt the phone or move " +
		"the lamp so that nothing mirrors in it.", Weight: calib.Caution}}
	s := source(r)
	s.Light.Warnings = []calib.Warning{{Code: "no-profile", Seen: "The photo says nothing of its colour space."}}
	s.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	assert.Equal(t, `kitchen.jpg, read against "Orchard well"
Photo taken 2026-11-14 08:41:10 -05:00

Nitrate, mg/L as N                                              Doubtful reading
  Between 3 and 7; reads 5.0. Colour read as 4.0 to 6.0.
  The water may be 3.0 to 7.0 (the strip's own error counted, assumed as half a
  step).
         0               1               3               7              11
         |---------------|---------------|---------------|---------------|
  colour                                     ====O====
  water                                  -----------------
  - 20 % of the pad shines and was left out. Tilt the phone or move the lamp so
    that nothing mirrors in it. [glare]

The photo
  - The photo says nothing of its colour space. [no-profile]

Not read
  - no pad is marked for pH: skipped

These ranges are made to hold the true value 95 times in 100. "Colour read as"
counts the errors of reading the colour; "the water may be" counts the strip's
own error too. A strip is a screening test: what matters to health is for a
certified laboratory and the local health authority.
`, Text(s)+Meaning())
}

func TestSentences(t *testing.T) {
	for _, k := range []struct {
		what, want string
		change     func(r *calib.Reading)
	}{
		{"within", "Between 3 and 7; reads 5.0. Colour read as 4.0 to 6.0.", func(*calib.Reading) {}},
		{"within, open", "Between 7 and 11; reads 10.0. Colour read as 8.0 or more.", func(r *calib.Reading) {
			r.Value, r.Bracket, r.Band.Low.Value, r.Band.High = 10, [2]float64{7, 11}, 8, calib.Bound{Value: 11, Open: true}
		}},
		{"above", "11 or more; could be as low as 9.0. To get a value, mix one part of the water with one part of distilled " +
			"water, dip a new strip in the mixture and read it as diluted 1+1. The figure is then doubled for you.", func(r *calib.Reading) {
			r.Range, r.Value, r.Band.Low.Value, r.Band.High = calib.Above, 11, 9, calib.Bound{Value: 11, Open: true}
		}},
		{"above, pH: no dilution", "11 or more; could be as low as 9.0. This chart ends there, so it cannot show how much " +
			"more. Another test with a longer scale can.", func(r *calib.Reading) {
			r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = "pH", "pH", ""
			r.Range, r.Value, r.Band.Low.Value, r.Band.High = calib.Above, 11, 9, calib.Bound{Value: 11, Open: true}
		}},
		{"below", "1 or less; could be as high as 2.0.", func(r *calib.Reading) {
			r.Swatches, r.Analyte.Swatches = r.Swatches[1:], r.Analyte.Swatches[1:]
			r.Range, r.Value, r.Band.Low, r.Band.High.Value = calib.Below, 1, calib.Bound{Value: 1, Open: true}, 2
		}},
		{"above, and no lower", "11 or more. This chart ends there, so it cannot show how much more. Another test with a longer " +
			"scale can.", func(r *calib.Reading) {
			r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = "pH", "pH", ""
			r.Range, r.Value, r.Band.Low.Value, r.Band.High = calib.Above, 11, 11, calib.Bound{Value: 11, Open: true}
		}},
		{"near zero", "Between 0 and 1, at or near 0; reads 0.04. Colour read as 0 to 0.40.", func(r *calib.Reading) {
			r.Value, r.Bracket, r.Band.Low.Value, r.Band.High.Value = 0.04, [2]float64{0, 1}, 0, 0.4
		}},
		{"low but not near zero", "Between 0 and 1; reads 0.20. Colour read as 0 to 0.40.", func(r *calib.Reading) {
			r.Value, r.Bracket, r.Band.Low.Value, r.Band.High.Value = 0.2, [2]float64{0, 1}, 0, 0.4
		}},
		{"near zero and known not to be zero", "Between 0 and 1; reads 0.08. Colour read as 0.01 to 0.40.", func(r *calib.Reading) {
			r.Value, r.Bracket, r.Band.Low.Value, r.Band.High.Value = 0.08, [2]float64{0, 1}, 0.01, 0.4
		}},
	} {
		r := reporttest.Nitrate()
		k.change(&r)
		assert.Equal(t, k.want, words.Say(r, good).OfColour(strip.Meaning{}), k.what)
		assert.Contains(t, reporttest.Flat(padText(r, good, strip.Meaning{})), k.want, k.what)
	}
}

// A range that says nothing is said in words.
func TestWholeChart(t *testing.T) {
	r := reporttest.Nitrate()
	r.Band = calib.Band{Low: calib.Bound{Value: 0.0004}, High: calib.Bound{Value: 11, Open: true}}
	r.WaterBand = r.Band
	got := padText(r, good, strip.Meaning{})
	assert.Contains(t, got, "  Between 3 and 7; reads 5.0. The colour fits the whole chart.\n"+
		"  The water may be anything on the chart or past its end (the strip's own error\n  counted, assumed as half a step).\n")
	r.Range, r.Value = calib.Above, 11
	assert.Contains(t, reporttest.Flat(padText(r, good, strip.Meaning{})), "11 or more; the colour fits the whole "+
		"chart. To get")
}

func TestWaterNamesItsKitError(t *testing.T) {
	r := reporttest.Nitrate()
	assert.Contains(t, padText(r, good, strip.Meaning{}),
		"  The water may be 3.0 to 7.0 (the strip's own error counted, assumed as half a\n  step).\n")
	r.KitAssumed = false
	assert.Contains(t, padText(r, good, strip.Meaning{}), "  The water may be 3.0 to 7.0 (the strip's own error counted).\n")
}

func TestPresenceSentences(t *testing.T) {
	for yes, want := range map[float64]string{
		0.999: `Shows "present", not "none" (over 99 %).`,
		0.96:  `Shows "present", not "none" (96 %).`,
		0.04:  `Shows "none", not "present" (96 %).`,
		1:     `Shows "present", not "none" (over 99 %).`,
		0.3:   `Cannot tell "none" from "present" in this photo (30 % for "present").`,
	} {
		got := padText(reporttest.PresencePad(yes), good, strip.Meaning{})
		assert.Contains(t, got, "  "+want+"\n")
		assert.NotContains(t, got, "water may be", "a presence pad has no scale")
		assert.NotContains(t, got, "|--")
	}
	r := reporttest.PresencePad(0.96)
	r.Swatches[0].Label, r.Swatches[1].Label = "", ""
	assert.Contains(t, padText(r, good, strip.Meaning{}), `Shows "1", not "0" (96 %).`)
}

func TestTwoHills(t *testing.T) {
	r := reporttest.Nitrate()
	r.Band.Hills = [][2]float64{{4, 4.5}, {5.5, 6}}
	got := padText(r, good, strip.Meaning{})
	assert.Contains(t, got, "  The colour fits separate places: 4.0 to 4.5, or 5.5 to 6.0.\n")
	assert.NotContains(t, padText(reporttest.Nitrate(), good, strip.Meaning{}), "separate")
}

func TestHeadings(t *testing.T) {
	r := reporttest.Nitrate()
	r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = "pH", "pH", ""
	assert.True(t, strings.HasPrefix(padText(r, good, strip.Meaning{}), "pH  "))
	r.Analyte.Name = "åkerite"
	assert.True(t, strings.HasPrefix(padText(r, good, strip.Meaning{}), "Åkerite, pH  "))
	r.Analyte.Name = strings.Repeat("x", lines.Width-15-len(", pH")) // two columns before the grade
	assert.True(t, strings.HasPrefix(padText(r, good, strip.Meaning{}), "X"+r.Analyte.Name[1:]+", pH  Clear reading\n"))
	r.Analyte.Name += "x"
	assert.True(t, strings.HasPrefix(padText(r, good, strip.Meaning{}), "X"+r.Analyte.Name[1:]+", pH\n"+strings.Repeat(" ", 67)+"Clear reading\n"))
	s := source()
	s.Chart.Title = ""
	assert.Contains(t, Text(s), `read against "orchard-well"`)
}

// Whatever the names and however many swatches, no line is over 80 columns and
// nothing steers the terminal.
func TestNothingLeavesTheColumns(t *testing.T) {
	for _, n := range []int{2, 3, 7, 20, 64, 65, 200} {
		r := reporttest.Nitrate()
		r.Analyte.Name = strings.Repeat("long name ", n%9+1) + strings.Repeat("x", 2*n)
		r.Analyte.Swatches, r.Swatches = nil, nil
		for i := range n {
			v := 1000.5 * float64(i)
			r.Analyte.Swatches = append(r.Analyte.Swatches, charts.Swatch{Value: v})
			r.Swatches = append(r.Swatches, calib.SwatchColour{Value: v})
		}
		r.Band.Low.Open, r.Band.High.Open = true, true
		r.Warnings = []calib.Warning{{Code: "x", Seen: strings.Repeat("§", 300)}}
		s := source(r)
		s.File = strings.Repeat("\x1b[31mred", 30) + ".jpg"
		text := Text(s)
		assert.NotContains(t, text, "\x1b")
		for _, l := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80, "%d swatches: %s", n, l)
			assert.Equal(t, strings.TrimRight(l, " "), l)
		}
		assert.Equal(t, 300, strings.Count(text, "§"), "nothing of a long word is lost")
	}
}

// What nobody said of kit and times stands once, not under each reading.
func TestWhatIsNotKnownIsSaidOnce(t *testing.T) {
	in := reporttest.ReadDemo(t, "kitchen")
	s := Of("kitchen.jpg", "", "1", in)
	assert.NotContains(t, Text(s), "Not known")
	w := calib.Warning{Code: "no-dip-time", Seen: "The time of the dip is not known.", Weight: calib.Good}
	for i := range s.Readings {
		s.Readings[i].Add(w)
	}
	text := Text(s)
	assert.Equal(t, 1, strings.Count(text, w.Text()))
	assert.Contains(t, text, "\nNot known\n  - The time of the dip is not known. [no-dip-time]\n")
	html, err := HTML(s, nil)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(html, w.Text()))
	assert.Contains(t, html, "<h3>Not known</h3>")
}

func TestUndatedPhoto(t *testing.T) {
	s := source(reporttest.Nitrate())
	s.Photo.Taken = ""
	assert.NotContains(t, Text(s), "Photo taken")
}
