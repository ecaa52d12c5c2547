package reading

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

const demo = "../../testdata/demo/"

// answered reads a demo photo with a question.
func answered(t testing.TB, name string, ask strip.Ask) *strip.Result {
	t.Helper()
	data, err := os.ReadFile(demo + name + ".jpg")
	require.NoError(t, err)
	text, err := os.ReadFile(demo + name + ".marks.json")
	require.NoError(t, err)
	marks, err := charts.ParseMarks(text)
	require.NoError(t, err)
	chart, ok := charts.Find(marks.Chart)
	require.True(t, ok)
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart, Marks: marks, Ask: ask})
	require.NoError(t, err)
	return r
}

func choices(t testing.TB, texts ...string) (out []limits.LimitChoice) {
	t.Helper()
	for _, text := range texts {
		c, err := limits.ParseLimit(text)
		require.NoError(t, err)
		out = append(out, c)
	}
	return out
}

// questions are all that can be asked.
func questions(t testing.TB) map[string]strip.Ask {
	d, err := units.ParseDilution("1+1")
	require.NoError(t, err)
	known := units.Quantity{Value: 10, Unit: units.Unit{Name: "mg/L", As: "N"}}
	return map[string]strip.Ask{
		"":         {},
		"limits":   {Limits: choices(t, "us-epa", "eu", "usgs-hardness", "nitrate 3 mg/L as N", "pH 6.5-8.5")},
		"units":    {Limits: choices(t, "who"), Units: []units.Unit{{Name: "mg/L", As: "NO3"}, {Name: "gr/gal", As: "CaCO3"}}},
		"dilution": {Limits: choices(t, "us-epa"), Dilution: &d},
		"standard": {Standards: []strip.Standard{{Photo: "std.jpg", Analyte: "nitrate", Known: known, Readings: answered(t, "kitchen",
			strip.Ask{}).Readings}}},
	}
}

// What this version writes, it reads; and writes again to the byte.
func TestWrittenIsReadAndWrittenAgain(t *testing.T) {
	past := nitrate()
	past.Range, past.Band.High = calib.Above, calib.Bound{Value: 11, Open: true}
	past.Band.Hills = [][2]float64{{4, 5}, {6, 11}}
	files := map[string]string{"past": encoded(t, answer(past, lines(0.5), lines(0))), "none": encoded(t, answer())}
	for name, ask := range questions(t) {
		for _, photo := range []string{"kitchen", "cellar"} {
			files[photo+" "+name] = encoded(t, answered(t, photo, ask))
		}
	}
	for name, text := range files {
		f, err := Parse([]byte(text))
		require.NoError(t, err, name)
		again, err := f.Encode()
		require.NoError(t, err, name)
		assert.Equal(t, text, string(again), name)
	}
	f, err := Parse([]byte(files["past"]))
	require.NoError(t, err)
	low, high := f.Readings[0].Band.Ends()
	assert.Equal(t, []float64{4, math.Inf(1)}, []float64{low, high}, "an open end is infinite")
	assert.False(t, f.Readings[0].Presence.Given)
	assert.True(t, f.Readings[2].Presence.Given)
	assert.Equal(t, Figure(0), f.Readings[2].Presence.Figure)
	f, err = Parse([]byte(files["kitchen limits"]))
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(f.Readings[0].Further), "3 mg/L as N")
}

// Files of method 2 are read: they have no places, and name the sources of error
// without their codes.
func TestFilesOfMethod2(t *testing.T) {
	names, err := filepath.Glob("testdata/method-2/*.reading.json")
	require.NoError(t, err)
	require.Len(t, names, 7)
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		f, err := Parse(data)
		require.NoError(t, err, name)
		assert.Equal(t, 2, f.Program.Method)
		require.Len(t, f.Readings, 3, name)
		for _, r := range f.Readings {
			low, high := r.Band.Ends()
			assert.True(t, low <= float64(r.Value) && float64(r.Value) <= high, "%s %s", name, r.Analyte)
			require.NotEmpty(t, r.Budget)
			for _, b := range r.Budget {
				assert.Equal(t, b.Source, b.Code.Name(), "%s %s", name, r.Analyte)
			}
		}
		roundTrip(t, f)
	}
}

// roundTrip checks that what was parsed is parsed again as the same.
func roundTrip(t *testing.T, f File) {
	t.Helper()
	data, err := f.Encode()
	require.NoError(t, err)
	again, err := Parse(data)
	require.NoError(t, err, string(data))
	if !alike(reflect.ValueOf(f), reflect.ValueOf(again)) {
		t.Errorf("parsed again it is another: %#v and %#v", f, again)
	}
}

// alike is equality of values in which a missing figure equals another, and no
// list an empty one.
func alike(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		return a.Float() == b.Float() || math.IsNaN(a.Float()) && math.IsNaN(b.Float())
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() && b.IsNil()
		}
		return alike(a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if !alike(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !alike(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return a.Interface() == b.Interface()
}

func TestAlikeSeesADifference(t *testing.T) {
	a, b := File{Readings: []Reading{{Value: Missing, Band: &Band{}}}}, File{Readings: []Reading{{Value: Missing, Band: &Band{High: 1}}}}
	assert.True(t, alike(reflect.ValueOf(a), reflect.ValueOf(a)))
	assert.False(t, alike(reflect.ValueOf(a), reflect.ValueOf(b)))
}

// A value that is not there is missing, never nought; a band that is not there
// is open on both sides.
func TestWhatIsNotThereIsMissing(t *testing.T) {
	f, err := Parse([]byte(`{"readings":[{"analyte":"iron","range":"within","reliability":"good"},
		{"analyte":"lead","range":"within","reliability":"good","band":{},"water_band":{"low":2}}],"later":{"a":[1]}}`))
	require.NoError(t, err)
	assert.False(t, f.Readings[0].Value.Known())
	assert.False(t, f.Readings[0].Pad.DeltaE.Known())
	low, high := f.Readings[0].Band.Ends()
	assert.Equal(t, []float64{math.Inf(-1), math.Inf(1)}, []float64{low, high})
	low, high = f.Readings[1].WaterBand.Ends()
	assert.Equal(t, []float64{2, math.Inf(1)}, []float64{low, high})
	assert.Empty(t, f.Photo.TakenText())
	roundTrip(t, f)
}

func TestRefusals(t *testing.T) {
	one := func(rest string) string { return `{"readings":[{"analyte":"x",` + rest + `}]}` }
	for text, want := range map[string]error{
		"":              &NotJSONError{},
		`{"format":1,}`: &NotJSONError{13},
		"[1]":           &FieldError{"", "is an array where another kind of value belongs"},
		`{"format":3}`:  &FormatError{3, 2},
		`{"format":2}`:  &FieldError{"one_strip", "names no photos, and a file of this format has several of one strip"},
		`{"format":2,"one_strip":[{"file":"a"},{"file":"a"}]}`: &FieldError{"one_strip[1]", "has no name of its own"},
		`{"format":2,"one_strip":[{"file":"a"},{"file":"b"}],"readings":[{"analyte":"x","photo":"c"}]}`: &FieldError{"readings[0]",
			"is from none of the photos of one_strip"},
		`{"readings":[{}]}`:              &FieldError{"readings[0]", "names no analyte"},
		`{"readings":[null]}`:            &FieldError{"readings[0]", "names no analyte"},
		one(`"value":"7"`):               &FieldError{"readings.value", "is a string where another kind of value belongs"},
		one(`"value":1e999`):             &FieldError{"readings.value", "is a number 1e999 where another kind of value belongs"},
		one(`"band":{"low":3,"high":2}`): &FieldError{"readings[0]", "has a band whose low end is above its high end"},
		one(`"range":"beyond"`):          &FieldError{"readings[0]", `has the range "beyond"; it is within, below or above`},
		one(`"range":"above","reliability":"fine"`): &FieldError{"readings[0]",
			`has the reliability "fine"; it is good, caution or unreliable`},
		one(`"range":"above","reliability":"good","swatches":[{"value":3},{"value":1}]`): &FieldError{"readings[0]",
			"has swatches that do not rise in value from 0 or more"},
		`{"readings":[` + strings.Repeat("{},", MostReadings) + `{}]}`: &TooLargeError{"readings", MostReadings + 1,
			MostReadings},
		strings.Repeat(" ", MostBytes) + "{}": &TooLargeError{"bytes", MostBytes + 2, MostBytes},
	} {
		_, err := Parse([]byte(text))
		assert.Equal(t, want, err, "%.80s", text)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestRows(t *testing.T) {
	row, err := EncodeFailed("a b.jpg", "is no\n photo")
	require.NoError(t, err)
	_, failed, err := ParseRow(row)
	require.NoError(t, err)
	assert.Equal(t, &Failed{1, NamedPhoto{"a b.jpg"}, "is no photo"}, failed)
	f, failed, err := ParseRow([]byte(encoded(t, answer(nitrate()))))
	require.NoError(t, err)
	assert.Nil(t, failed)
	assert.Equal(t, "kitchen.jpg", f.Photo.File)
	_, _, err = ParseRow([]byte(`{"error":1}`))
	assert.Error(t, err)
}

func FuzzParse(f *testing.F) {
	names, _ := filepath.Glob("testdata/method-*/*.reading.json")
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Add([]byte(`{"readings":[{"analyte":"x","range":"within","reliability":"good","value":1e-320,"band":{"low":-0,"high":1e400}}]}`))
	f.Add([]byte(`{"readings":[{"analyte":"x","range":"above","reliability":"good","judgement":{"probability_over":null,"value":1.7976931348623157e308}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Parse(data)
		if err != nil {
			assert.Less(t, len(err.Error()), 4096)
			assert.NotContains(t, err.Error(), "\n")
			return
		}
		roundTrip(t, file)
		once, err := file.Encode()
		require.NoError(t, err)
		again, err := Parse(once)
		require.NoError(t, err)
		twice, err := again.Encode()
		require.NoError(t, err)
		assert.True(t, bytes.Equal(once, twice))
	})
}
