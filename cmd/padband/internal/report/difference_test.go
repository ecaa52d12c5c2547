package report

import (
	"testing"

	"padband/charts"

	"github.com/stretchr/testify/assert"
)

// A fact of one side is said to be missing on the other, one of neither once.
func TestSideRows(t *testing.T) {
	orchard := Source{Photo: PhotoFacts{SHA256: "aa"}, Chart: charts.Chart{Name: "orchard-well", Version: "2"}}
	a := Side{Facts: []Entry{{"Place", "kitchen"}, {"Kit, lot", "A"}}, Missing: []string{"tester", "time of the dip"}, Source: orchard, Fingerprint: "0123"}
	b := Side{Facts: []Entry{{"Place", "cellar"}, {"time of the dip", "08:40"}}, Missing: []string{"tester"}, Source: orchard}
	rows, missing := sideRows(a, b)
	assert.Equal(t, []sideRow{
		{"Place", "kitchen", "cellar"}, {"Kit, lot", "A", "not given"}, {"time of the dip", "not given", "08:40"},
		{"Chart and its version", "orchard-well 2", "orchard-well 2"}, {"SHA-256 of the photo", "aa", "aa"}, {"Fingerprint of the record", "0123", "not given"},
	}, rows)
	assert.Equal(t, []string{"tester"}, missing)
}
