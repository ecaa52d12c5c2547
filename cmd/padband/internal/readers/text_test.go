package readers

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
	"padband/charts"
	"padband/charts/units"
	"padband/cmd/padband/internal/lines"
)

// comparedCalls compares calls written as "sample reader value" lines, or with
// more columns under a header of their own.
func comparedCalls(t *testing.T, o agreement.Options, header string, lines ...string) []agreement.Comparison {
	t.Helper()
	calls, err := agreement.Read(strings.NewReader(header + "\n" + strings.Join(lines, "\n") + "\n"))
	require.NoError(t, err)
	all, err := calls.Compare(o)
	require.NoError(t, err)
	return all
}

// nitrateOnly is the bundled chart's nitrate, for calls that name no analyte.
func nitrateOnly(t *testing.T) *charts.Chart {
	c, ok := charts.Find("orchard-well")
	require.True(t, ok)
	c.Analytes = c.Analytes[:1]
	return &c
}

func under(high float64) func(string, units.Unit) (*agreement.Limit, error) {
	return func(string, units.Unit) (*agreement.Limit, error) {
		return &agreement.Limit{Low: math.Inf(-1), High: high, Name: lines.Plain(high) + " mg/L as N"}, nil
	}
}

// pairsOf writes two readers' calls, given as "1 3,7 7" for two samples.
func pairsOf(calls string) (lines []string) {
	for i, p := range strings.Split(calls, ",") {
		a, b, _ := strings.Cut(p, " ")
		lines = append(lines, fmt.Sprintf("s%d,Ann,%s", i+1, a), fmt.Sprintf("s%d,Bob,%s", i+1, b))
	}
	return lines
}

const plainHeader = "sample,reader,value"

func repeatText(s string, n int) string { return strings.TrimSuffix(strings.Repeat(s+",", n), ",") }

// The first three lines of each kind of comparison, as someone reads them who
// knows no statistics: what holds, who is higher, what to do.
func TestFirstThreeLinesDecide(t *testing.T) {
	chart := agreement.Options{Chart: nitrateOnly(t)}
	limit := agreement.Options{Chart: nitrateOnly(t), LimitFor: under(10)}
	for _, c := range []struct {
		calls string
		o     agreement.Options
		want  string
	}{
		{repeatText("3 3", 6) + "," + repeatText("7 7", 6), chart,
			"Ann and Bob agree: within one step in 12 of 12 samples.\nNeither is higher: where both called a number, it was the same.\nEither may call alone. Whether they are right, only a known standard shows.\n"},
		{"3 3,7 7,7 12", limit,
			"Opposite sides of 10 mg/L as N in 1 of 3 samples.\nNeither is clearly higher: they differ by 1.67 mg/L as N on average.\nTest s3 again, or send the water to a laboratory.\n"},
		{repeatText("7 12", 9), limit,
			"Opposite sides of 10 mg/L as N in 9 of 9 samples.\nBob is higher, by 5.00 mg/L as N (5.00 to 5.00).\nSettle together how to call near the limit, then test the samples below again.\n"},
		{repeatText("3 7", 8) + "," + repeatText("1 3", 8), chart,
			"Ann and Bob read the same water differently, one steadily the higher.\nBob is higher, by 3.00 mg/L as N (2.00 to 4.00).\nLet one reader do a whole series; a known standard shows which of them is right.\n"},
		{"3 12,3 12,1 12,3 3", chart,
			"Ann and Bob do not agree: over one step apart in 3 of 4.\nNeither is clearly higher: they differ by 7.25 mg/L as N on average.\nLet both call one strip at one time in one light, and settle how to call near 7.\n"},
		{"3 3,7 7", chart,
			"Too few to tell: nothing speaks against it, but 2 samples cannot show agreement.\nNeither is higher: where both called a number, it was the same.\nLet both call 8 samples more before you take one for the other.\n"},
		{"3 5,7 6,4 4", agreement.Options{},
			"Whether Ann and Bob agree cannot be said: nothing tells how much matters.\nNeither is clearly higher: they differ by 0.33 on average.\nName the chart with --chart, or the limit that matters with --limit.\n"},
		{repeatText("3 4", 12), agreement.Options{LimitFor: under(10)},
			"Ann and Bob read the same water differently, one steadily the higher.\nBob is higher, by 1.00 (1.00 to 1.00).\nLet one reader do a whole series; a known standard shows which of them is right.\n"},
		{repeatText("3 4,4 3", 6), agreement.Options{LimitFor: under(10)},
			"Ann and Bob agree: on the same side of 10 mg/L as N in all 12 samples.\nNeither is clearly higher: Ann is the higher in 6, Bob in 6.\nEither may call alone. Whether they are right, only a known standard shows.\n"},
	} {
		all := comparedCalls(t, c.o, plainHeader, pairsOf(c.calls)...)
		text := Text(all)
		for _, l := range strings.Split(c.want, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80)
		}
		assert.True(t, strings.HasPrefix(text, c.want), "%s\nwant:\n%s\ngot:\n%s", c.calls, c.want, text)
	}
	all := comparedCalls(t, chart, plainHeader, "1,Ann,3", "2,Bob,3")
	assert.True(t, strings.HasPrefix(Text(all), "Nothing can be compared: no sample has a call of both Ann and Bob.\n"))
}

// A share is 0 or 100 per cent only where it is none or all.
func TestSharesAreNotRoundedToCertainty(t *testing.T) {
	for want, s := range map[string]agreement.Share{
		"299 of 300, over 99 % (98 to 100)": {Count: 299, Of: 300, Low: 0.982, High: 0.9999}, "1 of 300, under 1 % (0 to 2)": {Count: 1, Of: 300, Low: 0.0001, High: 0.018},
		"5602 of 50000, 11.2 % (10.9 to 11.5)": {Count: 5602, Of: 50_000, Low: 0.1093, High: 0.1148}, "999 of 1000, over 99 % (99.4 to 100.0)": {Count: 999, Of: 1000, Low: 0.9944, High: 0.99997},
		"300 of 300, 100 % (99 to 100)": {Count: 300, Of: 300, Low: 0.988, High: 1}, "0 of 300, 0 % (0 to 1)": {Of: 300, High: 0.012},
	} {
		assert.Equal(t, want, share(s))
	}
}

// What was called from another strip or at another time is not called a
// disagreement of the readers without saying so.
func TestOtherStripsStandInTheFirstLine(t *testing.T) {
	o := agreement.Options{Chart: nitrateOnly(t), LimitFor: under(10)}
	first := func(lines ...string) string {
		text := Text(comparedCalls(t, o, "sample,reader,value,strip,seconds", lines...))
		return strings.SplitN(text, "\n", 2)[0]
	}
	assert.Equal(t, "Opposite sides of 10 mg/L as N in 1 of 1 sample (all with other strip or time).", first("1,A,7,a,60", "1,B,12,b,60"))
	assert.Equal(t, "Opposite sides of 10 mg/L as N in 2 of 2 samples (1 with other strip or time).", first("1,A,7,a,60", "1,B,12,a,60", "2,A,7,c,60", "2,B,12,c,90"))
	assert.Equal(t, "A and B are over one step apart in 1 of 1 (all with other strip or time).", first("1,A,1,a,60", "1,B,7,b,60"))
}

// Calls made from a screen are said to be.
func TestScreenCallsAreSaid(t *testing.T) {
	all := comparedCalls(t, agreement.Options{}, "sample,reader,value,source", "1,A,7,screen", "1,B,7,", "2,A,7,screen", "2,B,7,")
	text := Text(all)
	assert.Contains(t, text, "A called from: screen. A screen shows colours otherwise than the strip in the\nhand.\n")
	assert.NotContains(t, text, "B called from")
	data, err := JSON(all[0], "test")
	require.NoError(t, err)
	assert.Contains(t, string(data), `"sources":[["screen"],[]]`)
}

// hostileComparisons are comparisons of every kind with names that would break a layout.
func hostileComparisons(t *testing.T) (all []agreement.Comparison) {
	r := rand.New(rand.NewPCG(1, 2))
	long := strings.Repeat("reader", 20)
	var rows []string
	for i := range 60 {
		a, b := r.IntN(26), r.IntN(26)
		rows = append(rows, fmt.Sprintf("<b>%d\x1b[31m%s,%s,%d,%d", i, long, long, a, a), fmt.Sprintf("<b>%d\x1b[31m%s,=B\u202e,%d-%d,", i, long, b, b+3))
	}
	all = comparedCalls(t, agreement.Options{Chart: nitrateOnly(t), LimitFor: under(10)}, "sample,reader,value,reference", rows...)
	all = append(all, comparedCalls(t, agreement.Options{LimitFor: under(10)}, plainHeader, pairsOf("<1 1,>25 25,3-7 7,7 7,0 <1")...)...)
	all = append(all, comparedCalls(t, agreement.Options{}, plainHeader, "1,A,1000000000", "1,B,0.000001", "2,A,5", "2,B,4")...)
	all = append(all, comparedCalls(t, agreement.Options{}, plainHeader, "1,A,>5", "1,B,<2")...)
	all = append(all, comparedCalls(t, agreement.Options{}, plainHeader, pairsOf("1000000001 1000000002,1000000003 1000000004,1000000005 1000000006,1000000007 1000000008")...)...)
	return append(all, comparedCalls(t, agreement.Options{}, plainHeader, "1,A,5", "2,B,2")...)
}

func TestCompareTextKeepsToEightyColumns(t *testing.T) {
	all := hostileComparisons(t)
	for _, text := range []string{Text(all), Text(all[:1])} {
		for _, l := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80, l)
		}
		assert.NotContains(t, text, "\x1b")
		assert.NotContains(t, text, "NaN")
		assert.NotContains(t, text, "Inf")
	}
}

// The JSON has the fields that the format names; what is null has its reason.
func TestCompareJSON(t *testing.T) {
	for _, c := range hostileComparisons(t) {
		data, err := JSON(c, "test")
		require.NoError(t, err)
		var got map[string]any
		require.NoError(t, json.Unmarshal(data, &got))
		for _, k := range []string{"format", "readers", "analyte", "pairs", "left_out", "unit", "opposite_sides_of_limit", "bias", "spread", "limits_of_agreement", "within_one_step", "raw_agreement", "kappa", "weighted_kappa", "verdict", "not_defined"} {
			assert.Contains(t, got, k)
		}
		why := got["not_defined"].(map[string]any)
		for _, k := range []string{"opposite_sides_of_limit", "bias", "limits_of_agreement", "within_one_step", "raw_agreement", "kappa", "steps"} {
			if got[k] == nil {
				assert.NotEmpty(t, why[k], k)
			}
		}
	}
	c := comparedCalls(t, agreement.Options{}, plainHeader, pairsOf("494 512,395 430,516 520,434 428")...)[0]
	data, err := JSON(c, "test")
	require.NoError(t, err)
	assert.Contains(t, string(data), `"limits_of_agreement":{"factor":1.96,"low":{"value":`)
	assert.Contains(t, string(data), `"bias":{"value":-12.75,`) // (-18-35-4+6)/4
}

func TestCompareCSV(t *testing.T) {
	data, err := CSV(hostileComparisons(t))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 1+60+5+2+1+4)
	for _, row := range rows[1:] {
		assert.NotContains(t, "=+@", row[7][:1], "no formula")
	}
}

// The page is well-formed, holds no markup of the data and nothing from elsewhere.
func TestCompareHTML(t *testing.T) {
	page, err := HTML("<i>calls.csv", hostileComparisons(t))
	require.NoError(t, err)
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.Entity = true, xml.HTMLEntity
	decision, folded := false, 0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		assert.NotContains(t, []string{"script", "b", "i", "link", "iframe"}, e.Name.Local)
		for _, a := range e.Attr {
			if a.Name.Local == "class" && a.Value == "compare-decision" {
				decision = true
			}
			if a.Name.Local == "src" {
				assert.True(t, strings.HasPrefix(a.Value, "data:image/svg+xml;base64,"))
			}
		}
		if e.Name.Local == "details" {
			assert.True(t, decision, "the decision comes before the figures")
			folded++
		}
	}
	assert.Equal(t, 15, folded)
}

// Figures are drawn for every comparison that has data: a readable PNG of the
// size meant, with ink on it, and an SVG that is well-formed.
func TestCompareDrawings(t *testing.T) {
	names := 0
	for i, c := range hostileComparisons(t) {
		drawings, err := Drawings(c)
		require.NoError(t, err)
		for _, d := range drawings {
			names++
			img, err := png.Decode(bytes.NewReader(d.PNG))
			require.NoError(t, err)
			assert.InDelta(t, 4.2*192, img.Bounds().Dx(), 2)
			dark := 0
			for y := range img.Bounds().Dy() {
				for x := range img.Bounds().Dx() {
					if r, _, _, _ := img.At(x, y).RGBA(); r < 0x4000 {
						dark++
					}
				}
			}
			assert.Greater(t, dark, 1000, "%d %s", i, d.Name)
			assert.Contains(t, string(d.SVG), "</svg>")
			assert.NotEmpty(t, d.Alt)
			for dec := xml.NewDecoder(bytes.NewReader(d.SVG)); ; {
				if _, err := dec.Token(); err == io.EOF {
					break
				} else if !assert.NoError(t, err) {
					break
				}
			}
		}
	}
	assert.Equal(t, 2+2+2+1+2, names, "no differences of open ends, and nothing of no pairs")
}

// 50,000 samples are drawn as rings for those that fall together, in a bounded file.
func TestManySamplesAreDrawnTogether(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var rows []string
	for i := range 50_000 {
		v := 20 * r.Float64()
		rows = append(rows, fmt.Sprintf("%d,A,%.3f", i, v), fmt.Sprintf("%d,B,%.3f", i, v+r.NormFloat64()))
	}
	c := comparedCalls(t, agreement.Options{}, plainHeader, rows...)[0]
	d, err := Drawings(c)
	require.NoError(t, err)
	require.Len(t, d, 1)
	assert.Less(t, strings.Count(string(d[0].SVG), "<path"), 14_400+100, "120 places each way, and the axes")
}
