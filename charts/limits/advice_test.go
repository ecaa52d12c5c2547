package limits

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAdviceCanBeRead(t *testing.T) {
	data, err := adviceFile.ReadFile("advice.json")
	require.NoError(t, err)
	all, err := parseAdvice(data)
	require.NoError(t, err)
	require.Greater(t, len(all), 20)
	outcomes := []string{string(OutcomeAbove), string(OutcomeNear), string(OutcomeBelow), string(OutcomeUnder), string(OutcomeNone)}
	for _, a := range all {
		assert.NotEmpty(t, a.step.Source, a.step.Text)
		assert.Subset(t, outcomes, a.outcomes, a.step.Text)
		assert.Subset(t, setOrder, a.sets, a.step.Text)
		for _, w := range a.analytes {
			assert.Equal(t, strings.ToLower(w), w, a.step.Text)
		}
	}
	for _, bad := range []string{`{"advice": [{"text": "a"}]}`, `{"advice": [{"text": "a", "source": "b", "who": "c"}]}`, `{"advice": {}}`, `[`} {
		_, err := parseAdvice([]byte(bad))
		assert.Error(t, err, bad)
	}
}

// What must be said, by analyte and outcome.
func TestAdviceSays(t *testing.T) {
	for _, c := range []struct {
		analyte string
		outcome Outcome
		set     string
		parts   []string
	}{
		{"nitrate", OutcomeAbove, "us-epa", []string{"baby formula", "pregnant, ask a doctor", "Boiling makes it stronger", "softener does not take nitrate out", "carbon filter", "certified laboratory", "again after any treatment", "health authority"}},
		{"nitrate", OutcomeNear, "who", []string{"baby formula", "Boiling makes it stronger", "certified laboratory", "Local codes"}},
		{"Nitrate + nitrite", OutcomeNear, "eu", []string{"baby formula"}},
		{"nitrate", OutcomeBelow, "us-epa", []string{"do not rely on a strip", "certified laboratory"}},
		{"total hardness", OutcomeNone, "", []string{"drop titration", "only shows whether it works"}},
		{"total hardness", OutcomeAbove, "treatment", []string{"softener may be used up", "drop titration"}},
		{"iron", OutcomeBelow, "us-epa", []string{"at the tap", "rust reads low"}},
		{"free chlorine", OutcomeNone, "us-epa", []string{"fades", "bleaches a pad"}},
		{"pH", OutcomeUnder, "us-epa", []string{"at the tap", "eat into pipes", "lead and copper"}},
		{"lead", OutcomeBelow, "us-epa", []string{"no ground to call water fit to drink", "certified laboratory"}},
		{"arsenic", OutcomeBelow, "who", []string{"no ground to call water fit to drink", "toxic gas", "air moves", "sheet"}},
		{"total coliform bacteria", OutcomeNone, "", []string{"No colour pad finds germs", "laboratory"}},
	} {
		text := strings.Join(Advice(c.analyte, c.outcome, c.set), " ")
		for _, p := range c.parts {
			assert.Contains(t, text, p, "%s %s", c.analyte, c.outcome)
		}
	}
	assert.Empty(t, Advice("phosphate", OutcomeBelow, ""), "pH is no part of phosphate")
	assert.Equal(t, len(Advice("lead", OutcomeNear, "eu")), len(NextSteps("lead", OutcomeNear, "eu")))
	assert.NotContains(t, strings.Join(Advice("hardness", OutcomeAbove, "usgs-hardness"), " "), "used up")
}

// syllables counts a word's groups of vowels, a silent e left out.
func syllables(word string) int {
	n, before := 0, false
	for i, r := range word {
		vowel := strings.ContainsRune("aeiouy", r)
		if vowel && !before && !(r == 'e' && i == len(word)-1) {
			n++
		}
		before = vowel
	}
	return max(n, 1)
}

// A person of 13 can read it: sentences are short, and the school grade by the
// formula of Kincaid et al. (1975; from memory), 0.39 words a sentence + 11.8
// syllables a word - 15.59, is at most 8 over all and 11 for each piece. No
// piece calls water safe.
func TestAdviceIsPlain(t *testing.T) {
	var words, sentences, parts float64
	for _, a := range allAdvice() {
		text := strings.ToLower(a.step.Text)
		assert.NotContains(t, text, "safe")
		var w, s, p float64
		for _, sentence := range strings.FieldsFunc(text, func(r rune) bool { return r == '.' }) {
			all := strings.FieldsFunc(sentence, notLetter)
			assert.LessOrEqual(t, len(all), 20, sentence)
			s++
			for _, word := range all {
				w++
				p += float64(syllables(word))
			}
		}
		assert.LessOrEqual(t, 0.39*w/s+11.8*p/w-15.59, 11.0, a.step.Text)
		words, sentences, parts = words+w, sentences+s, parts+p
	}
	grade := 0.39*words/sentences + 11.8*parts/words - 15.59
	t.Logf("grade %.1f, %.1f words a sentence", grade, words/sentences)
	assert.LessOrEqual(t, grade, 8.0)
}
