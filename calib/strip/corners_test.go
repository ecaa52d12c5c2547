package strip

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

// Corners that begin at another one than the top left are named, whether the photo was
// decoded whole or not, and no reading is trusted. In the right order nothing is said,
// in bad light neither.
func TestCornersBegunAtAnotherOne(t *testing.T) {
	for _, name := range []string{"kitchen", "cellar"} {
		data, err := os.ReadFile("../../testdata/demo/" + name + ".jpg")
		require.NoError(t, err)
		for turn := range 4 {
			for _, whole := range []bool{false, true} {
				m := demoMarks(t, name)
				m.Corners = slices.Concat(m.Corners[turn:], m.Corners[:turn])
				r, err := Read(Input{Photo: data, Chart: demoChart(t), Marks: m, Whole: whole})
				require.NoError(t, err)
				i := slices.IndexFunc(r.Light.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeCornersTurned })
				require.Equal(t, turn > 0, i >= 0, "%s, begun at corner %d", name, turn+1)
				if i < 0 {
					continue
				}
				assert.Contains(t, r.Light.Warnings[i].Then, "first the chart's top left")
				for _, x := range r.Readings {
					assert.Equal(t, calib.Unreliable, x.Reliability)
				}
			}
		}
	}
}
