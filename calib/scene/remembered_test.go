package scene

import (
	"maps"
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/strip"
	"padband/calib/witness"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// The study of charts that remember how they look: each is photographed in daylight
// first, and later by its own or another camera in daylight, under other lamps, of
// another lot, faded, and behind filters.

// later is one such photo: what it is of, and what its swatches tell.
type later struct {
	of     string
	name   string // of the filter or the lamp
	chart  int
	same   bool
	seen   witness.Seen
	tells  witness.Verdict
	sample *case1
}

// filters are those of the study, besides what [spoiled] has.
var filters = map[string]func(codes01) codes01{
	"sepia": sepia, "half sepia": partly(sepia, 0.5), "inverted": spoiled["inverted"], "posterised": posterised(4),
	"saturated": func(c codes01) codes01 { return c.toGrey(2) }, "vivid": func(c codes01) codes01 { return c.toGrey(1.5) },
	"pale": func(c codes01) codes01 { return c.toGrey(0.5) }, "hard": contrast(2), "harder": contrast(1.4),
	"hue turned": hueTurned(60), "hue turned a little": hueTurned(20), "faded film": faded,
	"dark": toned(1.5, 1.5, 1.5), "crossed": toned(1.35, 1, 0.75),
}

// toned raises each channel to a power.
func toned(power ...float64) func(codes01) codes01 {
	return func(c codes01) (out codes01) {
		for i := range c {
			out[i] = math.Pow(c[i], power[i])
		}
		return out
	}
}

// partly mixes a filter with the colours as they are.
func partly(filter func(codes01) codes01, share float64) func(codes01) codes01 {
	return func(c codes01) codes01 {
		f := filter(c)
		for i := range f {
			f[i] = share*f[i] + (1-share)*c[i]
		}
		return f
	}
}

// photographed is another photo of a scene's chart: under a lamp of a family, with other pads,
// by the camera of the first photo or another.
func photographed(first *Config, seed uint64, f Family, same bool) (Config, error) {
	c, err := DrawUnder(seed, classOf[f], f)
	if err != nil {
		return c, err
	}
	d := newDice(seed, streamPlan+100)
	if same { // its look is its own, but for a little
		k := &c.Camera
		k.Name, k.Sensitivity, k.MatrixLamp, k.Shoulder = first.Camera.Name, first.Camera.Sensitivity, first.Camera.MatrixLamp, first.Camera.Shoulder
		k.Saturation, k.Lift = first.Camera.Saturation*d.in(0.97, 1.03), first.Camera.Lift*d.in(0.98, 1.02)
		k.Contrast = math.Max(0, first.Camera.Contrast+d.near(0, 0.04))
	}
	c.Seed, c.Chart, c.Curved, c.Surfaces.Paper, c.Variety = first.Seed, first.Chart, first.Curved, first.Surfaces.Paper, first.Variety
	c.Pads, c.Whites = slices.Clone(first.Pads), first.Whites
	for i := range c.Pads {
		c.Pads[i].Step = d.in(0, float64(len(c.Chart.Analytes[i].Swatches)-1))
	}
	return c, nil
}

// fading takes so much CIELAB off the print on average: of all inks, or most of the
// magenta or the yellow one.
func (c *Config) fading(d dice, by float64) error {
	weight := pick(d, []Spectrum{
		flat(1), lobes(lobe{540, 45, 45, 1}).plus(0.2, new(flat(1))), lobes(lobe{430, 45, 45, 1}).plus(0.2, new(flat(1))),
	})
	v, _, err := c.press()
	if err != nil {
		return err
	}
	fresh, err := c.allPrints()
	if err != nil {
		return err
	}
	lo, hi := 0.0, 1.0
	for range 30 {
		c.Faded = weight.scaled((lo + hi) / 2)
		sum, n := 0.0, 0.0
		for _, p := range fresh {
			for _, row := range p.swatches {
				for _, s := range row {
					f := s.faded(&c.Surfaces.Paper, &c.Faded)
					sum, n = sum+colorimetry.DeltaE76(v.lab(&s), v.lab(&f)), n+1
				}
			}
		}
		if sum/n < by {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	return nil
}

// lookOf is what a photo shows of its chart's swatches, and of the white.
func lookOf(c *case1) (labs []colorimetry.Lab, white colorimetry.XYZ, err error) {
	light, rs, err := calib.Read(c.Photo)
	if err != nil {
		return nil, white, err
	}
	for i, r := range rs {
		for k, s := range r.Swatches {
			labs = append(labs, s.Lab...)
			for _, p := range c.Photo.Pads[i].Swatches[k] {
				white = white.Add(light.At(p.Place))
			}
		}
	}
	return labs, white, nil
}

// filtered renders a scene and passes its photo through a filter.
func filtered(t *testing.T, c Config, change func(codes01) codes01) (*case1, error) {
	s, err := Render(c)
	if err != nil {
		return nil, err
	}
	file := s.Photo
	if change != nil {
		file = copied(t, s.Photo, 95, change)
	}
	p, err := photo.Decode(file, photo.Limits{})
	if err != nil {
		return nil, err
	}
	samples, _, err := strip.Samples(p, s.Chart, s.Marks)
	return &case1{s.Class, s.Fault, s.Lamp, s.Camera, s.Curved, samples, s.Truth}, err
}

// planOf are the photos of one chart after its first, by what they are of.
var planOf = []string{
	"daylight", "daylight", "daylight", "daylight", "daylight", "led", "led", "led", "tube", "tube", "tube", "bulb", "bulb", "bulb",
	"lot", "lot", "fade", "fade", "filter", "filter",
}

// laterOf are the later photos of one chart.
func laterOf(t *testing.T, seed uint64, chart int, same bool) (out []later) {
	var first Config
	var looked []colorimetry.Lab
	for ; looked == nil; seed++ { // a seed for which no scene is found is passed over
		c, err := DrawUnder(seed, Good, Daylight)
		if err != nil {
			continue
		}
		if one, err := sampled(c); err == nil {
			first = c
			looked, _, err = lookOf(&one)
			require.NoError(t, err)
		}
	}
	d := newDice(seed, streamPlan+101)
	names := []string{}
	for n := range filters {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, of := range planOf {
		for ok := false; !ok; {
			seed++
			family := Family(of)
			if classOf[family] == "" {
				family = Daylight
			}
			c, err := photographed(&first, seed, family, same)
			if err != nil {
				continue
			}
			l := later{of: of, chart: chart, same: same, name: c.Lights[0].Lamp}
			var filter func(codes01) codes01
			switch of {
			case "lot":
				c.Seed = seed + 5_000 // another press, which may not print the colours
			case "fade":
				require.NoError(t, c.fading(d, 5))
			case "filter":
				l.name = pick(d, names)
				filter = filters[l.name]
			}
			one, err := filtered(t, c, filter)
			if err != nil {
				continue
			}
			labs, white, err := lookOf(one)
			if err != nil {
				continue
			}
			l.seen, l.sample = witness.Seen{White: white, SameCamera: same}, one
			for i, lab := range labs {
				l.seen.Swatches = append(l.seen.Swatches, witness.Swatch{Then: looked[i], Now: lab})
			}
			l.tells = witness.Compare(l.seen)
			out, ok = append(out, l), true
		}
	}
	return out
}

// allLater are the later photos of many charts.
func allLater(t *testing.T, seed uint64, n int, same bool) (out []later) {
	by := make([][]later, n)
	var wg sync.WaitGroup
	for w := range 2 {
		wg.Go(func() {
			for i := w; i < n; i += 2 {
				by[i] = laterOf(t, seed+uint64(i)*10_000, i, same)
			}
		})
	}
	wg.Wait()
	return slices.Concat(by...)
}

// shares are how many of the photos of each kind are named as anything, and how many as
// what they are.
func shares(all []later) (named, rightly, n map[string]float64) {
	named, rightly, n = map[string]float64{}, map[string]float64{}, map[string]float64{}
	is := map[string]witness.Kind{"led": witness.OtherLight, "tube": witness.OtherLight, "bulb": witness.OtherLight,
		"lot": witness.OtherPrint, "fade": witness.OtherPrint, "filter": witness.Altered}
	for _, l := range all {
		n[l.of]++
		if l.tells.Kind != witness.AsThen {
			named[l.of]++
		}
		if l.tells.Kind == is[l.of] {
			rightly[l.of]++
		}
	}
	for of := range n {
		named[of], rightly[of] = named[of]/n[of], rightly[of]/n[of]
	}
	return named, rightly, n
}

// TestChartsRememberHowTheyLook is the study of what a chart's memory tells; with
// -n 3000 it has 20 charts and 400 photos by other cameras, and as many by the same.
func TestChartsRememberHowTheyLook(t *testing.T) {
	if testing.Short() {
		t.Skip("renders photos by the hundred; left out with -short")
	}
	n := max(1, *studyPads/150)
	for _, same := range []bool{false, true} {
		all := allLater(t, *studySeed+900_000_000, n, same)
		named, rightly, photos := shares(all)
		for _, of := range slices.Sorted(maps.Keys(photos)) {
			t.Logf("same camera %v, %s: of %g photos named %.2f, rightly %.2f", same, of, photos[of], named[of], rightly[of])
		}
		// What was measured on 400 photos each, with three standard errors of so many.
		least := map[string]float64{"led": 0.6, "tube": 0.6, "bulb": 0.6, "fade": 0.25, "filter": 0.5}
		for of, share := range least {
			assert.GreaterOrEqual(t, named[of], share-3*math.Sqrt(share*(1-share)/photos[of]), of)
		}
		most := 0.03
		if same {
			most = 0.05
		}
		assert.LessOrEqual(t, named["daylight"], most+3*math.Sqrt(most*(1-most)/photos["daylight"]), "false alarms")
		logReadings(t, all)
	}
}

// logReadings tells how true the readings of the later photos are: with nothing said of
// the light, with the right word (no witness can tell more of the lamp than that), and
// with the word daylight where the swatches look more as they did than otherwise.
func logReadings(t *testing.T, all []later) {
	by, odds := map[string][]*case1{}, map[*calib.White]float64{}
	for _, l := range all {
		by[l.of] = append(by[l.of], l.sample)
		odds[&l.sample.Photo.Whites[0]] = l.tells.Odds // readSaid copies a case, but not its whites
	}
	told := func(c *case1) charts.Lamp {
		if odds[&c.Photo.Whites[0]] < 0 {
			return charts.LampDaylight
		}
		return charts.LampUnsaid
	}
	t.Log(heading)
	for _, of := range slices.Sorted(maps.Keys(by)) {
		own, _ := readAll(t, by[of])
		t.Log(summarise(of, own))
		if word := wordOf[Family(of)]; word != "" {
			t.Log(summarise(of+", said", readSaid(t, by[of], func(*case1) charts.Lamp { return word })))
		}
		t.Log(summarise(of+", told", readSaid(t, by[of], told)))
	}
}
