package report

import (
	"math"
	"runtime"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/colorimetry"
)

// Format is the number of the reading file's format.
const Format = 1

// Document is one photo's readings as the JSON file holds them.
type Document struct {
	Format   int       `json:"format"`
	Photo    Photo     `json:"photo"`
	Chart    Chart     `json:"chart"`
	Light    Light     `json:"light"`
	Readings []Reading `json:"readings"`
	Sums     []Sum     `json:"sums,omitempty"`
	Notes    []string  `json:"notes,omitempty"`
	Program  Program   `json:"program"`
}

// Photo names the photo read.
type Photo struct {
	File    string  `json:"file"`
	SHA256  string  `json:"sha256"`
	Width   int     `json:"width"`
	Height  int     `json:"height"`
	Profile string  `json:"profile"`
	Taken   *string `json:"taken"`
}

// Chart names the chart read against.
type Chart struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	SHA256  string `json:"sha256"`
}

// Light is what is said of the light.
type Light struct {
	Reliability string    `json:"reliability"`
	White       *White    `json:"white_as_recorded"`
	Unevenness  number    `json:"unevenness"`
	Warnings    []Warning `json:"warnings"`
}

// White is the colour of the white as the photo recorded it.
type White struct {
	CCT number `json:"cct_k"`
	Duv number `json:"duv"`
}

// Warning is one warning.
type Warning struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// Reading is one pad's reading.
type Reading struct {
	Analyte     string      `json:"analyte"`
	Unit        string      `json:"unit"`
	As          string      `json:"as,omitempty"`
	Value       number      `json:"value"`
	Band        *Band       `json:"band"`
	WaterBand   *Band       `json:"water_band"`
	Range       string      `json:"range"`
	Bracket     [2]float64  `json:"bracket"`
	Presence    *number     `json:"presence_probability,omitempty"` // presence pads only
	Reliability string      `json:"reliability"`
	Warnings    []Warning   `json:"warnings"`
	Pad         Pad         `json:"pad"`
	Swatches    []Swatch    `json:"swatches"`
	Budget      []Share     `json:"budget"`
	Standards   []Standard  `json:"check_standards,omitempty"`
	Undiluted   *Undiluted  `json:"undiluted,omitempty"` // of the water before it was mixed
	InUnits     []Converted `json:"in_units,omitempty"`
	// Judgement is the first, which is the one for health where there is one.
	Judgement *Judgement  `json:"judgement,omitempty"`
	Further   []Judgement `json:"further_judgements,omitempty"`
	NoLimit   string      `json:"not_judged,omitempty"`
}

// Band is a coverage interval; a null end is open.
type Band struct {
	Low      number      `json:"low"`
	High     number      `json:"high"`
	Coverage float64     `json:"coverage"`
	Hills    [][2]number `json:"hills,omitempty"`
	KitError string      `json:"kit_error,omitempty"`
}

// Pad is the pad's colour.
type Pad struct {
	Lab    [][3]number `json:"lab"`
	DeltaE number      `json:"delta_e_to_scale"`
}

// Swatch is one swatch's colour.
type Swatch struct {
	Value  float64     `json:"value"`
	Lab    [][3]number `json:"lab"`
	DeltaE number      `json:"delta_e"`
}

// Share is one line of the budget.
type Share struct {
	Source string `json:"source"`
	Steps  number `json:"steps"`
}

// Program says what made the reading.
type Program struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Method  int    `json:"method"`
	Go      string `json:"go"`
}

// number is a figure of the file.
type number = lines.Number

// New builds the document.
func New(s Source) Document {
	d := Document{
		Format: Format,
		Photo:  Photo{File: s.File, SHA256: s.Photo.SHA256, Width: s.Photo.Width, Height: s.Photo.Height, Profile: s.Photo.Profile},
		Chart:  Chart{Name: s.Chart.Name, Version: s.Chart.Version, SHA256: s.ChartSHA256},
		Light: Light{
			Reliability: string(s.Light.Reliability),
			White:       &White{CCT: number(s.Light.CCT), Duv: number(s.Light.Duv)},
			Unevenness:  number(s.Light.Unevenness),
			Warnings:    warnings(s.Light.Warnings),
		},
		Readings: []Reading{},
		Notes:    s.Notes,
		Program:  ThisProgram(s.Version),
	}
	if math.IsNaN(s.Light.CCT) {
		d.Light.White = nil
	}
	if s.Photo.Taken != "" {
		d.Photo.Taken = &s.Photo.Taken
	}
	for i, r := range s.Readings {
		d.Readings = append(d.Readings, newReading(r).meaning(s.meaning(i)))
	}
	for _, j := range s.Sums {
		d.Sums = append(d.Sums, Sum{sumName(j), newJudgement(j)})
	}
	return d
}

// ThisProgram names the program of that version, with its method.
func ThisProgram(version string) Program {
	return Program{Name: "padband", Version: version, Method: calib.Method, Go: runtime.Version()}
}

func newReading(r calib.Reading) Reading {
	out := Reading{
		Analyte: r.Analyte.Name, Unit: r.Analyte.Unit, As: r.Analyte.As,
		Value: number(r.Value), Range: string(r.Range), Bracket: r.Bracket,
		Reliability: string(r.Reliability), Warnings: warnings(r.Warnings),
		Band: band(r.Band), WaterBand: band(r.WaterBand),
		Pad:    Pad{Lab: labs(r.Pad), DeltaE: number(r.DeltaEToScale)},
		Budget: []Share{}, Swatches: []Swatch{},
	}
	if r.Analyte.Kind == charts.KindPresence {
		yes := number(r.Yes)
		out.Presence = &yes
	}
	out.WaterBand.KitError = "stated"
	if r.KitAssumed {
		out.WaterBand.KitError = "assumed"
	}
	for _, s := range r.Swatches {
		out.Swatches = append(out.Swatches, Swatch{Value: s.Value, Lab: labs(s.Lab), DeltaE: number(s.DeltaE)})
	}
	for _, s := range r.Budget {
		out.Budget = append(out.Budget, Share{Source: s.Source, Steps: number(s.Steps)})
	}
	return out
}

func band(b calib.Band) *Band {
	out := &Band{Low: Bound(b.Low), High: Bound(b.High), Coverage: b.Coverage}
	for _, h := range b.Hills {
		out.Hills = append(out.Hills, [2]number{number(h[0]), number(h[1])})
	}
	return out
}

// Bound is a bound of a band as the file holds it: missing at an open end.
func Bound(b calib.Bound) number {
	if b.Open {
		return lines.Missing
	}
	return number(b.Value)
}

func warnings(ws []calib.Warning) []Warning {
	out := []Warning{}
	for _, w := range ws {
		out = append(out, Warning{Code: w.Code, Text: w.Text})
	}
	return out
}

func labs(v []colorimetry.Lab) [][3]number {
	out := [][3]number{}
	for _, c := range v {
		out = append(out, [3]number{number(c.L), number(c.A), number(c.B)})
	}
	return out
}
