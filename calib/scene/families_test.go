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

// TestCoverageByLampFamily is the study of lamps: those of the CIE tables and of
// random make, family by family and lamp by lamp, the worst first.
func TestCoverageByLampFamily(t *testing.T) {
	var cases []*case1
	for i, f := range Families() {
		cases = append(cases, underFamily(t, *studySeed+uint64(10+i)*100_000_000, f, *studyPads/4)...)
	}
	own, _ := readAll(t, cases)
	families := worstFirst(groups(own, byLampFamily))
	out := heading + "\n"
	for _, rows := range [][]row{families, worstFirst(groups(own, byLampMade)), worstFirst(groups(own, byFamily))} {
		for _, r := range rows {
			out += r.String() + "\n"
		}
		out += "\n"
	}
	t.Log("\n" + out)
	require.Len(t, families, 4)
	for _, r := range families {
		// Three standard errors of a coverage of 0.92 on so many pads.
		assert.GreaterOrEqual(t, r.cover, 0.92-3*math.Sqrt(0.92*0.08/float64(r.n)), r.label)
	}
}
