// Package limits holds what readings are judged by: the limits of authorities that
// come with the program, the limits of a person, and what to do next. Start at
// [ParseLimit] for what a person asks, and at [ParseLimits] for a file. The package
// judges nothing itself: package judge does.
package limits

import (
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"padband/charts/strict"
	"padband/charts/units"
)

// LimitKind says what a limit is for.
type LimitKind string

// Kinds of limits.
const (
	LimitHealth     LimitKind = "health"
	LimitAppearance LimitKind = "appearance and taste"
	LimitTreatment  LimitKind = "treatment"
	LimitIndicator  LimitKind = "indicator" // a figure to watch, set for neither of the two first
	LimitClass      LimitKind = "class"     // names for ranges, no limit
	LimitGiven      LimitKind = "given"     // typed by the person who asks
)

// Basis says what a limit is compared with.
type Basis string

// Bases. Only [BasisSample] lets one tap be judged.
const (
	BasisSample     Basis = "one sample"
	BasisAverage    Basis = "running average"
	BasisPercentile Basis = "90th percentile of many taps"
)

// Limit is one limit, guideline or yardstick. It has a Value that is not to be
// passed, or a Low and a High to stay between, or Classes. Figures are in Unit.
type Limit struct {
	Set       string // the set it is of; empty for a typed one
	Authority string
	Year      int // of the rule; 0 when not said
	Clause    string
	Analyte   string
	Also      []string // other names of the analyte
	Value     float64
	// ValueFrom is over 0 where the rule gives a range of upper limits, of which
	// Value is the highest.
	ValueFrom float64
	Low, High float64
	Classes   []Class
	Sum       []Term
	Unit      units.Unit
	Kind      LimitKind
	Basis     Basis
	// From and Until are the first and the last day it holds, as 2027-11-01; empty when open.
	From, Until string
	// PublicSupply is true where the rule binds suppliers, so that on a private
	// well it is a yardstick only.
	PublicSupply bool
	Source       string
	Note         string
}

// Class is a name for the values over the class before it up to UpTo, which
// belongs to it; the last has none and UpTo is 0.
type Class struct {
	Name string
	UpTo float64
}

// TwoSided reports whether the limit has a low and a high side.
func (l Limit) TwoSided() bool { return l.High > 0 }

// Text prints the limit's figure: "10 mg/L as N", "pH 6.5 to 8.5".
func (l Limit) Text() string {
	switch {
	case l.TwoSided():
		if l.Unit.Name == "pH" {
			return "pH " + strict.Figure(l.Low) + " to " + strict.Figure(l.High)
		}
		return strings.TrimSpace(strict.Figure(l.Low) + " to " + strict.Figure(l.High) + " " + l.Unit.String())
	case len(l.Classes) > 0:
		return strconv.Itoa(len(l.Classes)) + " classes"
	case l.ValueFrom > 0:
		return strict.Figure(l.ValueFrom) + " to " + units.Quantity{Value: l.Value, Unit: l.Unit}.String()
	}
	return units.Quantity{Value: l.Value, Unit: l.Unit}.String()
}

// Whose names who set the limit and where: "US EPA, 40 CFR 141.62(b)(7)".
func (l Limit) Whose() string {
	if l.Clause == "" {
		return l.Authority
	}
	return l.Authority + ", " + l.Clause
}

// names reports whether the limit is for the analyte of that name.
func (l Limit) names(analyte string) bool {
	return slices.ContainsFunc(append([]string{l.Analyte}, l.Also...), func(n string) bool {
		return strings.EqualFold(n, strings.TrimSpace(analyte))
	})
}

// holds reports whether the limit is in force on a day; a zero time asks for
// none and takes all.
func (l Limit) holds(on time.Time) bool {
	day := on.Format(time.DateOnly)
	return on.IsZero() || (l.From == "" || l.From <= day) && (l.Until == "" || day <= l.Until)
}

// LimitSet is the limits of one authority, or of a person's own file.
type LimitSet struct {
	Format int
	Name   string // such as us-epa
	Title  string
	Note   string
	Limits []Limit
}

// Find returns the set's limits for an analyte that hold on the day given,
// those for health first; the zero time takes all. Sums are left out: see
// [LimitSet.Sums].
func (s LimitSet) Find(analyte string, on time.Time) []Limit {
	var out []Limit
	for _, l := range s.Limits {
		if len(l.Sum) == 0 && l.names(analyte) && l.holds(on) {
			out = append(out, l)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Kind.rank() < out[j].Kind.rank() })
	return out
}

// rank orders kinds by how much they matter.
func (k LimitKind) rank() int {
	return slices.Index([]LimitKind{LimitHealth, LimitGiven, LimitIndicator, LimitAppearance, LimitTreatment, LimitClass}, k)
}
