package limits

import (
	"embed"
	"time"
)

// The sets of limits that come with the program. Each row names its source.
//
//go:embed *.limits.json
var limitFiles embed.FS

// setOrder is the order in which sets are listed: authorities first.
var setOrder = []string{"us-epa", "who", "eu", "usgs-hardness", "treatment"}

// LimitSets returns the sets that come with the program.
func LimitSets() []LimitSet {
	var all []LimitSet
	for _, name := range setOrder {
		if s, ok := FindLimitSet(name); ok {
			all = append(all, s)
		}
	}
	return all
}

// FindLimitSet returns the set of that name, such as us-epa.
func FindLimitSet(name string) (LimitSet, bool) {
	data, ok := LimitSetFile(name)
	if !ok {
		return LimitSet{}, false
	}
	s, err := ParseLimits(data)
	return s, err == nil
}

// FindLimit returns the limit that a set that comes with the program has for an
// analyte on the day given, the one for health where there are several. The
// zero time takes the first, whatever its dates.
func FindLimit(set, analyte string, on time.Time) (Limit, bool) {
	s, _ := FindLimitSet(set)
	found := s.Find(analyte, on)
	if len(found) == 0 {
		return Limit{}, false
	}
	return found[0], true
}

// healthMatters reports whether an authority has a health limit for the analyte.
func healthMatters(analyte string) bool {
	for _, s := range LimitSets() {
		for _, l := range s.Limits {
			if l.Kind == LimitHealth && l.names(analyte) {
				return true
			}
		}
	}
	return false
}

// LimitSetFile returns the file of the set of that name.
func LimitSetFile(name string) ([]byte, bool) {
	data, err := limitFiles.ReadFile(name + ".limits.json")
	return data, err == nil
}
