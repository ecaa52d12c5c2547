package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/report/reporttest"
)

func TestChangeWords(t *testing.T) {
	const errors = " (the strips' own errors counted)."
	const alone = "Not shown to have changed: the errors of strips and photos alone could make this difference."
	none := math.NaN()
	for _, k := range []struct {
		c           judge.Change
		first, says string
	}{
		{reporttest.Changing(judge.Rose, 4.2, reporttest.Ends2(2.1, 6.5), reporttest.Ends2(1, 7.4)),
			"Changed: it rose by 4.2 mg/L as N.", "By the colours it rose by 2.1 to 6.5; in the water by 1.0 to 7.4" + errors},
		{reporttest.Changing(judge.Fell, -4.2, reporttest.Ends2(-6.5, -2.1), reporttest.Ends2(-7.4, -1)),
			"Changed: it fell by 4.2 mg/L as N.", "By the colours it fell by 2.1 to 6.5; in the water by 1.0 to 7.4" + errors},
		{reporttest.Changing(judge.Fell, none, reporttest.OpenLow(-8), reporttest.OpenLow(-7)),
			"Changed: it fell by at least 7.0 mg/L as N.", "By the colours it fell by at least 8.0; in the water by at least 7.0" + errors},
		{reporttest.Changing(judge.Rose, none, reporttest.OpenHigh(8), reporttest.OpenHigh(7)),
			"Changed: it rose by at least 7.0 mg/L as N.", "By the colours it rose by at least 8.0; in the water by at least 7.0" + errors},
		{
			reporttest.Changing(judge.NotShown, 1.2, reporttest.Ends2(-0.5, 3), reporttest.Ends2(-2.1, 4.5)),
			alone,
			"The difference reads +1.2 mg/L as N. By the colours it is −0.5 to +3.0; in the water it may be −2.1 to +4.5" + errors,
		},
		{reporttest.Changing(judge.NotShown, 0, reporttest.Ends2(-2, 2), reporttest.Ends2(-3, 3)),
			alone, "The difference reads 0 mg/L as N. By the colours it is −2.0 " +
				"to +2.0; in the water it may be −3.0 to +3.0" + errors},
		{
			reporttest.Changing(judge.NotShown, none, calib.Band{Low: calib.Bound{Open: true},
				High: calib.Bound{Open: true}}, calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}),
			alone, "By the colours it is anything; in the water it may be " +
				"anything" + errors,
		},
		{reporttest.Changing(judge.NotShown, none, reporttest.OpenLow(1.4), reporttest.OpenLow(2.4)),
			alone, "By the colours it is +1.4 or less; in the water it may be +2.4 or less" + errors},
		{
			reporttest.Changing(judge.CannotTell, 1.2, reporttest.Ends2(0.5, 3), reporttest.Ends2(0.1, 4.5)),
			"Cannot tell whether it changed: one of the readings is not to be used.",
			"The difference reads +1.2 mg/L as N. By the colours it is +0.5 to +3.0; in the water it may be +0.1 to +4.5" + errors,
		},
	} {
		first, says := Change(reporttest.Nitrate(), k.c)
		assert.Equal(t, k.first, first)
		assert.Equal(t, []string{k.says}, says)
	}
	c := reporttest.Changing(judge.Rose, 4.2, reporttest.Ends2(2.1, 6.5), reporttest.Ends2(1, 7.4))
	c.KitAssumed = true
	_, says := Change(reporttest.Nitrate(), c)
	assert.Contains(t, says[0], "in part assumed as half a step")
}

// What is shown to have changed never prints as nothing.
func TestSmallChangesKeepTheirFigures(t *testing.T) {
	first, says := Change(reporttest.Nitrate(), reporttest.Changing(judge.Rose, 0.04, reporttest.Ends2(0.01, 2),
		reporttest.Ends2(0.0004, 3)))
	assert.NotContains(t, first, "by 0 ")
	assert.Equal(t, "Changed: it rose by under 0.1 mg/L as N.", first)
	assert.Contains(t, says[0], "in the water by under 0.1 to 3.0")
}
