package readers

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/agreement"
)

// oneReading is a reading of an analyte in mg/L, of a photo.
func oneReading(analyte, as, photo string) agreement.Single {
	span := agreement.Span{Low: 1, High: 3}
	return agreement.Single{Name: "p", Analyte: analyte, Unit: "mg/L", As: as, Value: 2, Band: span, Water: span, Own: 0.1, Photo: photo}
}

// What two photos show has to be known; what one shows is.
func TestWhatTwoReadingsShare(t *testing.T) {
	one, same, other := oneReading("nitrate", "N", "a"), oneReading("nitrate", "N", "a"), oneReading("nitrate", "N", "b")
	for _, c := range []struct {
		b     agreement.Single
		known agreement.Relation
		want  agreement.Relation
		err   error
	}{
		{same, "", agreement.SamePhoto, nil},
		{same, agreement.OneStrip, agreement.SamePhoto, nil},
		{same, agreement.TwoStrips, "", ErrOnePhoto},
		{other, "", "", ErrTwoPhotos},
		{other, agreement.OneStrip, agreement.OneStrip, nil},
		{other, agreement.TwoStrips, agreement.TwoStrips, nil},
	} {
		gaps, notes, err := Two([]agreement.Single{one}, []agreement.Single{c.b}, c.known)
		require.ErrorIs(t, err, c.err, "%+v", c)
		assert.Empty(t, notes)
		if c.err == nil {
			require.Len(t, gaps, 1)
			assert.Equal(t, c.want, gaps[0].Relation)
		}
	}
	a := oneReading("nitrate", "N", "")
	_, _, err := Two([]agreement.Single{a}, []agreement.Single{a}, "")
	assert.ErrorIs(t, err, ErrTwoPhotos, "without a hash nothing says that it is one photo")
}

// A photo that both answers have makes both of one strip, analyte by analyte.
func TestWhatAnswersFromSeveralPhotosShare(t *testing.T) {
	of := func(analyte, photo string, photos ...string) agreement.Single {
		s := oneReading(analyte, "N", photo)
		s.Photos, s.File = photos, photo+".jpg"
		return s
	}
	a := []agreement.Single{of("nitrate", "a", "a", "b"), of("nitrite", "b", "a", "b")}
	b := []agreement.Single{of("nitrate", "a", "a", "c"), of("nitrite", "c", "a", "c")}
	for _, known := range []agreement.Relation{"", agreement.OneStrip} {
		gaps, notes, err := Two(a, b, known)
		require.NoError(t, err)
		assert.Empty(t, notes)
		require.Len(t, gaps, 2)
		assert.Equal(t, agreement.SamePhoto, gaps[0].Relation)
		assert.Equal(t, agreement.OneStrip, gaps[1].Relation)
		assert.Contains(t, GapText(gaps[1]), "\n  p, from b.jpg: 2.0")
	}
	_, _, err := Two(a[1:], b[1:], agreement.TwoStrips)
	assert.ErrorIs(t, err, ErrOneStrip)
	_, _, err = Two(a, []agreement.Single{of("nitrate", "d", "d", "e")}, "")
	assert.ErrorIs(t, err, ErrTwoPhotos)
}

// Outlines that nobody has looked at come before all other advice.
func TestUncheckedOutlinesAreNamed(t *testing.T) {
	a, b := oneReading("nitrate", "N", "a"), oneReading("nitrate", "N", "b")
	a.Name, b.Name = "ann.reading.json", "bob.reading.json"
	said := func(a, b agreement.Single) string {
		return strings.Join(strings.Fields(GapText(agreement.Between(a, b, agreement.OneStrip))), " ")
	}
	assert.NotContains(t, said(a, b), "looked")
	b.Unchecked = true
	assert.Contains(t, said(a, b), "The reading of bob rests on outlines that the program found and nobody has looked at. Look at them before")
	assert.Contains(t, said(a, b), "3.0), outlines not looked at")
	data, err := GapJSON(agreement.Between(a, b, agreement.OneStrip), "1")
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(string(data), `"marks_unchecked":true`))
	a.Unchecked = true
	assert.Contains(t, said(a, b), "Both readings rest on outlines")
	a.Value = math.NaN()
	assert.Contains(t, said(a, b), "cannot be said. Not defined: a reading without a value has no difference. Both readings rest")
}

func TestReadingsWithoutAPartner(t *testing.T) {
	a := []agreement.Single{oneReading("nitrate", "N", "a"), oneReading("nitrite", "N", "a"), oneReading("iron", "", "a")}
	b := []agreement.Single{oneReading("Nitrate", "N", "b"), oneReading("nitrite", "NO2", "b")}
	gaps, notes, err := Two(a, b, agreement.TwoStrips)
	require.NoError(t, err)
	require.Len(t, gaps, 1)
	assert.Equal(t, []string{"Not compared: nitrite: one is in mg/L as N, the other in mg/L as NO2.",
		"Not compared: iron: the second file does not read it."}, notes)
	_, _, err = Two(a[1:], b, agreement.TwoStrips)
	assert.EqualError(t, err, "the two files have no reading to compare; nitrite: one is in mg/L as N, the other in mg/L as NO2")
}

func TestAgainstTheOneReadingItCanBeOf(t *testing.T) {
	all := []agreement.Single{oneReading("nitrate", "N", "a"), oneReading("nitrite", "N", "a")}
	value := func(text string) agreement.Against {
		v, err := agreement.ParseAgainst(text)
		require.NoError(t, err)
		return v
	}
	gaps, err := Against(all, value("nitrite 2 +- 1 mg/L as N"))
	require.NoError(t, err)
	require.Len(t, gaps, 1)
	assert.Equal(t, "nitrite", gaps[0].A.Analyte)
	_, err = Against(all, value("2 +- 1 mg/L as N"))
	assert.EqualError(t, err, `may be of nitrate or nitrite; put the name before it, such as "nitrate 2 +- 1 mg/L as N"`)
	_, err = Against(all, value("iron 2 +- 1 mg/L"))
	assert.EqualError(t, err, "fits none of the readings: iron 2 +- 1 mg/L is for iron, not nitrate")
}

func TestLimitThatNoAnalyteHas(t *testing.T) {
	of := func(analyte, unit, as string, l *agreement.Allowed) agreement.Comparison {
		return agreement.Comparison{Analyte: analyte, Unit: unit, As: as, Limit: l}
	}
	iron, nitrate := of("iron", "drops", "", nil), of("nitrate", "mg/L", "N", &agreement.Allowed{High: 10})
	assert.NoError(t, CheckLimit("", []agreement.Comparison{iron}))
	assert.NoError(t, CheckLimit("us-epa", []agreement.Comparison{iron, nitrate}))
	var none *NoLimitError
	require.ErrorAs(t, CheckLimit("usgs-hardness", []agreement.Comparison{nitrate, iron}[1:]), &none)
	assert.Equal(t, "iron", none.Analyte)
}
