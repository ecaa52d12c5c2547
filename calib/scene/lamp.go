package scene

import (
	_ "embed"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/cie_illuminants.csv
var lampTable string

//go:embed data/cie_illuminants_extra.csv
var extraLampTable string

//go:embed data/cie_daylight_basis.csv
var daylightTable string

// goodLamps, fairLamps and oddLamps are the lamps of the three classes of light.
var (
	goodLamps = []string{"D50", "D55", "D65", "D75", "LED-B3", "LED-B4", "LED-B5", "FL7"}
	fairLamps = []string{"FL2", "FL11", "A", "LED-B1", "LED-B2"}
	oddLamps  = []string{"LED-RGB1", "FL4", "FL10", "FL12", "LED-V1", "LED-BH1", "FL3"}
)

// tables is everything read from the embedded CIE tables.
type tables struct {
	lamps    map[string]Spectrum
	daylight [3]Spectrum
}

// cie reads the embedded tables once.
var cie = sync.OnceValues(readTables)

func readTables() (t tables, err error) {
	t.lamps = map[string]Spectrum{}
	for _, text := range []string{lampTable, extraLampTable} {
		columns, err := parseTable(text)
		if err != nil {
			return t, err
		}
		for name, s := range columns {
			t.lamps[name] = s.scaled(100 / s.sum())
		}
	}
	t.daylight, err = namedColumns(daylightTable, "S0", "S1", "S2")
	return t, err
}

func (s *Spectrum) sum() float64 {
	sum := 0.0
	for _, v := range s {
		sum += v
	}
	return sum
}

// namedColumns returns three columns of a table.
func namedColumns(text string, names ...string) (out [3]Spectrum, err error) {
	columns, err := parseTable(text)
	for i, name := range names {
		out[i] = columns[name]
	}
	return out, err
}

// parseTable reads a table of spectra: comment lines, a heading, 81 rows.
func parseTable(text string) (map[string]Spectrum, error) {
	var names []string
	out := map[string]Spectrum{}
	row := 0
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		fields := strings.Split(line, ",")
		if names == nil {
			names = fields
			continue
		}
		if row >= bands || len(fields) != len(names) {
			return nil, fmt.Errorf("scene: table of spectra, row %d: want %d rows of %d fields", row, bands, len(names))
		}
		for i, name := range names[1:] {
			v, err := strconv.ParseFloat(fields[i+1], 64)
			if err != nil {
				return nil, fmt.Errorf("scene: table of spectra, row %d, column %s: %w", row, name, err)
			}
			s := out[name]
			s[row] = v
			out[name] = s
		}
		row++
	}
	if row != bands {
		return nil, errors.New("scene: table of spectra is cut short")
	}
	return out, nil
}

// lampNamed returns a CIE lamp by its name in the tables, daylight of a colour
// temperature written as "daylight 5600", or the lamp of a seed, see [made].
func lampNamed(name string) (Spectrum, error) {
	t, err := cie()
	if err != nil {
		return Spectrum{}, err
	}
	if s, ok, err := made(name); ok {
		return s, err
	}
	if kelvin, ok := strings.CutPrefix(name, "daylight "); ok {
		k, err := strconv.ParseFloat(kelvin, 64)
		if err != nil || !(k >= 4000 && k <= 25000) {
			return Spectrum{}, fmt.Errorf("scene: lamp %q: daylight wants 4000 to 25000 K", name)
		}
		return daylight(&t, k), nil
	}
	s, ok := t.lamps[name]
	if !ok {
		return s, fmt.Errorf("scene: no lamp %q", name)
	}
	return s, nil
}

// daylight returns CIE daylight of a colour temperature of 4000-25000 K,
// scaled to a sum of 100. Source: CIE 15, daylight components and locus.
func daylight(t *tables, k float64) Spectrum {
	x := 0.244063 + 0.09911e3/k + 2.9678e6/(k*k) - 4.6070e9/(k*k*k)
	if k > 7000 {
		x = 0.237040 + 0.24748e3/k + 1.9018e6/(k*k) - 2.0064e9/(k*k*k)
	}
	y := -3*x*x + 2.87*x - 0.275
	m := 0.0241 + 0.2562*x - 0.7341*y
	m1 := math.Round((-1.3515-1.7703*x+5.9114*y)/m*1000) / 1000
	m2 := math.Round((0.03-31.4424*x+30.0717*y)/m*1000) / 1000
	s := t.daylight[0].plus(m1, &t.daylight[1]).plus(m2, &t.daylight[2])
	return s.scaled(100 / s.sum())
}
