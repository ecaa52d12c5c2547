package reading

import (
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func figureText(t *testing.T, v float64) string {
	t.Helper()
	data, err := json.Marshal(Figure(v))
	require.NoError(t, err)
	return string(data)
}

// At most five significant digits, at the edges of rounding and of size too.
func TestFiguresHaveFiveDigits(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 1.0 / 3: "0.33333", 99999.4: "99999", 99999.5: "100000", 0.4999949: "0.49999", 0.499995: "0.5", -2.00006: "-2.0001",
		123456: "123460", 4e-7: "4e-7", math.Copysign(0, -1): "0", math.NaN(): "null",
	} {
		assert.Equal(t, want, figureText(t, v))
	}
	digits := regexp.MustCompile(`[0-9]+\.?[0-9]*`)
	v := math.Pi * 1e-5
	for range 10 {
		v *= -10
		n := strings.Trim(strings.Replace(digits.FindString(figureText(t, v)), ".", "", 1), "0")
		assert.LessOrEqual(t, len(n), 5, "%v", v)
	}
}
