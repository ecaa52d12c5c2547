package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/calib/strip"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// lit is a photo's light of that word, with one warning.
func lit(word calib.Reliability, code string) calib.LightReport {
	return calib.LightReport{Reliability: word, Warnings: []calib.Warning{{Code: calib.Code(code), Seen: "Z.", Weight: word}}}
}

func TestDoubt(t *testing.T) {
	const again = " Take another photo by daylight, closer and without shine or shadow, or dip a new strip."
	const white = `Mark white first: see "The photo" below.`
	fine := lit(calib.Good, "no-profile")
	for _, k := range []struct {
		what      string
		low, high float64 // the band; over the chart's 0 to 11
		wide      bool
		light     calib.LightReport
		weights   []calib.Reliability
		want      string
	}{
		{"a warning says why", 1, 9, false, fine, []calib.Reliability{calib.Caution, calib.Unreliable}, "The reason is given below."},
		{"too wide", 1, 9, true, fine, nil, "The colour fits 2.5 of the chart's 4 steps, too much to act on." + again},
		{"too wide with a lighter warning", 1, 9, true, lit(calib.Caution, "shadow"), []calib.Reliability{calib.Caution},
			"The colour fits 2.5 of the chart's 4 steps, too much to act on." + again},
		{"as wide as the chart", 0, 11, true, fine, nil, "The colour fits the whole chart." + again},
		{"nearly as wide", 0.06, 11, true, fine, nil, "The colour fits 3.9 of the chart's 4 steps, too much to act on." + again},
		{"as wide within a twentieth of a step", 0.04, 10.9, true, fine, nil, "The colour fits the whole chart." + again},
		{"the light", 1, 7, false, lit(calib.Unreliable, "shadow"), nil, `The light is at fault, see "The photo" below.`},
		{"the file", 1, 7, false, lit(calib.Unreliable, "flash"), nil, `The file is at fault, see "The photo" below.`},
		{"too wide in bad light", 1, 9, true, lit(calib.Unreliable, "shadow"), nil, "The colour fits 2.5 of the chart's 4 steps, too much to act on." + again},
		{"wide but not called so", 1, 9, false, fine, nil, "Its figures are not to be relied on."},
		{"no white, too wide", 0, 11, true, lit(calib.Caution, "no-white"), nil, white + " The colour fits the whole chart."},
		{"no white, a warning", 1, 7, false, lit(calib.Caution, "no-white"), []calib.Reliability{calib.Unreliable},
			white + " The reason is given below."},
		{"no white alone", 1, 7, false, lit(calib.Unreliable, "no-white"), nil, white},
		{"no white, no reason", 1, 7, false, lit(calib.Caution, "no-white"), nil, white},
	} {
		r := reporttest.Nitrate()
		r.Reliability, r.TooWide, r.Band.Low.Value, r.Band.High.Value = calib.Unreliable, k.wide, k.low, k.high
		for _, w := range k.weights {
			r.Warnings = append(r.Warnings, calib.Warning{Code: "x", Seen: "Y.", Weight: w})
		}
		assert.Equal(t, k.want, words.Doubt(r, k.light), k.what)
		head, rest, _ := strings.Cut(padText(r, k.light, strip.Meaning{}), "\n")
		assert.True(t, strings.HasSuffix(head, "Do not use this reading"), head)
		assert.True(t, strings.HasPrefix(reporttest.Flat(rest), k.want+" Between 3 and 7; "), "%s: before any figure: %s", k.what, rest)
	}
	r := reporttest.PresencePad(0.3)
	r.Reliability = calib.Unreliable
	assert.Contains(t, padText(r, good, strip.Meaning{}), "Do not use this reading\n  Its figures are not to be relied on.\n  Cannot tell ")
}

// A lighter doubt comes after the rule, and only what no warning says.
func TestCautionFromTheLight(t *testing.T) {
	const want = `  Doubtful because of the light: see "The photo" below.` + "\n"
	r := reporttest.Nitrate()
	r.Reliability = calib.Caution
	assert.True(t, strings.HasSuffix(padText(r, lit(calib.Caution, "shadow"), strip.Meaning{}), want))
	assert.NotContains(t, padText(r, lit(calib.Caution, "shadow"), strip.Meaning{}), "Do not use")
	const file = `  Doubtful because of the file: see "The photo" below.` + "\n"
	assert.True(t, strings.HasSuffix(padText(r, lit(calib.Caution, "profile-dropped"), strip.Meaning{}), file), "not the light")
	both := lit(calib.Caution, "shadow")
	both.Warnings = append(both.Warnings, lit(calib.Caution, "no-marker").Warnings...)
	assert.Contains(t, padText(r, both, strip.Meaning{}), `Doubtful because of the photo: see`)
	both.Warnings[1].Weight = calib.Good
	assert.Contains(t, padText(r, both, strip.Meaning{}), `Doubtful because of the light: see`, "a note without weight is no reason")
	r.Warnings = []calib.Warning{{Code: "x", Seen: "Y.", Weight: calib.Caution}}
	assert.NotContains(t, padText(r, lit(calib.Caution, "shadow"), strip.Meaning{}), "Doubtful because", "its own warning says why")
	r.Reliability, r.Warnings = calib.Good, nil
	assert.NotContains(t, padText(r, good, strip.Meaning{}), "Doubtful because")
}
