package judge

import (
	"fmt"

	"padband/calib"
)

// disagreed is the probability of a difference from which on two strips are said to
// disagree: one pair in a hundred does by chance.
const disagreed = 0.995

// CheckDilution compares a strip of the water itself with one of the diluted water,
// which is given as [calib.Reading.Undiluted] returns it. It warns when the diluted
// pad is still at the chart's top, or when the two cannot both be right.
func CheckDilution(undiluted, diluted calib.Reading) (calib.Warning, bool) {
	name := diluted.Analyte.Name
	if diluted.Range == calib.Above {
		return calib.Warning{Code: calib.CodeDilutionAtTop, Weight: calib.Caution,
			Places: []calib.Place{{Kind: calib.PlacePad, Analyte: name}},
			Seen:   fmt.Sprintf("Diluted as it is, the %s pad is still at the chart's top.", name),
			Then:   "Dilute it further and dip a new strip."}, true
	}
	if undiluted.Analyte.Measure() != diluted.Analyte.Measure() {
		return calib.Warning{}, false
	}
	difference := worthsOf(undiluted.Water, undiluted.Analyte, 1).less(worthsOf(diluted.Water, diluted.Analyte, 1))
	more := difference.over(0)
	word := "less"
	switch {
	case more.AtMost <= 1-disagreed:
		word = "more"
	case more.AtLeast < disagreed:
		return calib.Warning{}, false
	}
	return calib.Warning{Code: calib.CodeDilutionDisagrees, Weight: calib.Caution, Threshold: disagreed,
		Figure: max(more.AtLeast, 1-more.AtMost), Places: []calib.Place{{Kind: calib.PlacePad, Analyte: name}},
		Seen: fmt.Sprintf("The diluted strip says that there is %s %s in the water than the strip of the water itself does.", word, name),
		Then: "One of the two is wrong: check the dilution water with a strip, measure anew, and dip two new strips."}, true
}
