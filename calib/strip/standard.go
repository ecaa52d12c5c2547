package strip

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/charts/units"
)

// Standard is a check standard: a strip of the same bottle dipped into water of a
// known value, or into a blank without any, and read from its own photo.
type Standard struct {
	Photo    string // the photo's name, for people
	Analyte  string // empty where the unit alone says which it is
	Known    units.Quantity
	Readings []calib.Reading
}

// StandardCheck is a standard beside a reading of its analyte. The reading is not
// corrected by it, for one point does not tell an offset from a factor.
type StandardCheck struct {
	Photo   string
	Known   units.Quantity // as it was given
	Value   float64        // the same in the reading's unit
	Reading calib.Reading
	Holds   bool // whether the standard's water band holds the known value
}

// ParseStandard reads a known value: "10 mg/L as N", "nitrate 10 mg/L as N", "0
// mg/L as N" for a blank, "7 pH". The error is a [*units.Error].
func ParseStandard(text string) (analyte string, known units.Quantity, err error) {
	text = strings.TrimSpace(text)
	at := strings.IndexAny(text, ".0123456789")
	if at < 0 {
		at = 0
	}
	known, err = units.ParseQuantity(text[at:])
	return strings.TrimSpace(text[:at]), known, err
}

// fits reports whether the standard is of an analyte.
func (s Standard) fits(a charts.Analyte) bool {
	if s.Analyte != "" && !strings.EqualFold(s.Analyte, a.Name) {
		return false
	}
	_, err := units.Factor(a.Name, s.Known.Unit, a.Measure())
	return err == nil
}

// check refuses a standard that fits none of the analytes, or several of them: the
// program never guesses which one is meant.
func (s Standard) check(all []charts.Analyte) error {
	var fit []string
	for _, a := range all {
		if s.fits(a) {
			fit = append(fit, a.Name)
		}
	}
	switch {
	case len(fit) == 0:
		return fmt.Errorf("the standard of %s fits no analyte of the chart; give it in a unit that one of them can have", s.Known)
	case len(fit) > 1:
		return fmt.Errorf("the standard of %s fits %s; put the name before it, such as %s %s", s.Known, strings.Join(fit, " and "),
			fit[0], s.Known)
	}
	return nil
}

// beside sets the standard beside a reading. It is nil when the standard is of another
// analyte, or when that analyte was not read from the standard's own strip.
func (s Standard) beside(r calib.Reading) *StandardCheck {
	if !s.fits(r.Analyte) || r.Analyte.Kind == charts.KindPresence {
		return nil
	}
	for _, x := range s.Readings {
		if x.Analyte.Name != r.Analyte.Name || x.Analyte.Measure() != r.Analyte.Measure() {
			continue
		}
		f, _ := units.Factor(r.Analyte.Name, s.Known.Unit, r.Analyte.Measure())
		v := f.Of(s.Known.Value)
		return &StandardCheck{s.Photo, s.Known, v, x, holds(x.WaterBand, v)}
	}
	return nil
}

// holds reports whether a band holds a value, to within a rounding.
func holds(b calib.Band, v float64) bool {
	slack := 1e-9 * (1 + math.Abs(v))
	return (b.Low.Open || b.Low.Value <= v+slack) && (b.High.Open || b.High.Value >= v-slack)
}

// off is the warning that the standard's strip does not read what it should. With this
// warning no reading of the same bottle says below a health limit.
func (c StandardCheck) off() calib.Warning {
	return calib.Warning{Code: calib.CodeStandardOff, Weight: calib.Caution, Figure: c.Reading.Value, Threshold: c.Value,
		Places: []calib.Place{{Kind: calib.PlacePad, Analyte: c.Reading.Analyte.Name}},
		Seen: fmt.Sprintf("The strip dipped into the known water does not read %s, as it should: something is wrong with the bottle, "+
			"the dip, the photo or the marks.", c.Known),
		Then: "Dip both strips again from a fresh kit. No reading was corrected because of this."}
}
