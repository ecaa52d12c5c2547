package page

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// A chart that is being typed is told back with its faults, and is kept nowhere.
func TestUnderstoodTellsAChartBack(t *testing.T) {
	r := start(t)
	status, body := r.post("api/charts/understood", charts.Typed{Title: "x", Analytes: []charts.TypedAnalyte{
		{Name: "nitrate", Values: "0 0,5 1 2", Unit: "mg/l"},
		{Name: "pH", Values: "6,7,8"},
	}})
	require.Equal(t, 200, status, string(body))
	var u understoodChart
	require.NoError(t, json.Unmarshal(body, &u))
	require.Len(t, u.Rows, 2)
	assert.Equal(t, "4 swatches: 0 | 0.5 | 1 | 2 mg/L", u.Rows[0].Text)
	assert.Equal(t, []string{"N", "NO3"}, u.Rows[0].Forms)
	assert.Equal(t, "mg/L", u.Rows[0].Units[0].Name)
	assert.Empty(t, u.Rows[1].Text)
	require.Len(t, u.Faults, 2)
	assert.Equal(t, "analytes.0.as", u.Faults[0].Field)
	assert.Equal(t, "analytes.1.values", u.Faults[1].Field)
	assert.Equal(t, []meaning{{"3 values: 6 | 7 | 8", "6; 7; 8"}, {"2 values: 6.7 | 8", "6.7; 8"}}, u.Faults[1].Answers)

	_, body = r.post("api/charts/understood", charts.Typed{})
	require.NoError(t, json.Unmarshal(body, &u))
	assert.NotContains(t, string(body), "null", "the page counts on lists")
	status, _ = r.post("api/charts/understood", []byte(`{"rows": 1}`))
	assert.Equal(t, 400, status)
	assert.Len(t, r.page.book.infos(), len(charts.Bundled()))
}
