package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The likely units and forms come first, and every unit is there once.
func TestOffered(t *testing.T) {
	for analyte, want := range map[string]struct {
		first []string
		forms []string
	}{
		"Nitrate":        {[]string{"mg/L", "ppm"}, []string{"N", "NO3"}},
		"total hardness": {[]string{"mg/L", "ppm", "gr/gal", "°dH"}, []string{"CaCO3", "CaO", "Ca", "Mg"}},
		"free chlorine":  {[]string{"mg/L"}, []string{"Cl2"}},
		"pH":             {[]string{"pH"}, nil},
		" ph ":           {[]string{"pH"}, nil},
		"phosphate":      {[]string{"mg/L"}, []string{"P", "PO4", "P2O5"}},
		"conductivity":   {[]string{"uS/cm", "mS/cm"}, nil},
		"glue":           {[]string{"mg/L", "ppm", "ug/L", "ppb"}, commonForms},
	} {
		offered, forms := Offered(analyte)
		var names []string
		for _, n := range offered {
			names = append(names, n.Name)
			assert.NotEmpty(t, n.Means)
		}
		assert.Equal(t, want.first, names[:len(want.first)], analyte)
		assert.Equal(t, want.forms, forms, analyte)
		assert.Len(t, names, len(named), analyte)
	}
	assert.Nil(t, Forms("glue"))
	assert.Equal(t, []string{"N", "NO2"}, Forms("nitrite"))
}
