package reading

import (
	"encoding/json"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// nitrate is an invented reading to start from: between 3 and 7.
func nitrate() calib.Reading {
	a := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	r := calib.Reading{
		Value: 5, Range: calib.Within, Bracket: [2]float64{3, 7}, Reliability: calib.Good, KitAssumed: true,
		Band:      calib.Band{Low: calib.Bound{Value: 4}, High: calib.Bound{Value: 6}, Coverage: 0.95},
		WaterBand: calib.Band{Low: calib.Bound{Value: 3}, High: calib.Bound{Value: 7}, Coverage: 0.95},
		Pad:       []colorimetry.Lab{{L: 71.234567, A: 31, B: -4.1}}, DeltaEToScale: 1.9,
		Budget: []calib.Contribution{{Source: calib.SourceMismatch, Steps: 0.21}},
	}
	for _, v := range []float64{0, 1, 3, 7, 11} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
		r.Swatches = append(r.Swatches, calib.SwatchColour{Value: v, Lab: []colorimetry.Lab{{L: 90 - v, A: 2 * v, B: 0}}, DeltaE: 6.1})
	}
	r.Analyte = a
	return r
}

// lines is an invented presence reading with the probability of its upper swatch.
func lines(yes float64) calib.Reading {
	r := nitrate()
	r.Analyte.Name, r.Analyte.Kind, r.Yes = "coliforms", charts.KindPresence, yes
	r.Value, r.Band = math.NaN(), calib.Band{Coverage: 0.95, High: calib.Bound{Value: 1}}
	switch {
	case yes >= 0.95:
		r.Value, r.Band.Low.Value = 1, 1
	case yes <= 0.05:
		r.Value, r.Band.High.Value = 0, 0
	}
	return r
}

var origin = Origin{File: "kitchen.jpg", ChartSHA256: "cc", Version: "1.2.3"}

func answer(readings ...calib.Reading) *strip.Result {
	return &strip.Result{
		Photo: &photo.Photo{Width: 4032, Height: 3024, Facts: photo.Facts{SHA256: "aa", Profile: "Display P3",
			Taken: "2026-11-14T08:41:10-05:00"}},
		Chart: charts.Chart{Name: "orchard-well", Version: "2", Title: "Orchard well"},
		Light: calib.LightReport{Reliability: calib.Good, CCT: 5210.123, Duv: 0.0020004, Unevenness: 0.08}, Readings: readings,
	}
}

// encoded is the answer's file.
func encoded(t *testing.T, r *strip.Result) string {
	t.Helper()
	data, err := Of(r, origin).Encode()
	require.NoError(t, err)
	return string(data)
}

// The whole document, names and order: the format that readers of the file rely on.
func TestDocumentIsTheFormat(t *testing.T) {
	r := nitrate()
	r.Swatches = r.Swatches[3:4]
	r.Warnings = []calib.Warning{{Code: calib.CodeGlare, Seen: "It shines.", Figure: 0.2, Threshold: 0.1, Weight: calib.Caution,
		Places: []calib.Place{
			{Kind: calib.PlaceSwatch, Analyte: "nitrate"}, {Kind: calib.PlacePart, Analyte: "nitrate", Part: 2}, {Kind: calib.PlaceWhite,
				Number: 3}}}}
	want := `{"format":1,` +
		`"photo":{"file":"kitchen.jpg","sha256":"aa","width":4032,"height":3024,"profile":"Display P3","taken":"2026-11-14T08:41:10-05:00"},` +
		`"chart":{"name":"orchard-well","version":"2","sha256":"cc"},` +
		`"light":{"reliability":"good","white_as_recorded":{"cct_k":5210.1,"duv":0.0020004},"unevenness":0.08,"warnings":[]},` +
		`"readings":[{"analyte":"nitrate","unit":"mg/L","as":"N","value":5,` +
		`"band":{"low":4,"high":6,"coverage":0.95},"water_band":{"low":3,"high":7,"coverage":0.95,"kit_error":"assumed"},` +
		`"range":"within","bracket":[3,7],"reliability":"good","warnings":[{"code":"glare","text":"It shines.",` +
		`"places":[{"kind":"swatch","analyte":"nitrate","value":0},{"kind":"part","analyte":"nitrate","part":2},{"kind":"white","number":3}]}],` +
		`"pad":{"lab":[[71.235,31,-4.1]],"delta_e_to_scale":1.9},` +
		`"swatches":[{"value":7,"lab":[[83,14,0]],"delta_e":6.1}],` +
		`"budget":[{"source":"colour mismatch","code":"mismatch","steps":0.21}]}],` +
		`"program":{"name":"padband","version":"1.2.3","method":` + string(mustJSON(t, calib.Method)) + `,"go":"` + runtime.Version() +
		`"}}`
	assert.Equal(t, want, encoded(t, answer(r)))
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return data
}

func TestOpenEndsAndMissingFiguresAreNull(t *testing.T) {
	r := nitrate()
	r.Range, r.Value, r.KitAssumed = calib.Above, 11, false
	r.Band.High = calib.Bound{Value: 11, Open: true}
	r.WaterBand.Low, r.WaterBand.High = calib.Bound{Value: 0, Open: true}, calib.Bound{Value: 11, Open: true}
	r.DeltaEToScale, r.Pad[0].B, r.Swatches[0].DeltaE, r.Budget[0].Steps = math.NaN(), math.NaN(), math.Inf(1), math.Inf(-1)
	s := answer(r)
	s.Photo.Facts.Taken, s.Light.CCT, s.Light.Duv, s.Light.Unevenness = "", math.NaN(), math.NaN(), math.NaN()
	got := encoded(t, s)
	for _, part := range []string{
		`"taken":null`, `"white_as_recorded":null`, `"unevenness":null`, `"range":"above"`,
		`"band":{"low":4,"high":null,"coverage":0.95}`, `"water_band":{"low":null,"high":null,"coverage":0.95,"kit_error":"stated"}`,
		`"pad":{"lab":[[71.235,31,null]],"delta_e_to_scale":null}`, `"delta_e":null`,
		`"budget":[{"source":"colour mismatch","code":"mismatch","steps":null}]`,
	} {
		assert.Contains(t, got, part)
	}
	assert.NotContains(t, got, "NaN")
	assert.NotContains(t, got, "Inf")
}

// Nothing to list is an empty list, never null: a reader may walk it.
func TestEmptyListsAreLists(t *testing.T) {
	r := calib.Reading{Value: math.NaN(), DeltaEToScale: math.NaN()}
	got := encoded(t, answer(r))
	for _, part := range []string{`"warnings":[],"pad":{"lab":[]`, `"swatches":[],"budget":[]`} {
		assert.Contains(t, got, part)
	}
	assert.NotContains(t, got, `"as"`)
	assert.Contains(t, encoded(t, answer()), `"readings":[]`)
	assert.NotContains(t, got, `"hills"`)
	assert.NotContains(t, got, `"notes"`)
}

func TestHillsAndNotesAreThere(t *testing.T) {
	r := nitrate()
	r.Band.Hills = [][2]float64{{4, 4.5}, {5.55555555, 6}}
	s := answer(r)
	s.Notes = []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}}
	got := encoded(t, s)
	assert.Contains(t, got, `"band":{"low":4,"high":6,"coverage":0.95,"hills":[[4,4.5],[5.5556,6]]}`)
	assert.Contains(t, got, `"notes":["no pad is marked for pH: skipped"],"program"`)
}

// A presence pad carries its probability, also when that is 0, and no other does.
func TestPresenceProbability(t *testing.T) {
	for yes, want := range map[float64]string{
		0:    `"value":0,"band":{"low":0,"high":0,"coverage":0.95}`,
		0.5:  `"value":null,"band":{"low":0,"high":1,"coverage":0.95}`,
		0.97: `"value":1,"band":{"low":1,"high":1,"coverage":0.95}`,
	} {
		got := encoded(t, answer(lines(yes)))
		assert.Contains(t, got, want)
		assert.Contains(t, got, `"presence_probability":`+string(mustJSON(t, yes)))
	}
	assert.NotContains(t, encoded(t, answer(nitrate())), "presence_probability")
}
