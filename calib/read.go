package calib

import (
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// Bound is one end of a band, in the analyte's unit. An open end lies past the
// chart; its value is then the chart's end.
type Bound struct {
	Value float64
	Open  bool
}

// Band is a coverage interval in the analyte's unit.
type Band struct {
	Low, High Bound
	Coverage  float64 // 0.95
	// Hills are the separate intervals of a posterior with two hills; the band is their hull.
	Hills [][2]float64
}

// Contribution is one line of a budget: a source of error and its standard deviation in steps.
type Contribution struct {
	Source Source
	Steps  float64
}

// SwatchColour is one swatch as the photo shows it.
type SwatchColour struct {
	Value  float64
	Label  string
	Lab    []colorimetry.Lab // a part
	DeltaE float64           // CIEDE2000 to the pad, mean over parts
}

// Reading is the result for one pad. Values are in the analyte's unit, colours in
// CIELAB under D50.
type Reading struct {
	Analyte     charts.Analyte
	Value       float64 // NaN when a presence pad cannot be told
	Band        Band
	WaterBand   Band
	TooWide     bool // the band spans so much of the chart that the reading is of no use
	KitAssumed  bool
	Range       Range
	Bracket     [2]float64
	Reliability Reliability
	Warnings    []Warning

	Pad           []colorimetry.Lab
	DeltaEToScale float64 // CIEDE2000 to the nearest place of the scale, mean over parts
	Mismatch      float64 // the same in units of the expected mismatch: about 1
	Swatches      []SwatchColour
	Budget        []Contribution
	Posterior     Posterior // of reading the colour
	Water         Posterior // with the kit's error
	// Yes is, for a presence pad, the probability that it shows its upper swatch.
	Yes float64

	pull pull
}

// Coverage is the probability that a band is made for.
const Coverage = 0.95

// Photo is all of one photo's samples that a reading needs.
type Photo struct {
	Width, Height int
	Whites        []White // as marked
	Found         []White // bare white that the program found
	Pads          []Pad
	// WetWhites are white things that the sample's water has soaked.
	WetWhites []White
	Lamp      charts.Lamp  // what the person says of the light
	Water     charts.Water // what the person says of the water
}

// Read reads all pads of one photo. A Reading is returned for each pad in
// order; the error names the analyte whose samples cannot make a scale.
func Read(p Photo) (Light, []Reading, error) {
	light := FitLight(p.allWhites(), p.Width, p.Height, guessWhite(p.Pads)).slanted(p)
	grids := make([]grid, len(p.Pads))
	for i, pad := range p.Pads {
		s, err := NewScale(pad, light)
		if err != nil {
			return Light{}, nil, err
		}
		grids[i] = newGrid(s.behind(light.stain(p)))
	}
	pooled := poolSizes(grids, light.prior(p))
	report := light.Report(p)
	out := make([]Reading, len(grids))
	for i := range grids {
		out[i] = grids[i].reading(pooled[i])
		out[i].check(p.Pads[i], light, &grids[i])
		out[i].checkWater(p, light)
		out[i].checkBare(p, i, light)
		out[i].checkDoubt(grids[i].scale, p.Pads[i], light, report)
	}
	return light, out, nil
}

// guessWhite is the light that is taken for a photo without a white mark: neutral, and
// 1.15 times as bright as the lightest patch (pale print reflects about 0.87).
func guessWhite(pads []Pad) colorimetry.XYZ {
	y := 0.0
	for _, p := range pads {
		for _, sw := range p.Swatches {
			for _, s := range sw {
				y = math.Max(y, s.XYZ.Y)
			}
		}
	}
	y *= 1.15
	return colorimetry.XYZ{X: y * colorimetry.D50.X, Y: y, Z: y * colorimetry.D50.Z}
}

func (g *grid) reading(size []float64) Reading {
	s := g.scale
	a := s.analyte
	r := Reading{Analyte: a, Range: Within, Reliability: Good}
	r.Posterior = g.posterior(size)
	sd, assumed := kitSpread(a)
	r.KitAssumed = assumed
	r.Water = r.Posterior.Blur(func(float64) float64 { return sd })
	r.Mismatch = math.Sqrt(g.near)
	r.pull = g.pull(size)
	r.colours(s)
	if a.Kind == charts.KindPresence {
		r.presence(g.presence(size))
		return r
	}
	r.Value, r.Range = r.value(r.Posterior.Quantile(0.5))
	r.Bracket = r.bracket(r.Posterior.Quantile(0.5))
	r.Band = r.band(r.Posterior)
	r.WaterBand = r.band(r.Water).Hull(r.Band)
	r.TooWide = r.tooWide(r.Posterior)
	r.Budget = g.budget(size)
	return r
}

// value turns a place into a value and its range.
func (r *Reading) value(t float64) (float64, Range) {
	v := r.Analyte.ValueAt(t)
	switch {
	case t > r.Posterior.Top:
		return v, Above
	case t < 0 && r.Posterior.First < 0:
		return v, Below
	}
	return v, Within
}

func (r *Reading) bracket(t float64) [2]float64 {
	n := len(r.Analyte.Swatches)
	i := min(max(int(math.Floor(t)), 0), n-2)
	return [2]float64{r.Analyte.Swatches[i].Value, r.Analyte.Swatches[i+1].Value}
}

// band is the equal-tailed interval of a posterior. An end is open when its tail lies
// past the chart. A band that lies wholly past the top means "at least the top
// swatch", so its low end is that swatch.
func (r *Reading) band(p Posterior) Band {
	lo, hi := p.Quantile((1-Coverage)/2), p.Quantile((1+Coverage)/2)
	b := Band{Coverage: Coverage, Low: Bound{Value: r.Analyte.ValueAt(lo)}, High: Bound{Value: r.Analyte.ValueAt(hi)}}
	b.Low.Open = lo < 0 && p.First < 0
	b.High.Open = hi > p.Top
	for _, h := range hills(p) {
		b.Hills = append(b.Hills, [2]float64{r.Analyte.ValueAt(h[0]), r.Analyte.ValueAt(h[1])})
	}
	return b
}

// Hull is the band widened so that it holds another: when an error is added to a
// posterior with several hills, its quantiles may move inwards.
func (b Band) Hull(o Band) Band {
	if o.Low.Open || (!b.Low.Open && o.Low.Value < b.Low.Value) {
		b.Low = o.Low
	}
	if o.High.Open || (!b.High.Open && o.High.Value > b.High.Value) {
		b.High = o.High
	}
	return b
}

// hills returns the separate intervals, in steps, of a posterior with two or more
// peaks. A valley that is under a tenth of the lower peak parts two hills, and each
// holds at least one part in twenty. The result is nil for one hill.
func hills(p Posterior) [][2]float64 {
	peak := 0.0
	for _, m := range p.Mass {
		peak = math.Max(peak, m)
	}
	var out [][2]float64
	start, sum := -1, 0.0
	for i := 0; i <= len(p.Mass); i++ {
		in := i < len(p.Mass) && p.Mass[i] > peak/50
		switch {
		case in && start < 0:
			start, sum = i, 0
		case !in && start >= 0:
			if sum >= 0.05 {
				out = append(out, [2]float64{p.Step(start), p.Step(i - 1)})
			}
			start = -1
		}
		if in {
			sum += p.Mass[i]
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// presence fills in the reading of a pad that shows one of two swatches.
func (r *Reading) presence(no, yes float64) {
	lo, hi := r.Analyte.Swatches[0].Value, r.Analyte.Swatches[1].Value
	r.Bracket = [2]float64{lo, hi}
	r.Yes = yes
	r.Band = Band{Coverage: Coverage, Low: Bound{Value: lo}, High: Bound{Value: hi}}
	switch {
	case yes >= Coverage:
		r.Value, r.Band.Low.Value = hi, hi
	case no >= Coverage:
		r.Value, r.Band.High.Value = lo, lo
	default:
		r.Value = math.NaN()
	}
	r.WaterBand = r.Band
}

// colours fills in what the photo shows of pad and swatches.
func (r *Reading) colours(s Scale) {
	r.Pad = labs(s.pad.lab)
	for i, n := range s.asPrinted().nodes {
		sw := s.analyte.Swatches[i]
		c := SwatchColour{Value: sw.Value, Label: sw.Label, Lab: labs(n.lab)}
		c.DeltaE = meanDeltaE(r.Pad, c.Lab)
		r.Swatches = append(r.Swatches, c)
	}
	r.DeltaEToScale = math.Inf(1)
	const fine = 12 // places in a step
	for i := range int(s.top())*fine + 1 {
		r.DeltaEToScale = math.Min(r.DeltaEToScale, meanDeltaE(r.Pad, labs(s.at(float64(i)/fine))))
	}
}

// labs are the colours of a row of three figures a part.
func labs(v []float64) []colorimetry.Lab {
	out := make([]colorimetry.Lab, len(v)/3)
	for i := range out {
		out[i] = colorimetry.Lab{L: v[3*i], A: v[3*i+1], B: v[3*i+2]}
	}
	return out
}

// meanDeltaE is the mean over parts of the CIEDE2000 difference (CIE 142).
func meanDeltaE(a, b []colorimetry.Lab) float64 {
	sum := 0.0
	for i := range a {
		sum += colorimetry.DeltaE2000(a[i], b[i])
	}
	return sum / float64(len(a))
}

// allWhites are the whites that show the light: those marked, then those found.
func (p Photo) allWhites() []White { return slices.Concat(p.Whites, p.Found) }
