package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/strip"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// The study of the band: scenes are rendered, stored as a phone stores them,
// decoded and sampled as any photo is, read, and compared with the truth.

// case1 is one photo of the study, reduced to its samples.
type case1 struct {
	Class  Class
	Fault  Fault
	Lamp   string
	Camera string
	Curved bool
	Photo  calib.Photo
	Truth  []Truth
}

// newCase renders, decodes and samples one scene.
func newCase(seed uint64, class Class) (case1, error) {
	c, err := Draw(seed, class)
	if err != nil {
		return case1{}, err
	}
	return sampled(c)
}

func sampled(c Config) (case1, error) {
	s, err := Render(c)
	if err != nil {
		return case1{}, err
	}
	p, err := photo.Decode(s.Photo, photo.Limits{})
	if err != nil {
		return case1{}, err
	}
	samples, _, err := strip.Samples(p, s.Chart, s.Marks)
	return case1{s.Class, s.Fault, s.Lamp, s.Camera, s.Curved, samples, s.Truth}, err
}

// outcome is one pad read by one method, in swatch steps. An open end is infinite.
type outcome struct {
	Case      *case1
	Truth     Truth
	Top       float64
	Value     float64
	Low, High float64
	Trust     calib.Reliability
	Codes     []string
}

func (o outcome) clampedTruth() float64 { return math.Max(0, math.Min(o.Truth.Step, o.Top)) }
func (o outcome) err() float64          { return math.Abs(o.Value - o.clampedTruth()) }

func (o outcome) covers() bool {
	switch t := o.Truth.Step; {
	case t < 0:
		return math.IsInf(o.Low, -1)
	case t > o.Top:
		return math.IsInf(o.High, 1)
	default:
		return o.Low <= t+1e-6 && t-1e-6 <= o.High
	}
}

func (o outcome) ends() (lo, hi float64) { return math.Max(o.Low, 0), math.Min(o.High, o.Top) }

func (o outcome) width() float64 { lo, hi := o.ends(); return hi - lo }

// score is the interval score for 95 % (Gneiting and Raftery 2007, J. Am.
// Stat. Assoc. 102:359-378, eq. 43): width plus 2/0.05 times the distance of
// the truth outside. A pad past the chart's end whose band is not open there
// counts as half a step outside at 20.
func (o outcome) score() float64 {
	lo, hi := o.ends()
	t := o.clampedTruth()
	s := hi - lo + 40*math.Max(lo-t, 0) + 40*math.Max(t-hi, 0)
	if (o.Truth.Step < 0 || o.Truth.Step > o.Top) && !o.covers() {
		s += 10
	}
	return s
}

// silent is a miss that nothing warned of.
func (o outcome) silent() bool {
	return o.err() > 0.5 && !o.covers() && o.Trust != calib.Unreliable
}

// readCase reads one case with the program itself.
func readCase(c *case1) ([]outcome, error) {
	light, rs, err := calib.Read(c.Photo)
	if err != nil {
		return nil, err
	}
	report := light.Report(c.Photo)
	var out []outcome
	for i, r := range rs {
		o := outcome{Case: c, Truth: c.Truth[i], Top: float64(len(r.Swatches) - 1), Trust: r.Reliability.Worse(report.Reliability)}
		o.Value = r.Analyte.StepOf(r.Value)
		o.Low, o.High = r.Analyte.StepOf(r.Band.Low.Value), r.Analyte.StepOf(r.Band.High.Value)
		if r.Band.Low.Open {
			o.Low = math.Inf(-1)
		}
		if r.Band.High.Open {
			o.High = math.Inf(1)
		}
		for _, w := range append(r.Warnings, report.Warnings...) {
			o.Codes = append(o.Codes, string(w.Code))
		}
		out = append(out, o)
	}
	return out, nil
}

// plainCase reads one case with the plain method, which knows no open ends:
// a band that reaches the top swatch counts as open there, and one that
// reaches a lowest swatch that is not zero likewise.
func plainCase(c *case1) []outcome {
	var out []outcome
	for i, pad := range c.Photo.Pads {
		e := plain(c.Photo, pad)
		out = append(out, otherMethod(c, i, e))
	}
	return out
}

func otherMethod(c *case1, i int, e estimate) outcome {
	pad := c.Photo.Pads[i]
	o := outcome{Case: c, Truth: c.Truth[i], Top: float64(len(pad.Swatches) - 1), Value: e.step, Low: e.low, High: e.high, Trust: calib.Good}
	if o.High >= o.Top-1e-9 {
		o.High = math.Inf(1)
	}
	if o.Low <= 1e-9 {
		o.Low = math.Inf(-1)
	}
	return o
}

// pointOnly gives a method without a band.
func pointOnly(cases []*case1, read func(photoSamples, padSamples) float64) []outcome {
	var out []outcome
	for _, c := range cases {
		for i, pad := range c.Photo.Pads {
			t := read(c.Photo, pad)
			out = append(out, otherMethod(c, i, estimate{t, t, t}))
		}
	}
	return out
}

// row is the figures of one group.
type row struct {
	label                  string
	n                      int
	median, p95            float64
	cover, trusted         float64
	medianWidth, meanWidth float64
	score, scoreErr        float64
	unreliable, good       float64
	silent                 float64
	grossCaught, gross     int // more than a step wrong: covered or called unreliable, and all
}

func summarise(label string, os []outcome) row {
	r := row{label: label, n: len(os)}
	if len(os) == 0 {
		return r
	}
	var errs, widths, scores []float64
	trusted := 0
	for _, o := range os {
		errs, widths, scores = append(errs, o.err()), append(widths, o.width()), append(scores, o.score())
		covers := o.covers()
		add(&r.cover, covers)
		add(&r.silent, o.silent())
		add(&r.unreliable, o.Trust == calib.Unreliable)
		add(&r.good, o.Trust == calib.Good)
		if o.Trust != calib.Unreliable {
			trusted++
			add(&r.trusted, covers)
		}
		if o.err() > 1 {
			r.gross++
			if covers || o.Trust == calib.Unreliable {
				r.grossCaught++
			}
		}
	}
	n := float64(len(os))
	r.cover, r.silent, r.unreliable, r.good = r.cover/n, r.silent/n, r.unreliable/n, r.good/n
	r.trusted /= math.Max(1, float64(trusted))
	slices.Sort(errs)
	slices.Sort(widths)
	r.median, r.p95, r.medianWidth = at(errs, 0.5), at(errs, 0.95), at(widths, 0.5)
	r.meanWidth, _ = mean(widths)
	r.score, r.scoreErr = mean(scores)
	return r
}

func add(sum *float64, yes bool) {
	if yes {
		*sum++
	}
}

// at is the quantile of sorted values, interpolated.
func at(sorted []float64, q float64) float64 {
	x := q * float64(len(sorted)-1)
	i := min(int(x), len(sorted)-1)
	j := min(i+1, len(sorted)-1)
	return sorted[i] + (x-float64(i))*(sorted[j]-sorted[i])
}

// mean returns the mean and its standard error.
func mean(v []float64) (m, se float64) {
	for _, x := range v {
		m += x
	}
	n := float64(len(v))
	m /= n
	for _, x := range v {
		se += (x - m) * (x - m)
	}
	return m, math.Sqrt(se / math.Max(n-1, 1) / n)
}

const heading = "group                 n  median   95th  cover trusted  width   mean  score   +-  unrel  good silent"

func (r row) String() string {
	return fmt.Sprintf("%-18s %5d  %.3f  %.3f  %.3f   %.3f   %.2f   %.2f  %5.2f %.2f  %.3f %.2f  %.4f", r.label, r.n, r.median, r.p95, r.cover, r.trusted, r.medianWidth, r.meanWidth, r.score, r.scoreErr, r.unreliable, r.good, r.silent)
}

// groups splits outcomes by a key and summarises each, in order of key.
func groups(os []outcome, key func(outcome) string) []row {
	by := map[string][]outcome{}
	for _, o := range os {
		if k := key(o); k != "" {
			by[k] = append(by[k], o)
		}
	}
	var keys []string
	for k := range by {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var out []row
	for _, k := range keys {
		out = append(out, summarise(k, by[k]))
	}
	return out
}

func byClass(o outcome) string { return string(o.Case.Class) }
func byFault(o outcome) string { return string(o.Case.Fault) }
func byFamily(o outcome) string {
	if len(o.Case.Photo.Pads) == 1 && len(o.Case.Photo.Pads[0].Parts) > 1 {
		return o.Truth.Family + " x4"
	}
	return o.Truth.Family
}
func byLamp(o outcome) string {
	if strings.Contains(o.Case.Lamp, "+") {
		return "two lamps"
	}
	return o.Case.Lamp
}
func byPlace(o outcome) string {
	switch f := o.Truth.Step - math.Floor(o.Truth.Step); {
	case o.Truth.Step < 0 || o.Truth.Step > o.Top:
		return "past the ends"
	case o.Truth.Step < 1:
		return "first step"
	case f > 0.35 && f < 0.65:
		return "half way"
	}
	return "elsewhere"
}

// ratios compares a method with the plain one, group by group.
func ratios(own, plain []row) string {
	var b strings.Builder
	for i := range own {
		fmt.Fprintf(&b, "%-18s median x%.2f  95th x%.2f  score x%.2f\n", own[i].label, own[i].median/plain[i].median, own[i].p95/plain[i].p95, own[i].score/plain[i].score)
	}
	return b.String()
}

// recordedRGB is a recorded colour in coded sRGB.
func recordedRGB(c colorimetry.XYZ) []float64 {
	v := colorimetry.SRGB.RGB(c)
	return []float64{v.R, v.G, v.B}
}
