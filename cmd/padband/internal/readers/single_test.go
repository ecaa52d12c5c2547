package readers

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
)

// Two readings of one sample by what they share: figures by hand. 9 is 0.4 of
// the step from 7 to 12.
func TestGapTextAndJSON(t *testing.T) {
	a := agreement.Single{Name: "a.reading.json", Analyte: "nitrate", Unit: "mg/L", As: "N", Value: 9,
		Band: agreement.Span{Low: 7, High: 11}, Water: agreement.Span{Low: 6, High: 13}, Own: 0.1, Reliability: "good",
		Swatches: []float64{0, 1, 3, 7, 12, 25}}
	b := a
	b.Name, b.Value, b.Band, b.Water, b.Past = "b.reading.json", 25, agreement.Span{Low: 22, High: math.Inf(1)},
		agreement.Span{Low: 20, High: math.Inf(1)}, "above"
	for r, want := range map[agreement.Relation]string{
		agreement.SamePhoto: "The two differ by more than their errors allow.\nb is higher, by at least 16 mg/L as N or " +
			"1.60 steps.\nLook at the marks of both: one has left its patch, or missed a white area.\n",
		agreement.OneStrip: "The two differ by more than their errors allow.\nb is higher, by at least 16.0 mg/L as N " +
			"or 1.60 steps.\nLook at the warnings of both photos, and take a third one in even light.\n",
		agreement.TwoStrips: "The two differ by more than their errors allow.\nb is higher, by at least 16.0 mg/L as N " +
			"or 1.60 steps.\nDip a third strip of the same sample, at the time the maker's sheet gives.\n",
		agreement.ByReference: "The two differ by more than their errors allow.\nb is higher, by at least 16.0 mg/L as N " +
			"or 1.60 steps.\nTrust the better method; check the strip's lot, date and timing.\n",
	} {
		g := agreement.Between(a, b, r)
		text := GapText(g)
		assert.True(t, strings.HasPrefix(text, want), "%s\n%s", r, text)
		for _, l := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80, l)
		}
		data, err := GapJSON(g, "test")
		require.NoError(t, err)
		assert.Contains(t, string(data), `"water_band":[20,null]`)
	}
	b.Reliability = "unreliable"
	b.Value, b.Past, b.Band = 10, "", agreement.Span{Low: 5, High: 20}
	assert.True(t, strings.HasPrefix(GapText(agreement.Between(a, b, agreement.OneStrip)),
		"The two agree within 5.4 mg/L as N, but b is not to be used.\n"))
	b.Value = math.NaN()
	text := GapText(agreement.Between(a, b, agreement.TwoStrips))
	assert.True(t, strings.HasPrefix(text, "Whether the two differ cannot be said.\n"), text)
	assert.NotContains(t, text, "NaN")
}
