package reading

import (
	"padband/charts/limits"
)

// Judgement is what a reading means against a limit.
type Judgement struct {
	Limit Limit  `json:"limit"`
	Value Figure `json:"value"` // the reading in the limit's unit
	// Over, or Outside of a limit with two sides, is null where the chart's end
	// leaves it open; Between then holds its least and its most.
	Over      Optional     `json:"probability_over,omitzero"`
	Outside   Optional     `json:"probability_outside,omitzero"`
	Between   *[2]Figure   `json:"probability_between,omitempty"`
	Guard     Figure       `json:"guard"`
	Verdict   *string      `json:"verdict"` // null where none is given
	ReadsOnly string       `json:"reads,omitempty"`
	Reason    string       `json:"reason,omitempty"`
	RestsOn   string       `json:"rests_on,omitempty"`
	Classes   []ClassShare `json:"classes,omitempty"`
	Words     []string     `json:"words"`
	Next      []string     `json:"next"`
}

// Limit is the limit of a judgement.
type Limit struct {
	Authority string           `json:"authority"`
	Year      int              `json:"year,omitempty"`
	Clause    string           `json:"clause,omitempty"`
	Value     Optional         `json:"value,omitzero"`
	Low       Optional         `json:"low,omitzero"`
	High      Optional         `json:"high,omitzero"`
	Unit      string           `json:"unit"`
	As        string           `json:"as,omitempty"`
	Kind      limits.LimitKind `json:"kind"`
	Basis     limits.Basis     `json:"basis"`
	Yardstick bool             `json:"yardstick_on_private_well,omitempty"`
}

// ClassShare is the probability of a class, its least and its most.
type ClassShare struct {
	Class   string    `json:"class"`
	Between [2]Figure `json:"probability_between"`
}

// Converted is a reading in another unit.
type Converted struct {
	Unit      string `json:"unit"`
	As        string `json:"as,omitempty"`
	Value     Figure `json:"value"`
	Band      *Band  `json:"band"`
	WaterBand *Band  `json:"water_band"`
}

// Undiluted is a reading of mixed water as one of the water before; without
// figures where mixing says nothing of it, and then the reason.
type Undiluted struct {
	Dilution  string `json:"dilution"`
	Value     Figure `json:"value"`
	Band      *Band  `json:"band"`
	WaterBand *Band  `json:"water_band"`
	Refused   string `json:"refused,omitempty"`
}

// Standard is a strip of known water beside a reading.
type Standard struct {
	Photo       string `json:"photo"`
	Known       Figure `json:"known"`
	Unit        string `json:"unit"`
	As          string `json:"as,omitempty"`
	Value       Figure `json:"value"`
	Band        *Band  `json:"band"`
	WaterBand   *Band  `json:"water_band"`
	Reliability string `json:"reliability"`
	Holds       bool   `json:"water_band_holds_it"`
}

// Sum is the judgement by a rule about several analytes together.
type Sum struct {
	Sum       string    `json:"sum"`
	Judgement Judgement `json:"judgement"`
}
