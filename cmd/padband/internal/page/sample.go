package page

import (
	"encoding/json"

	"padband/charts"
	"padband/charts/units"
)

// checkSample checks what a person types of the sample as text, so that what is wrong
// can be told at its field. Marks of another shape are refused where they are read.
func checkSample(marks json.RawMessage) error {
	var m struct {
		Sample struct {
			Dilution string
			Kit      struct{ Expires string }
		}
	}
	if json.Unmarshal(marks, &m) != nil {
		return nil
	}
	if s := m.Sample.Dilution; s != "" {
		if _, err := units.ParseDilution(s); err != nil {
			return fieldError("sample.dilution", err)
		}
	}
	if s := m.Sample.Kit.Expires; s != "" {
		if _, err := charts.ParseExpiry(s); err != nil {
			return fieldError("sample.expires", err)
		}
	}
	return nil
}
