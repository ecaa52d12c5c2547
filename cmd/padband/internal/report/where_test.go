package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
)

func TestWhere(t *testing.T) {
	r := nitrate()
	r.Analyte.Name, r.Swatches[1].Value = "a:b c", 1.5
	for _, k := range []struct{ code, text, want string }{
		{"clipped", "In 30 % of the pad", "pad:a:b c"},
		{"glare", "40 % of the pad shines and was left out.", "pad:a:b c"},
		{"glare", "40 % of the swatch for 1.5 shines and was left out.", "swatch:a:b c:1.5"},
		{"glare", "Something shines on the swatch for 7: it grows lighter", "swatch:a:b c:7"},
		{"shadow", "The swatch for 11 grows darker", "swatch:a:b c:11"},
		{"too-small", "The mark on the swatch for 3 holds only 20 usable pixels.", "swatch:a:b c:3"},
		{"too-small", "The mark on the swatch for 30 holds only 20 usable pixels.", "pad:a:b c"}, // the chart has no 30
		{"swatches-alike", "The swatches for 3 and 7 look alike", "bracket:a:b c"},
		{"swatches-out-of-order", "with the swatches for 3 and 7 exchanged", "row:a:b c"},
		{"early", "The photo was taken 10 s after the dip", "pad:a:b c"},
		{"expired", "The strip's kit expired", ""},
		{"open-too-long", "The kit had been open", ""},
	} {
		assert.Equal(t, k.want, where(calib.Warning{Code: k.code, Text: k.text}, r), k.text)
	}
}
