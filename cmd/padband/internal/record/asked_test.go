package record

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/record/bag"
)

// What was asked comes back from its form in a record.
func TestAskedComesBack(t *testing.T) {
	d, err := units.ParseDilution("1+4, 3 %")
	require.NoError(t, err)
	u, err := units.Parse("mg/L as NO3")
	require.NoError(t, err)
	mine := []byte(`{"format": 1, "set": "mine", "limits": [{"analyte": "nitrate", "value": 5, "unit": "mg/L", "as": "N"}]}`)
	own, err := limits.ParseLimits(mine)
	require.NoError(t, err)
	q := strip.Ask{Guard: 0.9, Dilution: &d, Units: []units.Unit{u}, Limits: []limits.LimitChoice{{Set: own}}}
	for _, text := range []string{"us-epa", "6.5-8.5", "pH 6.6 to 8.4", "nitrate 10 mg/L as N", "10 mg/L as N", "80-120 mg/L as CaCO3", "total hardness 1 gr/gal"} {
		c, err := limits.ParseLimit(text)
		require.NoError(t, err, text)
		q.Limits = append(q.Limits, c)
	}
	a := AskedAs(q, map[string][]byte{"mine": mine})
	var typed []string
	for _, l := range a.Limits {
		typed = append(typed, l.Text)
	}
	want := "mine; us-epa; pH 6.5 to 8.5; pH 6.6 to 8.4; nitrate 10 mg/L as N; 10 mg/L as N; 80 to 120 mg/L as CaCO3; total hardness 1 gr/gal"
	assert.Equal(t, want, strings.Join(typed, "; "))
	root := bag.Memory(a.files())
	back, err := askedOf(root, a.facts())
	require.NoError(t, err)
	again, err := back.Ask()
	require.NoError(t, err)
	assert.Equal(t, q, again)
	assert.Equal(t, []string{"data/limits/mine.limits.json", "data/limits/us-epa.limits.json"}, root.Names())

	for _, guard := range []float64{0.51, 0.8, 0.975, 0.9999} {
		again, err := AskedAs(strip.Ask{Guard: guard}, nil).Ask()
		require.NoError(t, err)
		assert.Equal(t, guard, again.Guard, "to its last digit")
	}
	plain, err := AskedAs(strip.Ask{Guard: judge.DefaultGuard}, nil).Ask()
	require.NoError(t, err)
	assert.Equal(t, strip.Ask{Guard: judge.DefaultGuard}, plain)
	assert.Equal(t, Asked{}, AskedAs(strip.Ask{}, nil), "nothing asked is nothing kept")
	assert.Equal(t, Asked{}, AskedAs(strip.Ask{Guard: judge.DefaultGuard}, nil), "the usual guard is not written")
	for _, bad := range []Asked{{Guard: "many"}, {Dilution: "half"}, {Units: []string{"furlong"}}, {Limits: []AskedLimit{{Text: "much"}}}, {Limits: []AskedLimit{{"x", []byte("{")}}}} {
		_, err := bad.Ask()
		assert.Error(t, err, "%v", bad)
	}
}
