package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
)

// A plan of a chart with many words goes on over more sheets.
func TestLongPlan(t *testing.T) {
	c := reporttest.ReadDemo(t, "kitchen").Chart
	for range 60 {
		c.Handling = append(c.Handling, "Hold the strip level while the colour comes up, and do not let it touch the card or your hand.")
	}
	p := newPlan(c, "1")
	require.Greater(t, len(p.Sheets), 1)
	assert.Equal(t, len(p.Sheets), p.Sheets[0].Of)
	assert.Equal(t, 2, p.Sheets[1].Number)
	assert.Contains(t, PlanText(c, "1"), "\nAfter\n")
	assert.Len(t, newPlan(charts.Chart{}, "1").Sheets, 1)
	for _, c := range charts.Bundled() {
		assert.Len(t, newPlan(c, "1").Sheets, 1, "the plan of %s fits on one sheet", c.Name)
	}
}
