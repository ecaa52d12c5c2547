package charts_test

import (
	"fmt"

	"padband/charts"
)

// A chart and the marks of a photo of 400 x 300 pixels: which pads can be read.
func Example() {
	chart, err := charts.ParseChart([]byte(`{"chart": "brook", "analytes": [
		{"name": "nitrate", "unit": "mg/L", "as": "N", "swatches": [{"value": 0}, {"value": 5}]},
		{"name": "pH", "unit": "pH", "swatches": [{"value": 6}, {"value": 8}]}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	marks, err := charts.ParseMarks([]byte(`{"chart": "brook", "regions": [
		{"role": "pad", "analyte": "nitrate", "rect": [300, 10, 20, 20]},
		{"role": "swatch", "analyte": "nitrate", "value": 0, "rect": [10, 10, 20, 20]},
		{"role": "swatch", "analyte": "nitrate", "value": 5, "rect": [40, 10, 20, 20]},
		{"role": "white", "rect": [200, 200, 40, 40]}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	placed, err := marks.Place(chart, 400, 300)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range placed.Pads {
		fmt.Println(p.Analyte.Name, "in", p.Analyte.Measure(), "with", len(p.Swatches), "swatches")
	}
	fmt.Println(charts.NoteTexts(placed.Notes))
	// Output:
	// nitrate in mg/L as N with 2 swatches
	// [no pad is marked for pH: skipped]
}
