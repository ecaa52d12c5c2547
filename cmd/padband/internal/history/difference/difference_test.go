package difference

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/charts"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/words"
)

// A fact of one side is said to be missing on the other, one of neither once.
func TestSideRows(t *testing.T) {
	orchard := report.Source{Photo: report.PhotoFacts{SHA256: "aa"}, Chart: charts.Chart{Name: "orchard-well", Version: "2"}}
	a := Side{Facts: []words.Entry{{Label: "Place", Value: "kitchen"}, {Label: "Kit, lot", Value: "A"}},
		Missing: []string{"tester", "time of the dip"}, Source: orchard, Fingerprint: "0123"}
	b := Side{Facts: []words.Entry{{Label: "Place", Value: "cellar"}, {Label: "time of the dip", Value: "08:40"}},
		Missing: []string{"tester"}, Source: orchard}
	rows, missing := sideRows(a, b)
	assert.Equal(t, []sideRow{
		{"Place", "kitchen", "cellar"}, {"Kit, lot", "A", "not given"}, {"time of the dip", "not given", "08:40"},
		{"Chart and its version", "orchard-well 2", "orchard-well 2"}, {"SHA-256 of the photo", "aa", "aa"},
		{"Fingerprint of the record", "0123", "not given"},
	}, rows)
	assert.Equal(t, []string{"tester"}, missing)
}
