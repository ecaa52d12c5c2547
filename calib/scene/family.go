package scene

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"padband/colorimetry"
)

// Family is a family of lamps that a person can tell apart by looking.
type Family string

// Families. A bulb glows; a tube holds mercury vapour and phosphors.
const (
	Daylight Family = "daylight"
	LED      Family = "led"
	Tube     Family = "tube"
	Bulb     Family = "bulb"
)

// Families are all families of lamps.
func Families() []Family { return []Family{Daylight, LED, Tube, Bulb} }

// tabled are the lamps of each family in the CIE tables.
var tabled = map[Family][]string{
	Daylight: {"D50", "D55", "D65", "D75", "C"},
	LED:      {"LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-BH1", "LED-RGB1", "LED-V1", "LED-V2"},
	Tube:     {"FL1", "FL2", "FL3", "FL4", "FL5", "FL6", "FL7", "FL8", "FL9", "FL10", "FL11", "FL12"},
	Bulb:     {"A"},
}

// FamilyOf is the family of a lamp by its name, "" for a mixture or an unknown one.
func FamilyOf(lamp string) Family {
	for _, f := range Families() {
		if slices.Contains(tabled[f], lamp) || strings.HasPrefix(lamp, string(f)+" ") {
			return f
		}
	}
	return ""
}

// DrawUnder draws a scene as [Draw] does and puts it under a lamp of a family: under
// one of the CIE tables or, as often, under one of random make that no table has.
func DrawUnder(seed uint64, class Class, family Family) (Config, error) {
	return drawUnder(seed, class, family, 1)
}

func drawUnder(seed uint64, class Class, family Family, variety float64) (Config, error) {
	c, err := draw(seed, class, variety)
	if err != nil {
		return c, err
	}
	d := newDice(seed, streamLamp)
	name := randomLamp(family, seed)
	if d.chance(0.5) {
		name = pick(d, tabled[family])
	}
	power, err := lampNamed(name)
	if err != nil {
		return c, err
	}
	c.Lights[0].Lamp, c.Lights[0].Power = name, power
	return c, c.balanceFor(d, &power)
}

// leftover is the most of a lamp's colour that a phone leaves in the photo, as a power
// of its distance from daylight (common practice, no source).
const leftover = 0.35

// balanceFor draws how a phone balances a lamp: nearly, with a part of the lamp's
// colour left.
func (c *Config) balanceFor(d dice, lamp *Spectrum) error {
	day, err := lampNamed("D55")
	if err != nil {
		return err
	}
	k := &c.Camera
	white := flat(1)
	seen, usual := k.raw(&white, lamp), k.raw(&white, &day)
	left := d.in(0, leftover)
	for _, i := range []int{0, 2} {
		k.Balance[i] = math.Pow(seen[i]/usual[i]*usual[1]/seen[1], left) * math.Exp(d.near(0, 0.03))
	}
	return nil
}

// randomLamp is the name under which [lampNamed] makes the lamp of a seed.
func randomLamp(f Family, seed uint64) string { return fmt.Sprintf("%s of seed %d", f, seed) }

// makers make a lamp of each family; the lamp may have any colour.
var makers = map[Family]func(dice) Spectrum{Daylight: besideWalls, LED: blueChip, Tube: mercury, Bulb: glowing}

// whiteness says which of the lamps made are sold as white: by the correlated colour
// temperature, in kelvin, and by the distance from the Planckian locus. ANSI C78.377
// keeps white LEDs within 0.006 of it and the common tubes of the CIE tables lie
// within 0.006 too; the temperatures are common practice, no source.
var whiteness = map[Family]struct{ least, most, duv float64 }{
	Daylight: {4000, 25000, 0.03}, LED: {2500, 7000, 0.007}, Tube: {2600, 7000, 0.007}, Bulb: {2100, 3300, 0.01},
}

// made is the lamp of random make that a name such as "tube of seed 12" stands for.
func made(name string) (s Spectrum, ok bool, err error) {
	family, seed, ok := strings.Cut(name, " of seed ")
	if !ok {
		return s, false, nil
	}
	maker := makers[Family(family)]
	n, err := strconv.ParseUint(seed, 10, 64)
	if maker == nil || err != nil {
		return s, true, fmt.Errorf("scene: no lamp %q", name)
	}
	d := newDice(n, streamLamp+1)
	want := whiteness[Family(family)]
	for range 10_000 {
		s = maker(d)
		s = s.scaled(100 / s.sum())
		v := newViewer(&s)
		k, duv, ok := v.white.Chromaticity().Temperature()
		if ok && k >= want.least && k <= want.most && math.Abs(duv) <= want.duv {
			return s, true, nil
		}
	}
	return s, true, fmt.Errorf("scene: no white lamp was found for %q", name)
}

// besideWalls is daylight of which a part comes off coloured walls or leaves.
func besideWalls(d dice) Spectrum {
	t, err := cie()
	if err != nil {
		return Spectrum{}
	}
	sky := daylight(&t, d.inLog(4500, 15000))
	wall := flat(d.in(0.2, 0.8))
	for range d.one(1, 2) {
		step := edge(d.in(440, 640), d.in(12, 50)*pick(d, []float64{-1, 1}), d.in(-0.3, 0.5))
		wall = wall.plus(1, &step)
	}
	share := d.in(0, 0.5)
	for i := range sky {
		sky[i] *= 1 - share + share*math.Max(0.02, math.Min(1, wall[i]))
	}
	return sky
}

// blueChip is a blue chip with one or two phosphors. The shapes are common practice, no
// source: chips shine 20 to 30 nm wide, phosphors 80 to 140 nm.
func blueChip(d dice) Spectrum {
	width := d.in(8, 13)
	yellow := lobe{d.in(525, 575), d.in(30, 42), d.in(45, 65), 1}
	s := lobes(lobe{d.in(440, 466), width, width * d.in(1, 1.4), d.inLog(0.2, 2.5)}, yellow)
	if d.chance(0.6) {
		red := lobes(lobe{d.in(595, 645), d.in(22, 40), d.in(28, 50), d.in(0.2, 1.6)})
		s = s.plus(1, &red)
	}
	return s
}

// Lines of mercury in the visible, nm, and about how strong they are in a tube beside
// one another (the wavelengths by the NIST atomic spectra database, from memory; the
// strengths are judged from the CIE tables of FL 1 to 12).
var mercuryLines = [][2]float64{{404.7, 0.35}, {435.8, 1}, {546.1, 0.9}, {577, 0.15}, {579.1, 0.15}}

// mercury is a tube: lines of mercury on broad bands (a halophosphate) or beside
// narrow ones (three phosphors of rare earths; their lines from memory).
func mercury(d dice) Spectrum {
	var s Spectrum
	if d.chance(0.5) {
		s = lobes(lobe{d.in(472, 492), d.in(32, 42), d.in(42, 55), d.in(0.1, 1)}, lobe{d.in(572, 598), d.in(30, 40), d.in(34, 46), 1})
		if d.chance(0.3) {
			deep := lobes(lobe{d.in(615, 655), d.in(25, 40), d.in(30, 45), d.in(0.1, 0.7)})
			s = s.plus(1, &deep)
		}
	} else {
		green, red := d.in(0.5, 1.3), d.in(0.6, 1.8)
		s = lobes(lobe{d.in(448, 456), d.in(14, 20), d.in(20, 30), d.in(0.05, 0.6)}, lobe{d.in(500, 590), 50, 60, d.in(0, 0.08)})
		for _, l := range [][2]float64{
			{488, 0.25 * green}, {543.5, 2 * green}, {585, 0.3 * green}, {621, 0.15 * green}, {595, 0.2 * red},
			{611.5, 2.2 * red}, {630, 0.3 * red}, {650, 0.12 * red}, {705, 0.25 * red},
		} {
			line := lobes(lobe{l[0], d.in(3.5, 6), d.in(3.5, 6), l[1]})
			s = s.plus(1, &line)
		}
	}
	strength := d.in(0.8, 3)
	for _, l := range mercuryLines {
		s.addLine(l[0], l[1]*strength)
	}
	return s
}

// addLine adds a line, whose power goes to the two bands beside it.
func (s *Spectrum) addLine(nm, power float64) {
	x := (nm - firstNM) / stepNM
	i := int(x)
	s[i] += power * (1 - (x - float64(i)))
	s[i+1] += power * (x - float64(i))
}

// glowing is a thermal lamp behind glass that may take some blue away.
func glowing(d dice) (s Spectrum) {
	kelvin := d.in(2150, 3250)
	for i := range s {
		s[i] = colorimetry.Planck(wavelength(i), kelvin)
	}
	glass := edge(d.in(400, 440), d.in(15, 40), d.in(0, 0.3))
	for i := range s {
		s[i] *= 0.7 + glass[i]
	}
	return s
}
