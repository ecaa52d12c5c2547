package charts

import (
	"embed"
	"path"
)

// The bundled charts are invented: their values follow no product's.
//
//go:embed bundled/*.chart.json
var bundled embed.FS

// Bundled returns the charts that come with the program, in order of name.
func Bundled() []Chart {
	var all []Chart
	entries, _ := bundled.ReadDir("bundled")
	for _, e := range entries {
		data, _ := bundled.ReadFile(path.Join("bundled", e.Name()))
		if c, err := ParseChart(data); err == nil {
			all = append(all, c)
		}
	}
	return all
}

// Find returns the bundled chart of that name.
func Find(name string) (Chart, bool) {
	for _, c := range Bundled() {
		if c.Name == name {
			return c, true
		}
	}
	return Chart{}, false
}

// BundledFile returns the file of the bundled chart of that name as it is
// embedded, for its hash and for copying.
func BundledFile(name string) ([]byte, bool) {
	data, err := bundled.ReadFile("bundled/" + name + ".chart.json")
	return data, err == nil
}
