package strip_test

import (
	"fmt"
	"os"

	"padband/calib/strip"
	"padband/charts"
)

// A demo photo with its marks is read against the chart that the marks name.
func ExampleRead() {
	photo, err := os.ReadFile("../../testdata/demo/kitchen.jpg")
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := os.ReadFile("../../testdata/demo/kitchen.marks.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	marks, err := charts.ParseMarks(text)
	if err != nil {
		fmt.Println(err)
		return
	}
	chart, _ := charts.Find(marks.Chart)
	answer, err := strip.Read(strip.Input{Photo: photo, Chart: chart, Marks: marks})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range answer.Readings {
		fmt.Printf("%s: between %g and %g\n", r.Analyte.Name, r.Bracket[0], r.Bracket[1])
	}
	// Output:
	// nitrate: between 7 and 12
	// total hardness: between 160 and 260
	// pH: between 7 and 7.6
}
