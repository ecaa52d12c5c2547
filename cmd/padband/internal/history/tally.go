package history

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"padband/cmd/padband/internal/lines"
)

// mostNamed is how many names are kept to be told; a hostile folder may hold any number.
const mostNamed = 20

// names are the names seen, at most [mostNamed] of them.
type names []string

// saw keeps a name that was not seen before, while there is room.
func (n *names) saw(name string) {
	if len(*n) < mostNamed && !slices.Contains(*n, name) {
		*n = append(*n, name)
	}
}

// none says that none of the names is the one asked for; empty when one is, or
// none was asked for.
func (n names) none(asked string) string {
	if asked == "" || slices.ContainsFunc(n, func(a string) bool { return strings.EqualFold(a, strings.TrimSpace(asked)) }) {
		return ""
	}
	return fmt.Sprintf("no record holds %q; they hold %s", asked, strings.Join(n, ", "))
}

// Tally counts what was found, and what could not be compared.
type Tally struct {
	Found         int
	Undated       int // records left out, because a day was asked for and theirs is not known
	may, presence int
	analytes      names
	units         map[string]int // readings in units that cannot be converted, by unit
}

// unit counts a reading in a unit that cannot be converted into that of the search.
func (t *Tally) unit(name string) {
	if _, known := t.units[name]; !known && len(t.units) >= mostNamed {
		name = "other units"
	}
	if t.units == nil {
		t.units = map[string]int{}
	}
	t.units[name]++
}

// Lines say what a search found in so many records, and what it could not compare.
func (t Tally) Lines(s Search, records int) (out []string) {
	first := fmt.Sprintf("%s found in %s", lines.Count(t.Found, "reading"), lines.Count(records, "record"))
	if t.may > 0 {
		first += fmt.Sprintf(", %d of them only %q", t.may, "may be")
	}
	if t.Found > 0 {
		first += "; in brackets what the water may be"
	}
	out = append(out, first)
	if none := t.analytes.none(s.Analyte); none != "" {
		out = append(out, none)
	}
	for _, u := range slices.Sorted(maps.Keys(t.units)) {
		out = append(out, fmt.Sprintf("not compared: %s in %s, which cannot be converted", lines.Count(t.units[u], "reading"), u))
	}
	if t.presence > 0 {
		out = append(out, "not compared: "+lines.Count(t.presence, "reading")+" read as present or not")
	}
	return out
}
