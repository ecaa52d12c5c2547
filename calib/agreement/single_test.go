package agreement

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// method is a value ± U in no unit.
func method(v, u float64) Single {
	return Single{Value: v, Band: Span{v - u, v + u}, Water: Span{v - u, v + u}, Own: math.NaN()}
}

func TestENAgainstTable(t *testing.T) {
	checked := 0
	for _, row := range checkTable(t, "en_zeta_scores") {
		a := method(float(t, row["x_lab"]), float(t, row["U_lab"]))
		b := method(float(t, row["X_ref"]), float(t, row["U_ref"]))
		for _, r := range []Relation{OneStrip, TwoStrips, ByReference} {
			g := Between(a, b, r)
			near(t, float(t, row["En"]), g.Score, 1e-8, row["x_lab"])
			near(t, float(t, row["En"]), -Between(b, a, r).Score, 1e-8, "turned round")
			differ, known := g.Differ()
			assert.True(t, known)
			if row["verdict"] != "borderline" { // 1 exactly counts as differing, within rounding
				assert.Equal(t, row["verdict"] == "differ", differ, row["x_lab"])
			}
		}
		checked++
	}
	assert.Equal(t, 5, checked)
}

const readingJSON = `{"format":1,"photo":{"file":"a.jpg","sha256":"AB"},"new":1,"readings":[
 {"analyte":"nitrate","unit":"mg/L","as":"N","value":9,"band":{"low":7,"high":11},"water_band":{"low":6,"high":13},"range":"within","reliability":"good",
  "swatches":[{"value":0},{"value":1},{"value":3},{"value":7},{"value":12},{"value":25}],
  "budget":[{"source":"colour mismatch","steps":0.5},{"source":"noise and marking","steps":0.06},{"source":"light","steps":0.08},{"source":"printing","steps":null}]},
 {"analyte":"iron","unit":"mg/L","value":5,"band":{"low":4,"high":null},"water_band":{"low":3,"high":null},"range":"above","reliability":"good","swatches":[{"value":0},{"value":5}],"budget":[]},
 {"analyte":"coliforms","value":1,"presence_probability":0.9,"band":{"low":null,"high":null},"range":"within","reliability":"good"}]}`

func parsed(t *testing.T, text string) []Single {
	t.Helper()
	s, err := ParseReading("a.reading.json", []byte(text))
	require.NoError(t, err)
	return s
}

func TestParseReading(t *testing.T) {
	s := parsed(t, readingJSON)
	require.Len(t, s, 3)
	assert.Equal(t, Span{7, 11}, s[0].Band)
	assert.Equal(t, "ab", s[0].Photo)
	near(t, 0.1, s[0].Own, 1e-12, "marks, noise and light")
	assert.Equal(t, Span{3, inf}, s[1].Water)
	assert.Equal(t, "above", s[1].Past)
	assert.True(t, math.IsNaN(s[1].Own))
	assert.True(t, math.IsNaN(s[2].Value), "a presence pad has no value to subtract")
	for text, why := range map[string]string{
		"":                  "is no JSON",
		"{":                 "is no JSON",
		"[1]":               "where another kind of value belongs",
		`{"format":3}`:      "is of format 3",
		"{}":                "holds no readings",
		`{"readings":[{}]}`: "readings[0]: names no analyte",
		`{"readings":[{"analyte":"x","value":"7"}]}`: "readings.value: " +
			"is a string",
		`{"readings":[{"analyte":"x","range":"within","reliability":"good","swatches":[{"value":3},{"value":1}]}]}`: "swatches that do " +
			"not rise",
	} {
		_, err := ParseReading("x", []byte(text))
		assert.ErrorContains(t, err, why, text)
	}
}

// Of several photos of one strip each reading has its own photo, and all have those of
// the file. Outlines that nobody has looked at are known by the warning's code.
func TestParseReadingOfSeveralPhotos(t *testing.T) {
	s := parsed(t, `{"format":2,"one_strip":[{"file":"a.jpg","sha256":"AB"},{"file":"b.jpg","sha256":"cd"}],"readings":[
		{"analyte":"x","photo":"b.jpg","range":"within","reliability":"good","value":2,"warnings":[{"code":"marks-unchecked"}]},
		{"analyte":"y","photo":"a.jpg","range":"within","reliability":"good","value":2,"warnings":[{"code":"late"}]}]}`)
	require.Len(t, s, 2)
	assert.Equal(t, []any{"cd", "b.jpg", true}, []any{s[0].Photo, s[0].File, s[0].Unchecked})
	assert.Equal(t, []any{"ab", "a.jpg", false}, []any{s[1].Photo, s[1].File, s[1].Unchecked})
	assert.Equal(t, []string{"ab", "cd"}, s[1].Photos)
	one := parsed(t, readingJSON)[0]
	assert.Equal(t, []any{"ab", "", []string{"ab"}}, []any{one.Photo, one.File, one.Photos})
}

// Each relation has its own formula: figures by hand.
func TestBetweenByRelation(t *testing.T) {
	a := parsed(t, readingJSON)[0]
	b := a
	b.Value, b.Band, b.Water, b.Own = 12, Span{10, 15}, Span{8, 18}, 0.1
	near(t, -3/math.Hypot(11-9, 12-10), Between(a, b, OneStrip).Score, 1e-12, "bands that face each other")
	near(t, -3/math.Hypot(13-9, 12-8), Between(a, b, TwoStrips).Score, 1e-12, "water bands")
	steps := 2.0/5 - 1 // 12 is under 1.9 times 7: the step is linear
	g := Between(a, b, SamePhoto)
	near(t, steps, g.Steps, 1e-12, "steps")
	near(t, steps/(1.96*math.Hypot(0.1, 0.1)), g.Score, 1e-12, "marks and noise")
	differ, _ := g.Differ()
	assert.True(t, differ)
	same := Between(a, a, TwoStrips)
	assert.Zero(t, same.Score)
	near(t, math.Hypot(4, 4), same.Reach, 1e-12, "the wider side where both are the same")
}

func TestBetweenSaysWhyThereIsNoScore(t *testing.T) {
	s := parsed(t, readingJSON)
	within := s[1]
	within.Past, within.Value, within.Band = "", 2, Span{1, 3}
	higher := within
	higher.Value = 9
	for why, g := range map[string]Gap{
		whyBothPast: Between(s[1], s[1], TwoStrips),
		whyNoValue:  Between(s[2], s[2], TwoStrips),
		whyOpenSide: Between(s[1], higher, OneStrip),
		whyNoOwn:    Between(s[1], within, SamePhoto),
		whyNoSteps:  Between(method(1, 1), method(2, 1), SamePhoto),
		whyNoWidth:  Between(method(1, 0), method(2, 0), TwoStrips),
	} {
		assert.Equal(t, why, g.Why)
		_, known := g.Differ()
		assert.False(t, known)
	}
	g := Between(s[1], within, OneStrip) // at least 5, from 4 on, against 2 ± 1
	near(t, 3/math.Hypot(1, 1), g.Score, 1e-12, "a closed side faces the other")
}

func TestParseAgainst(t *testing.T) {
	a, err := ParseAgainst("12 +- 1 gr/gal")
	require.NoError(t, err)
	s, err := a.For(Single{Analyte: "total hardness", Unit: "mg/L", As: "CaCO3"})
	require.NoError(t, err)
	near(t, 12*17.118, s.Value, 0.01, "grains of a US gallon in mg/L (NIST SP 811, appendix B)")
	near(t, 13*17.118, s.Water.High, 0.01, "with its uncertainty")
	_, err = a.For(Single{Analyte: "nitrate", Unit: "mg/L", As: "N"})
	assert.Error(t, err)
	a, err = ParseAgainst("nitrate: .5 ± .25 mg/L as N")
	require.NoError(t, err)
	assert.Equal(t, Against{"nitrate: .5 ± .25 mg/L as N", "nitrate", 0.5, 0.25, a.Unit}, a)
	_, err = a.For(Single{Analyte: "nitrite", Unit: "mg/L", As: "N"})
	assert.ErrorContains(t, err, "is for nitrate, not nitrite")
	for _, bad := range []string{"", "12 gr/gal", "12 +- 0 gr/gal", "12 +- 1", "12 +- 1 cubits", "x"} {
		_, err := ParseAgainst(bad)
		assert.Error(t, err, bad)
	}
}

// Independent readings of one water, normal, have |E_n| under 1 in 95 of 100.
func TestENCoverage(t *testing.T) {
	got := coverage(runs, 0, func(r *rand.Rand) Estimate {
		a, b := method(10+2*r.NormFloat64(), Factor*2), method(10+1*r.NormFloat64(), Factor*1)
		s := Between(a, b, TwoStrips).Score
		return Estimate{Low: s - 1, High: s + 1}
	})
	covers(t, 0.94, 0.96, got, "E_n", 2)
}

func FuzzReading(f *testing.F) {
	f.Add([]byte(readingJSON))
	f.Add([]byte(`{"format":1,"readings":[{"analyte":"pH","unit":"pH","value":7,"band":{"low":null,"high":8},"range":"within","reliability":"good","swatches":[{"value":6},{"value":8}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := ParseReading("x", data)
		if err != nil {
			return
		}
		for _, a := range all {
			for _, r := range []Relation{SamePhoto, OneStrip, TwoStrips} {
				g := Between(a, all[0], r)
				_, known := g.Differ()
				assert.NotEqual(t, known, g.Why != "", "%+v", g)
			}
		}
	})
}
