package figures

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func unit(text string) bool { return text == "mg/L" || text == "mg/m3" }

// Each list is one that a person types who means the row beside it.
func TestValuesTakesListsAsPeopleTypeThem(t *testing.T) {
	for text, want := range map[string]string{
		"0, 1, 3, 7, 12":           "0 | 1 | 3 | 7 | 12",
		"0 1 3 7 12":               "0 | 1 | 3 | 7 | 12",
		"0;1;3":                    "0 | 1 | 3",
		"0 | 1 | 3":                "0 | 1 | 3",
		"0 0,5 1 2":                "0 | 0.5 | 1 | 2",
		"0; 0,5; 1; 2":             "0 | 0.5 | 1 | 2",
		"0, 0,5, 1, 2":             "0 | 0.5 | 1 | 2",
		"0,5, 1, 2":                "0.5 | 1 | 2",
		"0,0.5,1":                  "0 | 0.5 | 1",
		"0.5,1,2":                  "0.5 | 1 | 2",
		"0,5,10,25":                "0 | 5 | 10 | 25",
		"1,5":                      "1 | 5",
		"50, 25, 10":               "50 | 25 | 10",
		"0 1 3 7 (6-9) 12":         "0 | 1 | 3 | 7 (6-9) | 12",
		"0, 1, 3, 7 (6, or 9), 12": "0 | 1 | 3 | 7 (6, or 9) | 12",
		"0,1,3,7 (6-9),12":         "0 | 1 | 3 | 7 (6-9) | 12",
		"0 none, 1 low, 2":         "0 (none) | 1 (low) | 2",
		"0 (neg), 0,5 (trace), 1":  "0 (neg) | 0.5 (trace) | 1",
		"0 mg/L, 1 mg/L, 2mg/L":    "0 | 1 | 2",
		"0 mg/m3; 1 mg/m3":         "0 | 1",
		"0, 500, 1,000, 2,000":     "0 | 500 | 1000 | 2000",
		"0,250; 0,500":             "0.25 | 0.5",
		"0, 1, 3,":                 "0 | 1 | 3",
		"5\n6,5\n7":                "5 | 6.5 | 7",
		"6,2 6,8 7,2 7,6 8,4":      "6.2 | 6.8 | 7.2 | 7.6 | 8.4",
		"0.5 1,5 2":                "0.5 | 1.5 | 2",
		"0\u00a00,5\u00a01":        "0 | 0.5 | 1",
		"0,1 0,3 0,5":              "0.1 | 0.3 | 0.5",
		",5; 1":                    "0.5 | 1",
	} {
		items, err := Values(text, unit)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, Row(items), text)
		}
	}
}

// What may be meant in two ways is asked about, with a text for each meaning that
// reads back as that meaning.
func TestValuesAsksWhatIsMeant(t *testing.T) {
	for text, want := range map[string][]string{
		"0,5,10":          {"0 | 5 | 10", "0.5 | 10"},
		"0,1, 3, 7":       {"0.1 | 3 | 7", "0 | 1 | 3 | 7"},
		"0,5 10 20":       {"0.5 | 10 | 20", "0 | 5 | 10 | 20"},
		"1,000; 2,000":    {"1 | 2", "1000 | 2000"},
		"0,0,5,1,2":       {"0 | 0.5 | 1 | 2", "0 | 0.5 | 1.2"},
		"0, 5, 1, 2":      {"0 | 1 | 2 | 5"},
		"0 500 1 000":     nil, // 0 stands there twice
		"10, 5, 7 (6-9)":  {"5 | 7 (6-9) | 10"},
		"3,1,2":           {"3.1 | 2", "1 | 2 | 3"},
		"1 mg/L; 5; 3":    {"1 | 3 | 5"},
		"0,5, 10, 5 mg/L": {"0.5 | 5 | 10"},
	} {
		_, err := Values(text, unit)
		f := fault(t, err, text)
		var got []string
		for _, a := range f.Answers {
			_, row, _ := strings.Cut(a.Says, ": ")
			got = append(got, row)
			again, err := Values(a.Text, unit)
			if assert.NoError(t, err, a.Text) {
				assert.Equal(t, row, Row(again), a.Text)
			}
		}
		assert.Equal(t, want, got, text)
	}
}

func TestValuesRefusesWhatIsNoValue(t *testing.T) {
	for text, says := range map[string]string{
		"":                  "two or more",
		"3":                 "two or more",
		"0, 1/2, 1":         `"1/2" is a fraction; type it with a point, such as 0.5`,
		"0, ½, 1":           "fraction",
		"1/0, 2":            `"1/0" is no number`,
		"0-1, 2, 3":         `"0-1" is a range`,
		"0 to 1, 2":         `"0 to 1" is a range`,
		"0 – 1, 2":          "range",
		"0-1 2 3":           "range",
		"<5, 10, 50":        `"<5" is a bound`,
		"0, 5, >50":         `">50" is a bound`,
		"0, 5, over 50":     "bound",
		"0, 25, 50+":        `"50+" is a bound`,
		"0, trace, 2":       `"trace" is a word`,
		"neg, 1, 2":         `"neg" is a word`,
		"0, 1, 99999999999": "beyond",
		"0 few 2":           `"few" is a word`,
		"0 mg/L 1 mg/L":     `"mg/L" is a unit`,
		"0, 7 8, 12":        `"7 8" holds several numbers`,
		"0; 1, 2; 3":        "several numbers",
		"0 1, 2 3":          `"0 1" holds several numbers`,
		"1e3, 2e3":          "several numbers",
		"0, 1k, 2k":         "glued",
		"1.2.3, 4":          "several points",
		"1.000,5; 2":        "several points",
		"1, 2, 1":           "1 stands there twice in 1 | 2 | 1",
		"(0), 1":            "no number",
		"0, 7 (6-9, 8":      "bracket",
	} {
		_, err := Values(text, unit)
		assert.Contains(t, fault(t, err, text).What, says, text)
	}
}

func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{"0.5": 0.5, "0,5": 0.5, ",5": 0.5, " 12 ": 12, "0,250": 0.25, "1000": 1000, "-1": -1} {
		v, err := Number(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, v, text)
		}
	}
	_, err := Number("1,000")
	assert.Equal(t, []Answer{{"1000", "1000"}, {"1", "1"}}, fault(t, err, "1,000").Answers)
	for _, text := range []string{"", "NaN", "half", "1/2", "1,000,000", "1.2.3", "1e3", "5 %", "Inf", "0x10"} {
		_, err := Number(text)
		assert.Contains(t, fault(t, err, text).What, "is no number", text)
	}
}

func TestSpan(t *testing.T) {
	for text, want := range map[string][2]float64{
		"45-75": {45, 75}, "45 – 75 s": {45, 75}, "45 s to 75 s": {45, 75}, "1-2 min": {60, 120}, "1 min - 2 min": {60, 120},
		"30 sec - 1 min": {30, 60}, "45,5-75": {45.5, 75}, "0,5-1 min": {30, 60}, "1:00-1:30": {60, 90}, "1-2 s": {1, 2}, "45s-75": {45, 75},
		`45"-1'`: {45, 60}, "1′-2′": {60, 120},
	} {
		from, to, err := Span(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, [2]float64{from, to}, text)
		}
	}
	for text, says := range map[string]string{
		"1 min": "one moment", "60": "one moment", "after 60 s": "one moment", "75-45": "end after it begins", "a minute": "no span",
		"4.5.5-75": "no span", "": "no span", "2-3": "minutes or seconds", "45-1" + strings.Repeat("0", 400): "more than a day", "1,000-2,000": "may be 1000 or 1",
	} {
		_, _, err := Span(text)
		assert.Contains(t, fault(t, err, text).What, says, text)
	}
	_, _, err := Span("2-3")
	for i, a := range fault(t, err, "2-3").Answers {
		_, to, err := Span(a.Text)
		require.NoError(t, err)
		assert.Equal(t, []float64{180, 3}[i], to)
	}
}

func fault(t *testing.T, err error, text string) *Fault {
	t.Helper()
	var f *Fault
	require.ErrorAs(t, err, &f, text)
	assert.NotContains(t, f.What, "\n")
	return f
}

// Whatever is typed, nothing panics, and an answer that is offered is taken.
func FuzzValues(f *testing.F) {
	for _, text := range []string{"0 0,5 1", "0,5,10", "7 (6-9), 8", ",,;(", "1,2,3,4,3,2,1", "-,5 ) (", "0,1 mg/L,3"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		items, err := Values(text, unit)
		if err == nil {
			assert.True(t, len(items) > 1 && ordered(items))
			return
		}
		for _, a := range fault(t, err, text).Answers {
			_, err := Values(a.Text, unit)
			assert.NoError(t, err, "%q offers %q", text, a.Text)
		}
	})
}
