// Package reading holds the reading file: what was read from one photo, or from several
// photos of one strip, as JSON. No other package writes or reads that format. Start at
// [Of] and [OfStrip], which make a file of an answer of package strip, and at [Parse],
// which reads a file of any format so far. The package makes no reading and opens no
// files.
//
// Figures are in the analyte's unit unless their field says otherwise. Colours are
// in CIELAB under D50, and differences of colour in CIEDE2000. A missing figure is
// null.
package reading

import (
	"padband/calib"
	"padband/charts"
)

// The numbers of the file's formats. A format is a new one when a program that knows
// those before would read a file of it wrongly.
const (
	Format      = 1 // of one photo
	StripFormat = 2 // of several photos of one strip, the newest that [Parse] knows
)

// File is one photo's readings, or the one answer from several photos of one strip.
type File struct {
	Format   int          `json:"format"`
	Photo    Photo        `json:"photo,omitzero"`      // of a strip it stands in Strip, as Sample and Light do
	Strip    []StripPhoto `json:"one_strip,omitempty"` // in the order of their times; nil for one photo
	Chart    Chart        `json:"chart"`
	Sample   *Sample      `json:"sample,omitempty"` // nil where nothing was said
	Light    Light        `json:"light,omitzero"`
	Readings []Reading    `json:"readings"`
	Sums     []Sum        `json:"sums,omitempty"`
	Notes    []string     `json:"notes,omitempty"`
	Program  Program      `json:"program"`
}

// StripPhoto is one of several photos of a strip.
type StripPhoto struct {
	Photo
	AfterDip  Figure  `json:"after_dip_s"`
	Unchecked bool    `json:"marks_unchecked,omitempty"`
	Sample    *Sample `json:"sample,omitempty"`
	Light     Light   `json:"light"`
}

// From says which of several photos of a strip a reading is from.
type From struct {
	Photo    string      `json:"photo"` // its file, as Strip names it
	AfterDip Figure      `json:"after_dip_s"`
	Window   *[2]float64 `json:"read_window_s"` // null where the chart gives none
	InTime   *bool       `json:"in_time"`       // null where the chart gives no window
	Passed   []string    `json:"passed_over,omitempty"`
}

// Photo names the photo read. Taken is its own time, nil where it says none.
type Photo struct {
	File    string  `json:"file"`
	SHA256  string  `json:"sha256"`
	Width   int     `json:"width"`
	Height  int     `json:"height"`
	Profile string  `json:"profile"`
	Taken   *string `json:"taken"`
}

// TakenText is the photo's own time; empty where it says none.
func (p Photo) TakenText() string {
	if p.Taken == nil {
		return ""
	}
	return *p.Taken
}

// Chart names the chart read against.
type Chart struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	SHA256  string `json:"sha256"`
}

// Sample is what a person said of the photo's light and of the water, in the words of
// the marks; an empty word was not said.
type Sample struct {
	Light charts.Lamp  `json:"light,omitempty"`
	Water charts.Water `json:"water,omitempty"`
}

// Light is what is said of the light over the photo.
type Light struct {
	Reliability calib.Reliability `json:"reliability"`
	White       *White            `json:"white_as_recorded"`
	Unevenness  Figure            `json:"unevenness"` // brightest over darkest, less 1
	// FoundWhite is how many places of bare white the program found and joined to the marked white.
	FoundWhite int       `json:"found_white,omitempty"`
	Warnings   []Warning `json:"warnings"`
}

// White is the colour of the white as the photo recorded it.
type White struct {
	CCT Figure `json:"cct_k"` // kelvin
	Duv Figure `json:"duv"`
}

// Warning is one warning, with where in the photo it applies. Programs go by its
// code; the text is for people and may change.
type Warning struct {
	Code   calib.Code `json:"code"`
	Text   string     `json:"text"`
	Places []Place    `json:"places,omitempty"`
}

// Place is a [calib.Place]. Value is that of a swatch; Part and Number are
// counted from 1.
type Place struct {
	Kind    calib.PlaceKind `json:"kind"`
	Analyte string          `json:"analyte,omitempty"`
	Value   *float64        `json:"value,omitempty"`
	Part    int             `json:"part,omitempty"`
	Number  int             `json:"number,omitempty"`
}

// Reading is one pad's reading, in the analyte's unit.
type Reading struct {
	Analyte     string            `json:"analyte"`
	Unit        string            `json:"unit"`
	As          string            `json:"as,omitempty"`
	Value       Figure            `json:"value"`
	Band        *Band             `json:"band"`
	WaterBand   *Band             `json:"water_band"`
	Range       calib.Range       `json:"range"`
	Bracket     [2]float64        `json:"bracket"`
	Presence    Optional          `json:"presence_probability,omitzero"` // of presence pads alone
	Reliability calib.Reliability `json:"reliability"`
	Warnings    []Warning         `json:"warnings"`
	Pad         Pad               `json:"pad"`
	Swatches    []Swatch          `json:"swatches"`
	Budget      []Contribution    `json:"budget"`
	Standards   []Standard        `json:"check_standards,omitempty"`
	Undiluted   *Undiluted        `json:"undiluted,omitempty"` // of the water before it was mixed
	InUnits     []Converted       `json:"in_units,omitempty"`
	// Judgement is the first, which is the one for health where there is one.
	Judgement *Judgement  `json:"judgement,omitempty"`
	Further   []Judgement `json:"further_judgements,omitempty"`
	NoLimit   string      `json:"not_judged,omitempty"`
	*From                 // nil in a file of one photo
}

// Pad is the pad's colour, CIELAB of each part.
type Pad struct {
	Lab    [][3]Figure `json:"lab"`
	DeltaE Figure      `json:"delta_e_to_scale"` // CIEDE2000
}

// Swatch is one swatch's colour.
type Swatch struct {
	Value  float64     `json:"value"`
	Lab    [][3]Figure `json:"lab"`
	DeltaE Figure      `json:"delta_e"` // CIEDE2000 to the pad
}

// Contribution is one line of the budget: the standard deviation, in steps, that one
// source of error gives. Source is its name in words.
type Contribution struct {
	Source string       `json:"source"`
	Code   calib.Source `json:"code"`
	Steps  Figure       `json:"steps"`
}

// Program says what made the reading.
type Program struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Method  int    `json:"method"`
	Go      string `json:"go"`
}

// Failed stands in a row of many photos for one that could not be read.
type Failed struct {
	Format int        `json:"format"`
	Photo  NamedPhoto `json:"photo"`
	Error  string     `json:"error"` // one line
}

// NamedPhoto is all that is known of a photo that could not be read.
type NamedPhoto struct {
	File string `json:"file"`
}
