package reading_test

import (
	"fmt"

	"padband/calib/reading"
)

// What is not in the file is missing, and an end of a band that is null is open.
func ExampleParse() {
	file, err := reading.Parse([]byte(`{"format": 1, "readings": [{"analyte": "nitrate", "unit": "mg/L", "as": "N",
		"value": 6.8, "range": "within", "reliability": "good", "band": {"low": 5.1, "high": null}}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	r := file.Readings[0]
	low, high := r.Band.Ends()
	fmt.Println(r.Analyte, float64(r.Value), r.Unit, "as", r.As)
	fmt.Println(low, high, r.Judgement == nil)
	// Output:
	// nitrate 6.8 mg/L as N
	// 5.1 +Inf true
}
