package charts

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts/strict"
)

// goodChart is the chart that the faulty ones are made from by replacing text.
const goodChart = `{"format": 1, "chart": "brook", "version": "1", "title": "Brook", "note": "Invented.", "handling": ["Dip."], "kit_life_days": 90,
 "analytes": [
  {"name": "nitrate", "unit": "mg/L", "as": "N", "responds_to": ["nitrate"], "kind": "scale", "spacing": "auto", "parts": 1,
   "read_window_s": [45, 75], "kit_error": {"steps": 0.5, "source": "invented"}, "palest": "lowest",
   "spoiled_by": [{"analyte": "iron", "over": 0.3, "how": "disturbs", "source": "a sheet"}, {"analyte": "nitrate", "over": 80, "how": "bleaches", "source": "b"}],
   "swatches": [{"value": 0}, {"value": 2}, {"value": 5, "label": "five"}]},
  {"name": "iron", "kind": "presence", "swatches": [{"value": 0}, {"value": 1}]}],
 "strip": ["iron", "nitrate"],
 "layout": {"cells": [
  {"role": "swatch", "analyte": "nitrate", "value": 0, "polygon": [[0.1,0.1],[0.2,0.1],[0.2,0.2],[0.1,0.2]]},
  {"role": "swatch", "analyte": "nitrate", "value": 2, "rect": [0.3, 0.1, 0.1, 0.1]},
  {"role": "white", "material": "card", "circle": [0.8, 0.8, 0.1]}]}}`

// goodMarks is the marks file that the faulty ones are made from.
const goodMarks = `{"format": 1, "photo": {"width": 400, "height": 300, "sha256": "` + goodHash + `"}, "chart": "brook",
 "looked": {"by": "A", "at": "2026-11-25T14:05:00-05:00", "moved": ["pad nitrate"]}, "asked": ["direction"],
 "corners": [[10,10],[210,10],[210,110],[10,110]],
 "regions": [
  {"role": "pad", "analyte": "nitrate", "part": 1, "polygon": [[300,10],[320,10],[320,30],[300,30]]},
  {"role": "swatch", "analyte": "nitrate", "value": 5, "part": 1, "rect": [110, 20, 20, 20]},
  {"role": "white", "material": "paper", "circle": [350, 250, 20]}],
 "sample": {"place": "Kitchen", "point": "tap", "reader": "A", "taken": "2026-11-25T14:03:10-05:00", "dipped": "2026-11-25T14:02:05-05:00",
  "strip": "1", "dilution": "1+1", "kit": {"lot": "7", "expires": "2027-05", "opened": "2026-09-01"}, "note": "First.\nSecond.", "bleach_ruled_out": true}}`

const goodHash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

// fault is one edit of a good file and the line it must bring.
type fault struct{ old, new, want string }

func testFaults(t *testing.T, good string, parse func([]byte) error, faults []fault) {
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

func parseChart(data []byte) error { _, err := ParseChart(data); return err }
func parseMarks(data []byte) error { _, err := ParseMarks(data); return err }

// TestWholeFileFaults holds for both files: what is refused before any field is read.
func TestWholeFileFaults(t *testing.T) {
	for _, f := range []struct{ data, want string }{
		{"", "is empty; write it anew"},
		{" \r\n", "is empty; write it anew"},
		{"\xef\xbb\xbf", "is empty; write it anew"},
		{"\xff\xfe{\x00}\x00", "is not UTF-8 text; save it as UTF-8"},
		{"{\n\"a\" 1}", "is not JSON at line 2, column 5: invalid character '1' after object key; mend it there"},
		{"{} {}", "is not JSON at line 1, column 4: invalid character '{' after top-level value; mend it there"},
		{`{"analytes": [`, "is not JSON at line 1, column 14: unexpected end of JSON input; mend it there"},
		{`{"chart": NaN}`, "is not JSON at line 1, column 11: invalid character 'N' looking for beginning of value; mend it there"},
		{"[]", "is a list, not an object; write it in { }"},
		{"null", "is null, not an object; write it in { }"},
		{"3", "is the number 3, not an object; write it in { }"},
		{`"chart"`, `is the text "chart", not an object; write it in { }`},
		{`{"format": 1, "format": 1}`, "format: is there twice; keep one of them"},
		{`{"FORMAT": 1}`, "FORMAT: is not a field here; write format"},
		{`{"format": 7, "new field": 1}`, "format: is 7, and this program knows format 1 only; use a newer version of the program, or save the file in format 1"},
		{`{"format": 0}`, "format: is 0; write a whole number from 1 to 1000000000"},
		{`{"format": "1"}`, `format: is the text "1", not a number; write a number without quotes`},
		{`{"\u001b[31m": 1, "\u001b[31m": 1}`, `["\x1b[31m"]: is there twice; keep one of them`},
		{strings.Repeat("[", 33) + strings.Repeat("]", 33), "is nested over 32 levels deep; remove the inner ones"},
		{"[" + strings.Repeat("0,", 200_000) + "0]", "holds over 200000 values; make it smaller"},
		{strings.Repeat(" ", 4<<20) + "{}", "is 4194306 bytes, over the limit of 4194304; make it smaller"},
	} {
		for _, parse := range []func([]byte) error{parseChart, parseMarks} {
			err := parse([]byte(f.data))
			if assert.Error(t, err, "%.40q", f.data) {
				assert.Equal(t, f.want, err.Error())
				assert.IsType(t, &strict.FileError{}, err)
			}
		}
	}
}

func TestByteOrderMarkIsPassedOver(t *testing.T) {
	bare, err := ParseChart([]byte(goodChart))
	require.NoError(t, err)
	marked, err := ParseChart([]byte("\xef\xbb\xbf" + goodChart))
	require.NoError(t, err)
	assert.Equal(t, bare, marked)
}

func TestChartFaults(t *testing.T) {
	testFaults(t, goodChart, parseChart, []fault{
		{`"chart": "brook"`, `"chart": ""`, "chart: is empty; write a name"},
		{`"chart": "brook", `, "", "chart: is missing; add it"},
		{`"brook"`, `" brook"`, `chart: has spaces at its ends: " brook"; remove them`},
		{`"brook"`, `"../brook"`, `chart: is "../brook", with a '.'; choose a name that a file can have`},
		{`"brook"`, `"a/b"`, `chart: is "a/b", with a '/'; choose a name that a file can have`},
		{`"brook"`, `"a\\b"`, `chart: is "a\\b", with a '\\'; choose a name that a file can have`},
		{`"brook"`, `"br\u001b[2Jook"`, "chart: holds the control character U+001B; remove it"},
		{`"Brook"`, `"Br\u202eook"`, "title: holds the control character U+202E; remove it"},
		{`"brook"`, `"` + strings.Repeat("å", 81) + `"`, "chart: has 81 characters, over the limit of 80; shorten it"},
		{`"version": "1"`, `"version": 1`, "version: is the number 1, not text; write it in quotes"},
		{`"title"`, `"titel"`, "titel: is not a field here; remove it, or write one of format, chart, version, title, note, handling, kit_life_days, analytes, strip, layout, print_colours"},
		{`["Dip."]`, `"Dip."`, `handling: is the text "Dip.", not a list; write it in [ ]`},
		{`["Dip."]`, `["Dip.", null]`, "handling[1]: is null, not text; write it in quotes"},
		{`: 90`, `: 0`, "kit_life_days: is 0; write a whole number from 1 to 36500"},
		{`: 90`, `: 90.5`, "kit_life_days: is 90.5; write a whole number from 1 to 36500"},
		{`"name": "iron"`, `"name": "nitrate"`, `analytes[1].name: is "nitrate", as is analytes[0]; give each its own name`},
		{`"name": "iron"`, `"name": "iron", "name": "zinc"`, "analytes[1].name: is there twice; keep one of them"},
		{`"name": "iron"`, `"Name": "iron"`, "analytes[1].Name: is not a field here; write name"},
		{`"unit": "mg/L", `, "", "analytes[0].unit: is missing; add it"},
		{`"kind": "presence"`, `"kind": "lines"`, `analytes[1].kind: is "lines"; write one of scale, presence`},
		{`"spacing": "auto"`, `"spacing": "cubic"`, `analytes[0].spacing: is "cubic"; write one of auto, linear, log`},
		{`"parts": 1`, `"parts": 17`, "analytes[0].parts: is 17; write a whole number from 1 to 16"},
		{`"parts": 1`, `"parts": true`, "analytes[0].parts: is true, not a number; write a number without quotes"},
		{`"analyte": "iron", "over"`, `"analyte": "lead", "over"`, `analytes[0].spoiled_by[0].analyte: is "lead", which the chart does not have; name another analyte of this chart`},
		{`"analyte": "iron", "over"`, `"analyte": "nitrate", "over"`, `analytes[0].spoiled_by[0].how: is "disturbs", and a pad's own analyte can only bleach it; write "bleaches", or name another analyte`},
		{`"analyte": "nitrate", "over"`, `"analyte": "iron", "over"`, `analytes[0].spoiled_by[1].analyte: names "iron" a second time; keep one of them`},
		{`"how": "disturbs"`, `"how": "eats"`, `analytes[0].spoiled_by[0].how: is "eats"; write one of bleaches, disturbs`},
		{`"how": "disturbs", `, ``, "analytes[0].spoiled_by[0].how: is missing; add it"},
		{`"over": 0.3, `, ``, "analytes[0].spoiled_by[0].over: is missing; add it"},
		{`"over": 0.3`, `"over": -1`, "analytes[0].spoiled_by[0].over: is -1; write 0 or more"},
		{`"over": 0.3`, `"over": "0.3"`, `analytes[0].spoiled_by[0].over: is the text "0.3", not a number; write a number without quotes`},
		{`, "source": "a sheet"`, ``, "analytes[0].spoiled_by[0].source: is missing; add it"},
		{`"source": "a sheet"`, `"source": ""`, "analytes[0].spoiled_by[0].source: is empty; write who says so, such as the maker's sheet"},
		{`"analyte": "iron", "over"`, `"over"`, "analytes[0].spoiled_by[0].analyte: is missing; add it"},
		{`"source": "a sheet"`, `"source": "a sheet", "by": 1`, "analytes[0].spoiled_by[0].by: is not a field here; remove it, or write one of analyte, over, how, source"},
		{`"palest": "lowest"`, `"palest": "top"`, `analytes[0].palest: is "top"; write one of lowest, highest, neither`},
		{`"palest": "lowest"`, `"palest": ""`, `analytes[0].palest: is ""; write one of lowest, highest, neither`},
		{`"palest": "lowest"`, `"palest": 0`, "analytes[0].palest: is the number 0, not text; write it in quotes"},
		{`[45, 75]`, `[75, 45]`, "analytes[0].read_window_s: ends at 45 s before it begins at 75 s; write the earlier first"},
		{`[45, 75]`, `[-1, 45]`, "analytes[0].read_window_s[0]: is -1; write seconds from 0 to 86400"},
		{`[45, 75]`, `[45, 86401]`, "analytes[0].read_window_s[1]: is 86401; write seconds from 0 to 86400"},
		{`[45, 75]`, `[45]`, "analytes[0].read_window_s: holds 1 numbers, not two; write two, such as [45, 75]"},
		{`"steps": 0.5`, `"steps": 0`, "analytes[0].kit_error.steps: is 0; write the strip's error in swatch steps, over 0 and at most 100"},
		{`"steps": 0.5, `, "", "analytes[0].kit_error.steps: is missing; add it"},
		{`{"value": 5, "label": "five"}`, `{"value": 2.0}`, "analytes[0].swatches[2].value: is 2, as is analytes[0].swatches[1]; remove one or mend its value"},
		{`"value": 5`, `"value": "5"`, `analytes[0].swatches[2].value: is the text "5", not a number; write a number without quotes`},
		{`"value": 5`, `"value": 1e999`, "analytes[0].swatches[2].value: is 1e999, a number beyond 1000000000; write it right"},
		{`"value": 5`, `"value": -5`, "analytes[0].swatches[2].value: is -5; write 0 or more"},
		{`{"value": 5, "label"`, `{"label"`, "analytes[0].swatches[2].value: is missing; add it"},
		{`{"value": 5, "label"`, `{"value": 5, "colour": "#ff0000", "label"`, "analytes[0].swatches[2].colour: is not a field here; remove it, or write one of value, label"},
		{`{"value": 0}, {"value": 2}, {"value": 5, "label": "five"}`, `{"value": 5}`, "analytes[0].swatches: holds 1 swatch, and a scale needs two or more; add the chart's other swatches"},
		{`{"value": 0}, {"value": 1}`, `{"value": 0}, {"value": 1}, {"value": 3}`, "analytes[1].swatches: holds 3 swatches, and a presence pad has two; give the swatch for no and the one for yes"},
		{`"role": "swatch", "analyte": "nitrate", "value": 2`, `"role": "pad", "analyte": "nitrate"`, "layout.cells[1].role: is pad, but the pads are on the strip and not on the printed chart; mark pads in the photo"},
		{`"analyte": "nitrate", "value": 2`, `"analyte": "lead", "value": 2`, `layout.cells[1].analyte: is "lead", which the chart "brook" does not have; write one of "nitrate", "iron"`},
		{`"analyte": "nitrate", "value": 2`, `"analyte": "nitrate", "value": 3`, `layout.cells[1].value: is 3, which "nitrate" has no swatch for; write one of 0, 2, 5`},
		{`"analyte": "nitrate", "value": 2`, `"analyte": "nitrate", "value": 2, "part": 2`, `layout.cells[1].part: is 2, and "nitrate" has 1 part; mend it`},
		{`"analyte": "nitrate", "value": 2`, `"analyte": "nitrate", "value": 0`, `layout.cells[1]: is swatch "nitrate" 0, as is layout.cells[0]; keep one of them`},
		{`[0.3, 0.1, 0.1, 0.1]`, `[0.1, 0.1, 0.1, 0.1]`, `layout.cells[1]: swatch "nitrate" 2 lies on layout.cells[0], which is swatch "nitrate" 0; mark each where it is`},
		{`[0.3, 0.1, 0.1, 0.1]`, `[0.95, 0.1, 0.1, 0.1]`, "layout.cells[1]: reaches outside the unit square; give fractions of the chart's width and height, from 0 to 1"},
		{`["iron", "nitrate"]`, `["iron"]`, `strip: leaves out "nitrate"; name every analyte, from the dipped tip, or remove it`},
		{`["iron", "nitrate"]`, `[]`, `strip: leaves out "nitrate"; name every analyte, from the dipped tip, or remove it`},
		{`["iron", "nitrate"]`, `["iron", "iron", "nitrate"]`, `strip[1]: is "iron", as is strip[0]; keep one of them`},
		{`["iron", "nitrate"]`, `["iron", "Nitrate"]`, `strip[1]: is "Nitrate", which the chart does not have; write one of "nitrate", "iron"`},
		{`["iron", "nitrate"]`, `"iron, nitrate"`, `strip: is the text "iron, nitrate", not a list; write it in [ ]`},
		{`["iron", "nitrate"]`, `["iron", ""]`, "strip[1]: is empty; write a name"},
		{`"cells"`, `"cell"`, "layout.cell: is not a field here; remove it, or write one of cells"},
	})
}

func TestMarksFaults(t *testing.T) {
	testFaults(t, goodMarks, parseMarks, []fault{
		{`"width": 400`, `"width": -400`, "photo.width: is -400; write a whole number from 1 to 1000000"},
		{goodHash, "12ab", `photo.sha256: is "12ab"; write the photo's SHA-256 in 64 hexadecimal digits, or remove it`},
		{`[[10,10],[210,10],[210,110],[10,110]]`, `[[10,10],[210,10],[210,110]]`, "corners: are 3 points, not four; " + cornerOrder},
		{`[[10,10],[210,10],[210,110],[10,110]]`, `[[210,10],[10,10],[10,110],[210,110]]`, "corners: run anticlockwise, so that the chart would be mirrored; " + cornerOrder},
		{`[[10,10],[210,10],[210,110],[10,110]]`, `[[10,10],[210,110],[210,10],[10,110]]`, "corners: are crossed: their sides cut each other; " + cornerOrder},
		{`[[10,10],[210,10],[210,110],[10,110]]`, `[[10,10],[210,10],[110,10],[10,110]]`, "corners: make no four-cornered outline: three lie on a line, or one lies within the others; " + cornerOrder},
		{`[210,110],[10,110]]`, `[210,110],[10,110,0]]`, "corners[3]: holds 3 numbers, not 2; write [x, y]"},
		{`"looked": {`, `"checked": false, "looked": {`, `looked: says who looked at the marks, and "checked" says that nobody did; remove one of the two`},
		{`"looked": {`, `"checked": "no", "looked": {`, `checked: is the text "no", not true or false; write true or false without quotes`},
		{`"at": "2026-11-25T14:05:00-05:00", `, ``, "looked.at: is missing; add it"},
		{`"at": "2026-11-25T14:05:00-05:00", `, `"at": "", `, "looked.at: is empty; write when it was, such as 2026-11-25T14:03:10-05:00"},
		{`"at": "2026-11-25T14:05:00-05:00", `, `"at": "2026-11-25", `, `looked.at: is "2026-11-25"; write a time with its offset such as 2026-11-25T14:03:10-05:00`},
		{`"moved": ["pad nitrate"]`, `"moved": "pad nitrate"`, `looked.moved: is the text "pad nitrate", not a list; write it in [ ]`},
		{`"moved": ["pad nitrate"]`, `"moved": ["pad\u001b[2J"]`, "looked.moved[0]: holds the control character U+001B; remove it"},
		{`"moved": ["pad nitrate"]`, `"when": 3`, "looked.when: is not a field here; remove it, or write one of by, at, moved"},
		{`"role": "pad"`, `"role": "strip"`, `regions[0].role: is "strip"; write one of pad, swatch, white, wet-white`},
		{`"role": "pad", `, ``, "regions[0].role: is missing; add it"},
		{`"role": "pad"`, `"role": "pad", "value": 3`, "regions[0].value: is no field of a pad; remove it or mend the role"},
		{`"role": "white"`, `"role": "white", "analyte": "nitrate"`, "regions[2].analyte: is no field of a white; remove it or mend the role"},
		{`"role": "pad", "analyte": "nitrate", `, `"role": "pad", `, "regions[0].analyte: is missing; add it"},
		{`"value": 5, `, ``, "regions[1].value: is missing; add it"},
		{`"value": 5, "part": 1`, `"value": 5, "part": 0`, "regions[1].part: is 0; write a whole number from 1 to 16"},
		{`"rect": [110, 20, 20, 20]`, `"rect": [110, 20, 20, -20]`, "regions[1].rect: is 20 by -20 pixels; give a width and a height above 0"},
		{`"rect": [110, 20, 20, 20]`, `"rect": [110, 20, 20]`, "regions[1].rect: holds 3 numbers, not 4; write [x, y, width, height]"},
		{`"rect": [110, 20, 20, 20]`, `"rect": [110, 20, 20, null]`, "regions[1].rect[3]: is null, not a number; write a number without quotes"},
		{`"rect": [110, 20, 20, 20]`, `"square": [110, 20, 20]`, "regions[1].square: is not a field here; remove it, or write one of role, analyte, part, value, material, polygon, rect, circle"},
		{`, "rect": [110, 20, 20, 20]`, ``, "regions[1]: has no shape; add polygon, rect or circle"},
		{`"rect": [110, 20, 20, 20]`, `"rect": [110, 20, 20, 20], "circle": [1, 1, 1]`, "regions[1].circle: stands beside rect, and a region has one shape; keep one of them"},
		{`[350, 250, 20]`, `[350, 250, 0]`, "regions[2].circle: has radius 0; give a radius above 0"},
		{`[[300,10],[320,10],[320,30],[300,30]]`, `[[300,10],[320,10]]`, "regions[0].polygon: has 2 points; a polygon has 3 to 1000, a rect a corner and a size, a circle a centre and a radius"},
		{`[[300,10],[320,10],[320,30],[300,30]]`, `[[300,10],[320,30],[320,10],[300,30]]`, "regions[0].polygon: crosses or touches itself; go once round the area and name each corner once"},
		{`[[300,10],[320,10],[320,30],[300,30]]`, `[[300,10],[320,1e308],[320,30]]`, "regions[0].polygon[1][1]: is 1e308, a number beyond 1000000000; write it right"},
		{`"role": "white", "material": "paper", "circle": [350, 250, 20]`, `"role": "swatch", "analyte": "nitrate", "value": 5.0, "circle": [350, 250, 20]`, `regions[2]: marks swatch "nitrate" 5, as does regions[1]; keep one of them`},
		{`"point": "tap"`, `"point": "kitchen"`, `sample.point: is "kitchen"; write one of tap, raw, after treatment, bypass`},
		{`"2026-11-25T14:03:10-05:00"`, `"2026-11-25 14:03"`, `sample.taken: is "2026-11-25 14:03"; write a time with its offset such as 2026-11-25T14:03:10-05:00`},
		{`"2026-11-25T14:02:05-05:00"`, `"14:02"`, `sample.dipped: is "14:02"; write a time with its offset such as 2026-11-25T14:03:10-05:00`},
		{`"2027-05"`, `"2027-13"`, `sample.kit.expires: "2027-13" is no month such as 2027-05 and no day such as 2027-05-31; write the month or the day`},
		{`"2026-09-01"`, `"2026-09"`, `sample.kit.opened: is "2026-09"; write a day such as 2026-09-01`},
		{`"lot": "7"`, `"lot": "7\n8"`, "sample.kit.lot: holds the control character U+000A; remove it"},
		{`"bleach_ruled_out": true`, `"bleach_ruled_out": "yes"`, `sample.bleach_ruled_out: is the text "yes", not true or false; write true or false without quotes`},
		{`First.\nSecond.`, `First.\u001b[0m`, "sample.note: holds the control character U+001B; remove it"},
	})
}

// The ends of what may be written: a cell may touch each edge of the unit
// square and not reach beyond it, and a window may last the whole day.
func TestEndsAreIncluded(t *testing.T) {
	with := func(old, new string) error {
		require.Equal(t, 1, strings.Count(goodChart, old), old)
		return parseChart([]byte(strings.Replace(goodChart, old, new, 1)))
	}
	for _, cell := range []string{"[0, 0.4, 0.1, 0.1]", "[0.9, 0.4, 0.1, 0.1]", "[0.4, 0, 0.1, 0.1]", "[0.4, 0.9, 0.1, 0.1]"} {
		assert.NoError(t, with("[0.3, 0.1, 0.1, 0.1]", cell), cell)
	}
	for _, cell := range []string{"[-0.01, 0.4, 0.1, 0.1]", "[0.91, 0.4, 0.1, 0.1]", "[0.4, -0.01, 0.1, 0.1]", "[0.4, 0.91, 0.1, 0.1]"} {
		assert.ErrorContains(t, with("[0.3, 0.1, 0.1, 0.1]", cell), "outside the unit square", cell)
	}
	assert.NoError(t, with("[45, 75]", "[0, 86400]"))
}

// A day without its time of day is not taken for midnight.
func TestADayAloneIsNoMoment(t *testing.T) {
	for _, field := range []string{"dipped", "taken"} {
		_, err := ParseMarks([]byte(`{"regions": [], "sample": {"` + field + `": "2026-11-25"}}`))
		assert.ErrorContains(t, err, "sample."+field+`: is "2026-11-25"; write a time with its offset`)
	}
}
