package scene

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
)

// paleBy are the families whose row is pale at one end: by their definitions in
// reagent.go the amount of dye is 0 at the value 0, or falls with the value.
var paleBy = map[string]charts.Palest{
	"pink": charts.PalestLowest, "violet": charts.PalestLowest, "turning": charts.PalestLowest, "reversed": charts.PalestLowest,
	"fading": charts.PalestHighest,
}

// eachScene draws scenes of all classes of light until there are enough of each.
func eachScene(t *testing.T, seed uint64, each int, use func(c Config, photo calib.Photo)) {
	t.Helper()
	for i, class := range []Class{Good, Fair, Bad} {
		for n, s := 0, seed+uint64(i)*100_000_000; n < each; s++ {
			c, err := Draw(s, class)
			if err != nil {
				continue
			}
			got, err := sampled(c)
			require.NoError(t, err)
			use(c, got.Photo)
			n++
		}
	}
}

// manyOrFew is a number of scenes: few with -short, and five times as many without.
func manyOrFew(few int) int {
	if testing.Short() {
		return few
	}
	return 5 * few
}

// TestPaleEndsOfAllDyes: no photo says that the coloured end of a row is the pale one,
// and nearly all name the pale end of a row that begins at 0.
func TestPaleEndsOfAllDyes(t *testing.T) {
	each := manyOrFew(8)
	seen, named := 0, 0
	eachScene(t, 8_000_000, each, func(c Config, photo calib.Photo) {
		light := calib.FitLight(photo.Whites, photo.Width, photo.Height, colorimetry.D50)
		for i, p := range c.Pads {
			s, err := calib.NewScale(photo.Pads[i], light)
			require.NoError(t, err)
			want, pale := paleBy[p.Family]
			if !pale {
				continue
			}
			got := s.Palest()
			assert.Contains(t, []charts.Palest{want, charts.PalestNeither}, got, "seed %d, %s, %s", c.Seed, c.Class, p.Family)
			if photo.Pads[i].Analyte.Swatches[0].Value == 0 {
				seen++
				add1(&named, got == want)
			}
		}
	})
	t.Logf("%d of %d rows named", named, seen)
	assert.Greater(t, float64(named), 0.9*float64(seen))
	assert.Greater(t, seen, each)
}

func add1(n *int, yes bool) {
	if yes {
		*n++
	}
}
