package report

import (
	"fmt"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// PooledSource is what the report of a pool is made from.
type PooledSource struct {
	Strips      bool // whether it is several strips of one sample, and not photos of one strip
	Files       []string
	Hashes      []string
	ChartSHA256 string
	Version     string
	Chart       charts.Chart
	Readings    []PooledReading
	Notes       []string
}

// PooledReading is the pooled reading of one analyte, with the names of its photos.
type PooledReading struct {
	calib.Reading
	Meaning  strip.Meaning
	Scatter  float64
	Photos   []string
	LeftOut  []LeftOut
	Disagree []string
	Undated  bool
}

// LeftOut is a photo that did not go into the pool, and why.
type LeftOut struct {
	File string     `json:"file"`
	Code calib.Code `json:"code,omitempty"`
	Why  string     `json:"why"`
}

// PooledOf is a pooled reading with its photos' names for their indices.
func PooledOf(p strip.Pooled, files []string) PooledReading {
	r := PooledReading{Reading: p.Reading, Scatter: p.Scatter, Undated: p.Undated}
	for _, i := range p.Photos {
		r.Photos = append(r.Photos, files[i])
	}
	for _, i := range p.Disagree {
		r.Disagree = append(r.Disagree, files[i])
	}
	for _, l := range p.LeftOut {
		r.LeftOut = append(r.LeftOut, LeftOut{File: files[l.Photo], Code: l.Code, Why: l.Why})
	}
	return r
}

// pooledKind names what was pooled.
func pooledKind(strips bool) string {
	if strips {
		return "several strips of one sample"
	}
	return "photos of one strip"
}

// PooledText returns the pooled readings as text for people.
func PooledText(s PooledSource) string {
	var b strings.Builder
	lines.Paragraph(&b, "", fmt.Sprintf("Pooled from %d %s", len(s.Files), strings.TrimPrefix(pooledKind(s.Strips), "several ")))
	lines.Paragraph(&b, "  ", strings.Join(s.Files, ", "))
	for _, r := range s.Readings {
		b.WriteString("\n" + padText(r.Reading, calib.LightReport{Reliability: calib.Good}, r.Meaning))
		lines.Wrap(&b, "  - ", "    ", scatter(r, s))
		for _, l := range r.LeftOut {
			text := fmt.Sprintf("Left out: %s, %s.", l.File, l.Why)
			if l.Code != "" {
				text += " [" + string(l.Code) + "]"
			}
			lines.Wrap(&b, "  - ", "    ", text)
		}
		for _, f := range r.Disagree {
			lines.Wrap(&b, "  - ", "    ", fmt.Sprintf("%s disagrees with the others: look at its light and its marks, or "+
				"leave it out.", f))
		}
	}
	if undated(s.Readings) || len(s.Notes) > 0 {
		b.WriteString("\nThe photos\n")
	}
	if undated(s.Readings) {
		lines.Wrap(&b, "  - ", "    ", "No dip time stands in the marks of some photos, so it is not checked whether they "+
			"were taken within the read window. [no-dip-time]")
	}
	for _, n := range s.Notes {
		lines.Wrap(&b, "  - ", "    ", n)
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", pooledMeaning(s.Strips))
	return b.String()
}

// scatter says how far the photos lie apart. Where not all photos went in, it names
// those that did.
func scatter(r PooledReading, s PooledSource) string {
	who := "The photos"
	if len(r.Photos) != len(s.Files) {
		who = "From " + strings.Join(r.Photos, ", ") + ": they"
	}
	if len(r.Disagree) > 0 {
		return who + " differ by more than their own errors allow."
	}
	return fmt.Sprintf("%s scatter by %.2f of a step beyond their own errors.", who, r.Scatter)
}

// undated reports whether the dip time of any photo is not known.
func undated(rs []PooledReading) bool {
	for _, r := range rs {
		if r.Undated {
			return true
		}
	}
	return false
}

// pooledMeaning says which errors pooling makes smaller, and which stay as they are.
func pooledMeaning(strips bool) string {
	if strips {
		return "Pooling strips narrows what differs from strip to strip. What all strips of a lot and all photos of a " +
			"chart share stays: print, dye against ink, the kit's error."
	}
	return "Pooling photos narrows the error of reading the colour alone, and of that only what differs from photo to " +
		"photo. The strip's own error stays whole in what the water may be."
}

// pooledDocument is a pool as its JSON holds it.
type pooledDocument struct {
	Format   int                 `json:"format"`
	Pooled   string              `json:"pooled"`
	Photos   []pooledPhoto       `json:"photos"`
	Chart    reading.Chart       `json:"chart"`
	Readings []pooledReadingJSON `json:"readings"`
	Notes    []string            `json:"notes,omitempty"`
	Program  reading.Program     `json:"program"`
}

// pooledPhoto is a photo of the pool.
type pooledPhoto struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

// pooledReadingJSON is one analyte of the pool.
type pooledReadingJSON struct {
	Analyte     string              `json:"analyte"`
	Unit        string              `json:"unit"`
	As          string              `json:"as,omitempty"`
	Value       reading.Figure      `json:"value"`
	Band        *reading.Band       `json:"band"`
	WaterBand   *reading.Band       `json:"water_band"`
	Range       string              `json:"range"`
	Bracket     [2]float64          `json:"bracket"`
	Reliability string              `json:"reliability"`
	Scatter     reading.Figure      `json:"scatter_steps"`
	Photos      []string            `json:"photos"`
	LeftOut     []LeftOut           `json:"left_out"`
	Disagree    []string            `json:"disagree"`
	Undated     bool                `json:"no_dip_time"`
	Warnings    []reading.Warning   `json:"warnings,omitempty"`
	InUnits     []reading.Converted `json:"in_units,omitempty"`
	Judgement   *reading.Judgement  `json:"judgement,omitempty"`
	Further     []reading.Judgement `json:"further_judgements,omitempty"`
}

// NewPooled builds the JSON document of a pool.
func NewPooled(s PooledSource) any {
	d := pooledDocument{Format: reading.Format, Pooled: pooledKind(s.Strips), Notes: s.Notes, Program: reading.ProgramOf(s.Version),
		Chart: reading.Chart{Name: s.Chart.Name, Version: s.Chart.Version, SHA256: s.ChartSHA256}, Readings: []pooledReadingJSON{}}
	for i, f := range s.Files {
		d.Photos = append(d.Photos, pooledPhoto{f, s.Hashes[i]})
	}
	for _, r := range s.Readings {
		one := reading.OfPad(r.Reading, r.Meaning)
		d.Readings = append(d.Readings, pooledReadingJSON{
			Analyte: one.Analyte, Unit: one.Unit, As: one.As, Value: one.Value, Band: one.Band, WaterBand: one.WaterBand,
			Range: string(one.Range), Bracket: one.Bracket, Reliability: string(one.Reliability),
			Scatter: reading.Figure(r.Scatter), Photos: r.Photos,
			LeftOut: append([]LeftOut{}, r.LeftOut...), Disagree: append([]string{}, r.Disagree...), Undated: r.Undated, Warnings: one.Warnings,
			InUnits: one.InUnits, Judgement: one.Judgement, Further: one.Further,
		})
	}
	return d
}
