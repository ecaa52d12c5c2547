package strip

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"padband/calib"
	"padband/calib/witness"
	"padband/charts"
	"padband/charts/strict"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// witnessed warns of swatches that do not look as the chart remembers them in
// daylight. Where the bottle's lot is said and not remembered, it only says so; where
// no lot is said, the bottle that the photo fits best counts. Of a lamp that a person
// told of there is no news. Without white nothing can be compared.
func (m *Measured) witnessed(r *Result, light calib.Light, said charts.Lamp) []calib.Warning {
	if len(m.chart.Remembered) == 0 || light.Assumed {
		return nil
	}
	among := m.chart.Remembered
	if lot := strings.TrimSpace(r.Marks.Sample.Kit.Lot); lot != "" {
		p, known := m.chart.Of(lot)
		if !known {
			return []calib.Warning{newBottle(among[len(among)-1].Lot, lot)}
		}
		among = []charts.PrintColours{p}
	}
	var best witness.Verdict
	var of charts.PrintColours
	for i, p := range among {
		if v := witness.Compare(m.seen(r, light, p)); i == 0 || v.Odds-v.Most < best.Odds-best.Most {
			best, of = v, p
		}
	}
	if best.Kind == witness.AsThen || best.Kind == witness.OtherLight && said != charts.LampUnsaid && said != charts.LampDaylight {
		return nil
	}
	return []calib.Warning{unlike(best, of)}
}

// seen are the swatches that both the photo and the chart's memory have.
func (m *Measured) seen(r *Result, light calib.Light, p charts.PrintColours) witness.Seen {
	s := witness.Seen{SameCamera: p.Camera != "" && p.Camera == cameraOf(m.photo.Facts)}
	for i, x := range r.Readings {
		for k, swatch := range x.Swatches {
			for part, now := range swatch.Lab {
				j := slices.IndexFunc(p.Swatches, func(c charts.PrintColour) bool {
					return c.Analyte == x.Analyte.Name && c.Value == swatch.Value && c.Part == part+1
				})
				if j < 0 {
					continue
				}
				c := p.Swatches[j].Lab
				s.Swatches = append(s.Swatches, witness.Swatch{Then: colorimetry.Lab{L: c[0], A: c[1], B: c[2]}, Now: now})
				s.White = s.White.Add(light.At(m.samples.Pads[i].Swatches[k][part].Place))
			}
		}
	}
	return s
}

// unlike is the warning of swatches that look other than they did.
func unlike(v witness.Verdict, p charts.PrintColours) calib.Warning {
	w := calib.Warning{Code: calib.CodeOtherLight, Figure: v.Odds, Threshold: v.Most, Weight: calib.Caution,
		Places: []calib.Place{{Kind: calib.PlacePhoto}}}
	like := "as under another lamp"
	switch v.Kind {
	case witness.OtherPrint:
		w.Code, like = calib.CodeOtherChart, "as a faded print or another bottle's"
	case witness.Altered:
		w.Code, like = calib.CodeAlteredPhoto, "as behind a filter, or on another chart"
	}
	w.Seen = fmt.Sprintf("These colours do not fit what this bottle (lot %s) showed on %s by daylight: they look %s.", p.Lot, p.Day, like)
	if f, ok := w.Code.Facts(); ok {
		w.Then = f.Advice
	}
	return w
}

// newBottle says that the chart remembers another bottle alone.
func newBottle(known, lot string) calib.Warning {
	w := calib.Warning{Code: calib.CodeNewBottle, Figure: 1, Weight: calib.Good, Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: fmt.Sprintf("The chart remembers how the swatches of lot %s looked, and not those of lot %s.", known, lot)}
	if f, ok := w.Code.Facts(); ok {
		w.Then = f.Advice
	}
	return w
}

// cameraOf is the camera's maker and model, as the photo's file names them.
func cameraOf(f photo.Facts) string {
	name := strings.TrimSpace(f.Make + " " + f.Model)
	if len(name) > strict.MaxName || strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsGraphic(r) }) {
		return ""
	}
	return name
}

// UnclearError is why a photo is not one to remember a chart by.
type UnclearError struct {
	Why UnclearFault
	Of  string        // the analyte; empty where the fault is of the whole photo
	By  calib.Warning // what was seen, where that is the fault
}

// UnclearFault is a reason.
type UnclearFault string

// The reasons.
const (
	UnclearLot     UnclearFault = "no-lot"      // the bottle's lot is not said
	UnclearDay     UnclearFault = "no-day"      // the day of the photo is not known
	UnclearLight   UnclearFault = "no-daylight" // nobody said that it was daylight, or the photo contradicts it
	UnclearWhite   UnclearFault = "no-white"    // no white is marked
	UnclearMarks   UnclearFault = "unchecked"   // nobody looked at the marks
	UnclearDoubt   UnclearFault = "doubt"       // something makes the photo or a reading doubtful
	UnclearMissing UnclearFault = "missing"     // not all analytes of the chart are marked
)

func (e *UnclearError) Error() string {
	return strings.TrimSpace("not a photo to remember a chart by: " + string(e.Why) + " " + e.Of)
}

// PrintColours are how the chart's swatches look in this photo, for the chart to
// remember. The error is an [*UnclearError] unless the photo is clear, by daylight, and
// of a bottle whose lot is known. Doubts about the kit and the times do not matter, for
// they are not of the print.
func (r *Result) PrintColours(lot string) (p charts.PrintColours, err error) {
	if p, err = r.fitToRemember(lot); err != nil {
		return p, err
	}
	light, _, err := calib.Read(r.measured.samples)
	if err != nil {
		return p, err
	}
	for i, x := range r.Readings {
		for k, swatch := range x.Swatches {
			for part, lab := range swatch.Lab {
				p.Swatches = append(p.Swatches, charts.PrintColour{Analyte: x.Analyte.Name, Value: swatch.Value, Part: part + 1,
					Lab: [3]float64{hundredth(lab.L), hundredth(lab.A), hundredth(lab.B)},
					SD:  spread(r.measured.samples.Pads[i].Swatches[k][part], light)})
			}
		}
	}
	return p, nil
}

// fitToRemember is what is known of the photo, or why it is not one to remember by.
func (r *Result) fitToRemember(lot string) (p charts.PrintColours, err error) {
	sample := r.Marks.Sample
	p = charts.PrintColours{Lot: strings.TrimSpace(lot), Light: charts.LampDaylight, Camera: cameraOf(r.Photo.Facts)}
	if p.Lot == "" {
		p.Lot = strings.TrimSpace(sample.Kit.Lot)
	}
	fault := func(why UnclearFault, of string) error { return &UnclearError{Why: why, Of: of} }
	switch lamp, _ := lampOf(sample.Light, r.Photo.Facts); {
	case p.Lot == "":
		return p, fault(UnclearLot, "")
	case r.Day().IsZero():
		return p, fault(UnclearDay, "")
	case unsure(r.Marks):
		return p, fault(UnclearMarks, "")
	case len(r.measured.samples.Whites) == 0:
		return p, fault(UnclearWhite, "")
	case lamp != charts.LampDaylight:
		return p, fault(UnclearLight, "")
	}
	p.Day = r.Day().Format("2006-01-02")
	for _, a := range r.Chart.Analytes {
		if !slices.ContainsFunc(r.Readings, func(x calib.Reading) bool { return x.Analyte.Name == a.Name }) {
			return p, fault(UnclearMissing, a.Name)
		}
	}
	for _, w := range r.Light.Warnings {
		if w.Weight != calib.Good && !ofMemory(w.Code) {
			return p, &UnclearError{Why: UnclearDoubt, By: w}
		}
	}
	for _, x := range r.Readings {
		for _, w := range x.Warnings {
			if f, ok := w.Code.Facts(); ok && w.Weight != calib.Good && f.About != calib.AboutKit && f.About != calib.AboutWater {
				return p, &UnclearError{Why: UnclearDoubt, Of: x.Analyte.Name, By: w}
			}
		}
	}
	return p, nil
}

// ofMemory reports whether a warning may come from what the chart remembers, which a
// clear photo by daylight may take the place of.
func ofMemory(c calib.Code) bool {
	return c == calib.CodeOtherLight || c == calib.CodeOtherChart || c == calib.CodeNewBottle
}

// spread is the standard deviation of a swatch's pixels in CIELAB.
func spread(s colorimetry.Sample, light calib.Light) (out [3]float64) {
	rel := light.Relative(s)
	j := colorimetry.LabJacobian(rel, colorimetry.D50)
	slope := [3]float64{rel.X / s.XYZ.X, rel.Y / s.XYZ.Y, rel.Z / s.XYZ.Z}
	for r := range out {
		v := 0.0
		for a := range 3 {
			for b := range 3 {
				v += j[r][a] * slope[a] * s.Cov[a][b] * slope[b] * j[r][b]
			}
		}
		if v > 0 && !math.IsInf(v, 1) {
			out[r] = math.Min(100, hundredth(math.Sqrt(v)))
		}
	}
	return out
}

func hundredth(v float64) float64 { return math.Round(100*v) / 100 }
