package strip

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
)

// byDaylight reads a copy of the demonstration photo, said to be by daylight.
func byDaylight(t *testing.T, file []byte, chart charts.Chart, change func(*charts.Marks)) *Result {
	t.Helper()
	marks := demoMarks(t, "kitchen.jpg")
	marks.Photo.SHA256, marks.Sample.Light = "", charts.LampDaylight
	if change != nil {
		change(&marks)
	}
	r, err := Read(Input{Photo: file, Chart: chart, Marks: marks})
	require.NoError(t, err)
	return r
}

// asTaken is the demonstration photo's file.
func asTaken(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	return data
}

// remembering is the demonstration's chart with what it looks like in the photo.
func remembering(t *testing.T, lot string) charts.Chart {
	t.Helper()
	c := demoChart(t)
	p, err := byDaylight(t, asTaken(t), c, nil).PrintColours(lot)
	require.NoError(t, err)
	c.Remembered = []charts.PrintColours{p}
	return c
}

func lightCodes(r *Result) (out []calib.Code) {
	for _, w := range r.Light.Warnings {
		out = append(out, w.Code)
	}
	return out
}

func TestAPhotoIsComparedWithWhatTheChartRemembers(t *testing.T) {
	c, plain, file := remembering(t, ""), demoChart(t), asTaken(t)
	p := c.Remembered[0]
	assert.Equal(t, "OW-2418", p.Lot, "the marks' own")
	assert.Equal(t, "2026-11-14", p.Day)
	assert.Len(t, p.Swatches, 18)
	same, without := byDaylight(t, file, c, nil), byDaylight(t, file, plain, nil)
	assert.Equal(t, without.Light, same.Light)
	assert.Equal(t, without.Readings, same.Readings, "what is remembered is no scale")

	// A print that looked a third deeper then has faded.
	faded := c
	faded.Remembered = []charts.PrintColours{deeper(p, 1.35)}
	r := byDaylight(t, file, faded, nil)
	require.Contains(t, lightCodes(r), calib.CodeOtherChart)
	assert.Equal(t, calib.Caution, r.Light.Reliability)
	assert.Contains(t, r.Light.Warnings[0].Text(), "These colours do not fit what this bottle (lot OW-2418) showed on 2026-11-14 by daylight")
	for i, x := range r.Readings {
		assert.NotEqual(t, calib.Good, x.Reliability)
		assert.InDelta(t, without.Readings[i].Value, x.Value, 1e-9)
	}

	// Of two bottles and no lot said, the one that fits counts.
	faded.Remembered = append(faded.Remembered, p)
	faded.Remembered[0].Lot = "other"
	noLot := func(m *charts.Marks) { m.Sample.Kit.Lot = "" }
	assert.Equal(t, lightCodes(without), lightCodes(byDaylight(t, file, faded, noLot)))

	// A bottle that is not remembered is no alarm, whatever it looks like.
	r = byDaylight(t, file, faded, func(m *charts.Marks) { m.Sample.Kit.Lot = "new" })
	require.Contains(t, lightCodes(r), calib.CodeNewBottle)
	assert.NotContains(t, lightCodes(r), calib.CodeOtherChart)
	assert.Equal(t, without.Light.Reliability, r.Light.Reliability)

	// Without white nothing is compared.
	bare := faded
	bare.Layout = slices.DeleteFunc(slices.Clone(c.Layout), func(x charts.Mark) bool { return x.Role == charts.RoleWhite })
	bare.Remembered = []charts.PrintColours{deeper(p, 1.35)}
	assert.Contains(t, lightCodes(byDaylight(t, file, bare, nil)), calib.CodeOtherChart)
	assert.NotContains(t, lightCodes(byDaylight(t, file, bare, withoutWhite)), calib.CodeOtherChart)
}

func withoutWhite(m *charts.Marks) {
	m.Regions = slices.DeleteFunc(m.Regions, func(x charts.Mark) bool { return x.Role == charts.RoleWhite })
}

// deeper is a print whose colours lie further from white.
func deeper(p charts.PrintColours, by float64) charts.PrintColours {
	p.Swatches = slices.Clone(p.Swatches)
	for i := range p.Swatches {
		c := &p.Swatches[i].Lab
		*c = [3]float64{100 - by*(100-c[0]), by * c[1], by * c[2]}
	}
	return p
}

func TestOnlyAClearPhotoByDaylightIsRemembered(t *testing.T) {
	c, file := demoChart(t), asPNG(t, kitchen(t)) // which says no day of its own
	c.Layout = slices.DeleteFunc(slices.Clone(c.Layout), func(x charts.Mark) bool { return x.Role == charts.RoleWhite })
	for why, change := range map[UnclearFault]func(*charts.Marks){
		UnclearLot:   func(m *charts.Marks) { m.Sample.Kit.Lot = " " },
		UnclearDay:   func(m *charts.Marks) { m.Sample.Taken = "" },
		UnclearLight: func(m *charts.Marks) { m.Sample.Light = charts.LampTube },
		UnclearMarks: func(m *charts.Marks) { m.Unchecked = true },
		UnclearWhite: withoutWhite,
		UnclearMissing: func(m *charts.Marks) {
			m.Regions = slices.DeleteFunc(m.Regions, func(x charts.Mark) bool { return x.Analyte == "pH" })
		},
		UnclearDoubt: func(m *charts.Marks) { // a pad's mark upon a swatch's edge
			for i, x := range m.Regions {
				if x.Role == charts.RolePad && x.Analyte == "nitrate" {
					for k := range m.Regions[i].Region.Points {
						m.Regions[i].Region.Points[k].Y += 45
					}
				}
			}
		},
	} {
		_, err := byDaylight(t, file, c, change).PrintColours("")
		var unclear *UnclearError
		require.ErrorAs(t, err, &unclear, string(why))
		assert.Equal(t, why, unclear.Why)
	}
}

// A chart that began to remember between two photos is still one chart.
func TestOneStripOfAChartThatRemembers(t *testing.T) {
	r := byDaylight(t, asTaken(t), demoChart(t), nil)
	other := *r
	p := *r.Photo
	p.Facts.SHA256 = "another"
	other.Photo, other.Chart = &p, remembering(t, "A")
	assert.NoError(t, joinable([]*Result{r, &other}))
	other.Chart.Version = "99"
	assert.Error(t, joinable([]*Result{r, &other}))
}
