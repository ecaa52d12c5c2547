package page

import (
	"encoding/json"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a person types of the sample and cannot be taken is refused by its field's name.
func TestSampleFaultsNameTheirField(t *testing.T) {
	r := start(t, "kitchen.jpg")
	for _, c := range []struct{ sample, field, says string }{
		{`{"dilution": "1:1"}`, "sample.dilution", "could be one part in so many"},
		{`{"dilution": "1,5+1"}`, "sample.dilution", "cannot be read"},
		{`{"kit": {"expires": "5/2027"}}`, "sample.expires", "is no month such as 2027-05"},
		{`{"dipped": "2026-11-25"}`, "", "sample.dipped: is \"2026-11-25\"; write a time with its offset"},
		{`{"dilution": 3}`, "", "sample.dilution"},
		{`7`, "", "sample"},
	} {
		w := r.kitchen()
		var marks map[string]any
		require.NoError(t, json.Unmarshal(w.Marks, &marks))
		marks["sample"] = json.RawMessage(c.sample)
		data, err := json.Marshal(marks)
		require.NoError(t, err)
		w.Marks = data
		status, body := r.post("api/photos/1/reading", w)
		said := refused(t, http.StatusUnprocessableEntity, status, body)
		assert.Equal(t, c.field, said.Field, c.sample)
		assert.Contains(t, said.Error, c.says)
	}
}
