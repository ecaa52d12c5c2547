package judge_test

import (
	"fmt"
	"time"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
	"padband/charts/limits"
)

// A nitrate pad that lies surely half way between 12 and 25 mg/L as N, on a strip
// whose own error is half a step, against a limit of 10.
func ExampleAgainst() {
	nitrate := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1,
		KitError: &charts.KitError{Steps: 0.5, Source: "invented"}}
	for _, v := range []float64{0, 1, 3, 7, 12, 25} {
		nitrate.Swatches = append(nitrate.Swatches, charts.Swatch{Value: v})
	}
	place := calib.Posterior{Top: 5, Mass: make([]float64, 6*calib.PerStep+1)}
	place.Mass[4*calib.PerStep+calib.PerStep/2] = 1
	reading := calib.FromPosterior(nitrate, place)

	limit, err := limits.ParseLimit("nitrate 10 mg/L as N")
	if err != nil {
		fmt.Println(err)
		return
	}
	j := judge.Against(reading, limit.For(nitrate, time.Time{})[0], judge.DefaultGuard)
	fmt.Println(j.Verdict)
	fmt.Println(j.Words[0])
	// Output:
	// above
	// Above 10 mg/L as N (the limit given): over 99 % that the water is over it.
}

// Six readings by strips of one lot, each higher than the one before.
func ExampleMannKendall() {
	var points []judge.TrendPoint
	for i := range 6 {
		v := 2 + float64(i)
		band := calib.Band{Low: calib.Bound{Value: v - 0.3}, High: calib.Bound{Value: v + 0.3}, Coverage: calib.Coverage}
		points = append(points, judge.TrendPoint{Value: v, Band: band, WaterBand: band, Source: "lot 1"})
	}
	r := judge.MannKendall(points)
	fmt.Printf("%s, P = %.4f\n", r.Word, r.P) // one order and its reverse of 720
	// Output: rising, P = 0.0028
}
