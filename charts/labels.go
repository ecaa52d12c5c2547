package charts

import (
	"fmt"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// region is the path of a marks file's region.
func region(i int) string { return "regions[" + strconv.Itoa(i) + "]" }

// label names what a mark marks, for messages: "swatch nitrate 7, part 2".
func (m Mark) label() string {
	switch m.Role {
	case RoleWhite, RoleWetWhite:
		name := strings.ReplaceAll(string(m.Role), "-", " ")
		if m.Material == "" {
			return name
		}
		return name + " " + strict.Quote(m.Material)
	case RolePad:
		return "pad " + strict.Quote(m.Analyte) + part(m.Part)
	}
	return fmt.Sprintf("swatch %s %s%s", strict.Quote(m.Analyte), strict.Figure(m.Value), part(m.Part))
}

// part names a part other than the first.
func part(n int) string {
	if n <= 1 {
		return ""
	}
	return ", part " + strconv.Itoa(n)
}

// count prints a number of things: "1 part", "4 parts".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// swatchCount prints a number of swatches.
func swatchCount(n int) string {
	if n == 1 {
		return "1 swatch"
	}
	return fmt.Sprintf("%d swatches", n)
}

// names lists the chart's analytes for messages.
func (c Chart) names() string {
	var all []string
	for _, a := range c.Analytes {
		all = append(all, strict.Quote(a.Name))
	}
	return strict.Some(all)
}

// values lists the analyte's swatches for messages.
func (a Analyte) values() string {
	var all []string
	for _, s := range a.Swatches {
		all = append(all, strict.Figure(s.Value))
	}
	return strict.Some(all)
}
