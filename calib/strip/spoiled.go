package strip

import (
	"fmt"
	"slices"
	"strconv"

	"padband/calib"
	"padband/charts"
	"padband/charts/units"
)

// enoughDiluted is how many times the water is diluted at least before a second strip
// without colour shows that there is nothing (common practice, no source): water that
// still bleaches the pad then holds ten times what bleaches it.
const enoughDiluted = 10

// addSpoilers lets the pads of one photo testify about each other, by what the chart
// says of each. A pad is spoiled where another may read over the figure, by the upper
// end of its water band: a wrong "below" does more harm than a strip too many.
func (r *Result) addSpoilers(ask Ask) error {
	ruledOut, err := r.bleachRuledOut(ask)
	if err != nil {
		return err
	}
	found := make([][]calib.Warning, len(r.Readings))
	for i, x := range r.Readings {
		for _, s := range x.Analyte.SpoiledBy {
			k := slices.IndexFunc(r.Readings, func(o calib.Reading) bool { return o.Analyte.Name == s.Analyte })
			if k < 0 {
				continue // not marked, or not on the strip
			}
			other := r.Readings[k]
			bleached := other.Analyte.BleachesItself() && mayBeNought(other) && !ruledOut(other)
			if w := spoils(x.Analyte, s, other, bleached); w.Code != "" {
				found[i] = append(found[i], w)
			}
		}
	}
	for i := range found {
		r.Readings[i].Add(found[i]...)
	}
	return nil
}

// mayBeNought reports whether a pad may show its lowest swatch, which has no colour
// where the analyte bleaches its own pad.
func mayBeNought(x calib.Reading) bool {
	return x.Band.Low.Open || x.Band.Low.Value <= x.Analyte.Swatches[0].Value
}

// spoils is the warning of a spoiler for the pad of an analyte; other is the reading
// that shows the spoiler, and bleached says that it may be bleached itself. The code
// is empty where nothing is spoiled.
func spoils(a charts.Analyte, s charts.Spoiler, other calib.Reading, bleached bool) calib.Warning {
	w := calib.Warning{Code: calib.CodeSpoiledBy, Figure: other.WaterBand.High.Value, Threshold: s.Over, Weight: calib.Unreliable,
		Places: []calib.Place{{Kind: calib.PlacePad, Analyte: a.Name}}}
	if s.Analyte != a.Name {
		w.Places = append(w.Places, calib.Place{Kind: calib.PlacePad, Analyte: s.Analyte})
	}
	over := units.Quantity{Value: s.Over, Unit: other.Analyte.Measure()}
	does := fmt.Sprintf("over %s it %s this pad (%s).", over, s.How, s.Source)
	switch {
	case s.Analyte == a.Name && bleached:
		w.Seen = fmt.Sprintf("The pad has next to no colour, which shows either no %s or very much of it: %s", s.Analyte, does)
		w.Then = tellNoughtFromMuch
	case s.Analyte == a.Name:
		return calib.Warning{}
	case bleached:
		w.Seen = fmt.Sprintf("The %s pad has next to no colour, which shows either none or very much; %s", s.Analyte, does)
		w.Then = tellNoughtFromMuch
	case other.WaterBand.High.Open || other.WaterBand.High.Value > s.Over:
		w.Seen = fmt.Sprintf("By its own pad the water may hold %s of %s; %s", atMost(other), s.Analyte, does)
		w.Then = "Do not use this reading: have the water tested by a laboratory, or dip a new strip in a sample taken before the treatment."
	case other.Reliability == calib.Unreliable:
		w.Weight = calib.Caution
		w.Seen = fmt.Sprintf("How much %s the water holds is not known, because its own pad is unreliable; %s", s.Analyte, does)
		w.Then = "Take a photo in which that pad can be read too."
	default:
		return calib.Warning{}
	}
	return w
}

// atMost says the most that the water may hold, by a reading.
func atMost(x calib.Reading) string {
	high, _ := strconv.ParseFloat(strconv.FormatFloat(x.WaterBand.High.Value, 'g', 2, 64), 64)
	q := units.Quantity{Value: high, Unit: x.Analyte.Measure()}.String()
	if x.WaterBand.High.Open {
		return q + " or more"
	}
	return "up to " + q
}

// tellNoughtFromMuch is how a person can say that a pad without colour shows nothing.
const tellNoughtFromMuch = "If nothing smells of chlorine and nothing was treated, the marks can say so of the sample " +
	"(\"bleach_ruled_out\": true). Otherwise mix the water with nine times as much clean water, dip a second strip and set the two " +
	"side by side."

// bleachRuledOut returns a function that says whether a pad without colour is known to
// show that there is nothing: because the person says so, or because a strip of the
// water itself and this one of well diluted water both show nothing. Had the water
// itself bleached its pad, the diluted water would colour this one.
func (r *Result) bleachRuledOut(ask Ask) (func(calib.Reading) bool, error) {
	if r.Marks.Sample.BleachRuledOut {
		return func(calib.Reading) bool { return true }, nil
	}
	d, err := ask.dilution(r.Marks.Sample)
	if err != nil {
		return nil, err
	}
	return func(x calib.Reading) bool {
		return d != nil && d.Times().Of(1) >= enoughDiluted && slices.ContainsFunc(ask.Pure, func(p calib.Reading) bool {
			return p.Analyte.Name == x.Analyte.Name && mayBeNought(p) && soundBut(p, calib.CodeSpoiledBy)
		})
	}, nil
}

// soundBut reports whether nothing but one code makes a reading unreliable.
func soundBut(x calib.Reading, code calib.Code) bool {
	spoiled := false
	for _, w := range x.Warnings {
		if w.Code != code && w.Weight == calib.Unreliable {
			return false
		}
		spoiled = spoiled || w.Code == code
	}
	return !x.TooWide && (spoiled || x.Reliability != calib.Unreliable)
}
