package history

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	bitmap "image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
)

// bandOf is a closed band.
func bandOf(low, high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: high}, Coverage: 0.95}
}

// millLane is an invented series: two lots, the last reading past the chart.
func millLane() Series {
	s := Series{Analyte: "nitrate", Unit: "mg/L as N", Where: "Mill Lane 7, raw", Place: "Mill Lane 7", Point: "raw",
		Result: judge.TrendResult{Word: judge.Rising, Records: 3, Sources: 2, Up: 2, Down: 0, Open: 1, Tau: 0.8, P: 0.0123, Exact: true},
		Limit:  &SeriesLimit{Text: "10 mg/L as N", Low: math.NaN(), High: 10, Past: 1, MayBe: 1},
		Notes:  []string{"1 record in mg/L left out: that cannot be converted into mg/L as N of the others."}}
	for i, v := range []float64{4.03, 9.72, 25} {
		s.Rows = append(s.Rows, Row{Time: time.Date(2025, time.Month(1+4*i), 10, 8, 30, 0, 0, time.FixedZone("",
			-5*3600)), Value: v, Band: bandOf(v-1.2, v+1.4),
			Water: bandOf(v-2, v+2.5), Range: calib.Within, Reliability: calib.Good, Lot: "OW-2418",
			Chart: "orchard-well 2", ChartSHA256: "cd", Path: "r/x"})
	}
	last := &s.Rows[2]
	last.Range, last.Reliability, last.Lot, last.NewLot, last.NewChart, last.Converted = calib.Above, calib.Unreliable,
		"", true, true, "mg/L as NO3"
	last.Band.High, last.Water.High = calib.Bound{Value: 25, Open: true}, calib.Bound{Value: 25, Open: true}
	return s
}

func TestTrendText(t *testing.T) {
	assert.Equal(t, `Nitrate, mg/L as N: Mill Lane 7, raw
  Rising: p 0.012, 3 records of 2 kit lots and charts.
  Of 3 pairs of records 2 go up and 0 down by more than their ranges, 1 stay
  open; tau +0.80.
  Test: Mann-Kendall, two-sided at 5 %, each pair counted by how surely its
  ranges put it in order; between lots the ranges of the water count, and lots
  as a whole; exact.
  Limit 10 mg/L as N: 1 value of 3 over, 1 more may be over.

  taken            reads  colour        water may be
  -- kit lot OW-2418, chart orchard-well 2
  2025-01-10         4.0  2.8 to 5.4    2.0 to 6.5
  2025-05-10         9.7  8.5 to 11.1   7.7 to 12.2
  -- kit lot not given, chart orchard-well 2
  2025-09-10  25 or more  23.8 or more  23.0 or more  do not use, converted

  - 1 record in mg/L left out: that cannot be converted into mg/L as N of the
    others.
`, Text(millLane()))
}

func TestTrendWords(t *testing.T) {
	for _, c := range []struct {
		r    judge.TrendResult
		want []string
	}{
		{judge.TrendResult{Word: judge.TooFew, Records: 4, Sources: 1}, []string{"Too few records to show a change: 4 " +
			"records of 1 kit lot and chart.", "needs five of one lot"}},
		{judge.TrendResult{Word: judge.NoChange, P: 0.0502, Records: 5, Sources: 1, Exact: true},
			[]string{"No change shown: p just over 0.05", "does not show that nothing changed", "all of one lot"}},
		{judge.TrendResult{Word: judge.Falling, P: 1e-9, Records: 40, Sources: 40, Tau: -0.5},
			[]string{"Falling: p under 0.001", "tau −0.50", "a lot of its own", "normal approximation"}},
		{judge.TrendResult{Word: judge.Rising, P: 0.05, Records: 9, Sources: 2, Mixed: true},
			[]string{"Rising: p 0.050", "lots alternate"}},
	} {
		text := strings.Join(trendWords(c.r), "\n")
		for _, w := range c.want {
			assert.Contains(t, text, w)
		}
	}
}

// Names from a file do not steer the terminal, nor pass its width.
func TestTrendTextKeepsToTheTerminal(t *testing.T) {
	s := millLane()
	s.Where, s.Rows[0].Lot, s.Rows[0].Chart = "\x1b[2J"+strings.Repeat("w", 200), strings.Repeat("l", 100)+"\x1b", "c\nd"
	s.Rows[1].Time = s.Rows[0].Time.Add(time.Hour) // the clock is shown too
	for _, r := range []*Row{&s.Rows[0], &s.Rows[1]} {
		r.Band, r.Water, r.Value = bandOf(1234.5678, 1234.9), bandOf(1200.123, 1300.456), 1234.7
	}
	wide := Text(s)
	assert.Contains(t, wide, "1234.57 to 1234.90")
	assert.Contains(t, wide, "\n     do not use, converted\n")
	s.Rows[2].Reliability = calib.Good
	assert.Contains(t, Text(s), "1234.6 to 1234.9  1200.1 to 1300.5")
	text := wide + Text(s) + Meaning()
	assert.NotContains(t, text, "\x1b")
	assert.Contains(t, text, "2025-01-10 09:30")
	for l := range strings.Lines(text) {
		assert.LessOrEqual(t, len([]rune(strings.TrimSuffix(l, "\n"))), 80, l)
	}
}

func TestTrendCSV(t *testing.T) {
	s := millLane()
	s.Rows[1].Lot = "=1+1"
	data, err := CSV([]Series{s, s})
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 7)
	at := func(row int, column string) string {
		for i, h := range rows[0] {
			if h == column {
				return rows[row][i]
			}
		}
		return "no such column"
	}
	assert.Equal(t, []string{"2025-01-10T08:30:00", "4.03", "2.83", "5.43", "good", "OW-2418", ""},
		[]string{at(1, "taken"), at(1, "value"), at(1, "band_low"), at(1, "band_high"), at(1, "reliability"),
			at(1, "kit_lot"), at(1, "new_lot")})
	assert.Equal(t, "'=1+1", at(2, "kit_lot"))
	assert.Equal(t, []string{"25", "23.8", "", "", "above", "yes", "yes", "mg/L as NO3", "r/x"},
		[]string{at(3, "value"), at(3, "band_low"), at(3, "band_high"), at(3, "water_high"), at(3, "range"),
			at(3, "new_lot"), at(3, "new_chart"), at(3, "converted_from"), at(3, "record")})
}

func TestTrendPlotAsSVG(t *testing.T) {
	s := millLane()
	s.Where = "Mill & Co <7>"
	data, err := Plot(s, "svg")
	require.NoError(t, err)
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else {
			require.NoError(t, err)
		}
	}
	text := string(data)
	for _, want := range []string{"<title>Nitrate, mg/L as N: Mill &amp; Co &lt;7&gt;</title>", "<desc>Rising: p 0.012",
		"limit 10", "kit lot not given, chart", "ring: do not use", "Jan 2025", "mg/L as N"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "font-family:Liberation Sans;")
	again, err := Plot(s, "svg")
	require.NoError(t, err)
	assert.Equal(t, data, again)
	_, err = Plot(s, "bmp")
	assert.ErrorContains(t, err, "svg or png")
}

// ink is how many dark pixels lie in a part of a picture, given in its hundredths.
func ink(img bitmap.Image, x0, y0, x1, y1 int) (n int) {
	b := img.Bounds()
	for y := b.Dy() * y0 / 100; y < b.Dy()*y1/100; y++ {
		for x := b.Dx() * x0 / 100; x < b.Dx()*x1/100; x++ {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				n++
			}
		}
	}
	return n
}

// underTheTop is how many dark pixels lie side by side a little under the highest
// of those at the right.
func underTheTop(img bitmap.Image) (n int) {
	b := img.Bounds()
	for y := range b.Dy() {
		for x := b.Dx() * 80 / 100; x < b.Dx(); x++ {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				for x := b.Dx() * 80 / 100; x < b.Dx(); x++ {
					if r, _, _, _ := img.At(x, y+12).RGBA(); r < 0x8000 {
						n++
					}
				}
				return n
			}
		}
	}
	return n
}

func TestTrendPlotAsPNG(t *testing.T) {
	draw := func(change func(*Series)) bitmap.Image {
		s := millLane()
		change(&s)
		data, err := Plot(s, "png")
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		assert.Equal(t, bitmap.Pt(1200, 900), img.Bounds().Size())
		return img
	}
	all := draw(func(*Series) {})
	closed := draw(func(s *Series) {
		s.Rows[2].Band.High, s.Rows[2].Water.High = calib.Bound{Value: 26}, calib.Bound{Value: 29}
	})
	assert.Greater(t, ink(all, 80, 0, 100, 15), ink(closed, 80, 0, 100, 15)+40, "an open end runs to the top")
	assert.GreaterOrEqual(t, underTheTop(all), 6, "and ends in an arrow: three strokes under its point, not one")
	assert.Less(t, underTheTop(closed), 6)
	none := draw(func(s *Series) { s.Limit = nil })
	assert.Greater(t, ink(all, 12, 0, 30, 80), ink(none, 12, 0, 30, 80)+100, "the limit's line and its text stand left of the records")
	for _, change := range []func(*Series){
		func(s *Series) { s.Rows = s.Rows[:1] }, func(s *Series) { s.Rows[0].Value = math.NaN() },
		func(s *Series) {
			s.Rows = s.Rows[:1]
			s.Rows[0].Value, s.Rows[0].Band, s.Rows[0].Water, s.Limit = 0, bandOf(0, 0), bandOf(0, 0), nil
		},
	} {
		assert.Positive(t, ink(draw(change), 0, 0, 100, 100), "drawn with what there is")
	}
}
