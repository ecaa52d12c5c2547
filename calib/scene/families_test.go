package scene

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// classOf is the class of light that a family's scenes are drawn in.
var classOf = map[Family]Class{Daylight: Good, LED: Good, Tube: Fair, Bulb: Fair}

// underFamily makes photos of a family until there are so many pads.
func underFamily(t testing.TB, seed uint64, f Family, pads int) []*case1 {
	t.Helper()
	var cases []*case1
	for n := 0; n < pads; {
		batch := make([]*case1, 2*runtime.GOMAXPROCS(0))
		var wg sync.WaitGroup
		for i := range batch {
			wg.Go(func() {
				c, err := DrawUnder(seed+uint64(i), classOf[f], f)
				if err != nil {
					return
				}
				if one, err := sampled(c); err == nil {
					batch[i] = &one
				}
			})
		}
		wg.Wait()
		batch = slices.DeleteFunc(batch, func(c *case1) bool { return c == nil })
		require.NotEmpty(t, batch, "no scene could be made")
		for _, c := range batch {
			if n < pads {
				cases, n = append(cases, c), n+len(c.Truth)
			}
		}
		seed += uint64(2 * runtime.GOMAXPROCS(0))
	}
	return cases
}

func byLampFamily(o outcome) string { return string(FamilyOf(o.Case.Lamp)) }

// byLampMade is the lamp of the tables, or its family where it is of random make.
func byLampMade(o outcome) string {
	name, _, random := strings.Cut(o.Case.Lamp, " of seed ")
	if random {
		return name + ", random"
	}
	return name
}

// worstFirst sorts rows by coverage.
func worstFirst(rows []row) []row {
	slices.SortFunc(rows, func(a, b row) int {
		switch {
		case a.cover < b.cover:
			return -1
		case a.cover > b.cover:
			return 1
		}
		return strings.Compare(a.label, b.label)
	})
	return rows
}

// wordOf is what a person says of a family's lamps.
var wordOf = map[Family]charts.Lamp{Daylight: charts.LampDaylight, LED: charts.LampLamp, Tube: charts.LampTube, Bulb: charts.LampLamp}

// readSaid reads cases as if a word were said of their light.
func readSaid(t testing.TB, cases []*case1, word func(*case1) charts.Lamp) []outcome {
	said := make([]*case1, len(cases))
	for i, c := range cases {
		one := *c
		one.Photo.Lamp = word(c)
		said[i] = &one
	}
	own, _ := readAll(t, said)
	return own
}

// TestCoverageByLampFamily is the study of lamps: those of the CIE tables and of
// random make, family by family and lamp by lamp, the worst first; with nothing said of
// the light, with the right word and with each wrong one.
func TestCoverageByLampFamily(t *testing.T) {
	var cases []*case1
	for i, f := range Families() {
		cases = append(cases, underFamily(t, *studySeed+uint64(10+i)*100_000_000, f, *studyPads/4)...)
	}
	own, _ := readAll(t, cases)
	families := worstFirst(groups(own, byLampFamily))
	right := worstFirst(groups(readSaid(t, cases, func(c *case1) charts.Lamp { return wordOf[FamilyOf(c.Lamp)] }), byLampFamily))
	out := heading + "\n"
	for _, rows := range [][]row{families, worstFirst(groups(own, byLampMade)), worstFirst(groups(own, byFamily)), right} {
		for _, r := range rows {
			out += r.String() + "\n"
		}
		out += "\n"
	}
	require.Len(t, families, 4)
	// Three standard errors of each share on so many pads.
	least := func(share float64, n int) float64 { return share - 3*math.Sqrt(share*(1-share)/float64(n)) }
	for _, r := range families {
		assert.GreaterOrEqual(t, r.cover, least(0.92, r.n), r.label)
	}
	for _, r := range right {
		assert.GreaterOrEqual(t, r.cover, least(0.935, r.n), "%s, said rightly", r.label)
	}
	for _, word := range charts.Lamps() {
		wrong := slices.DeleteFunc(slices.Clone(cases), func(c *case1) bool { return wordOf[FamilyOf(c.Lamp)] == word })
		for _, r := range groups(readSaid(t, wrong, func(*case1) charts.Lamp { return word }), byLampFamily) {
			out += string(word) + " said: " + r.String() + "\n"
			assert.LessOrEqual(t, r.silent, 1-least(0.98, r.n), "%s, said to be %s", r.label, word)
		}
	}
	t.Log("\n" + out)
}
