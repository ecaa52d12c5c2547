package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestParseDilution(t *testing.T) {
	for _, c := range []struct {
		text          string
		factor, error float64
		printed       string
	}{
		{"1+1", 2, 0, "1+1"}, {" 1 + 4 ", 5, 0, "1+4"}, {"2+1", 1.5, 0, "2+1"}, {"10+90, 3 %", 10, 0.03, "10+90, 3 %"},
		{"1+9 ±2.5%", 10, 0.025, "1+9, 2.5 %"}, {"0.5+0.5", 2, 0, "0.5+0.5"}, {"1+1 within 5 %", 2, 0.05, "1+1, 5 %"},
	} {
		d, err := ParseDilution(c.text)
		if assert.NoError(t, err, c.text) {
			near(t, c.factor, d.Factor(), 1e-12, c.text)
			near(t, c.error, d.Error, 1e-12, c.text)
			assert.Equal(t, c.printed, d.String())
		}
	}
	const advice = "; write parts of sample + parts of clean water, such as 1+1 or 1+4, 3 %"
	for text, want := range map[string]string{
		"":          `the dilution "" cannot be read` + advice,
		"1:1":       `the dilution "1:1" could be one part in so many or one part with so many` + advice,
		"2x":        `the dilution "2x" cannot be read` + advice,
		"0+1":       `the dilution "0+1" has a part of 0` + advice,
		"1+0":       `the dilution "1+0" has a part of 0` + advice,
		"1+1000":    `the dilution "1+1000" is over 1000 times` + advice,
		"1+1, 60 %": `the dilution "1+1, 60 %" is measured too badly to use` + advice,
		"1+-1":      `the dilution "1+-1" cannot be read` + advice,
	} {
		_, err := ParseDilution(text)
		assert.EqualError(t, err, want)
	}
}
