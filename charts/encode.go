package charts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"padband/charts/strict"
	"padband/colorimetry"
)

// The files as they are written; what is empty is left out.
type (
	chartFile struct {
		Format      int           `json:"format"`
		Chart       string        `json:"chart"`
		Version     string        `json:"version,omitempty"`
		Title       string        `json:"title,omitempty"`
		Note        string        `json:"note,omitempty"`
		Handling    []string      `json:"handling,omitempty"`
		KitLifeDays int           `json:"kit_life_days,omitempty"`
		Analytes    []analyteFile `json:"analytes"`
		Strip       []string      `json:"strip,omitempty"`
		Layout      *layoutFile   `json:"layout,omitempty"`
		Remembered  []memoryFile  `json:"print_colours,omitempty"`
	}
	analyteFile struct {
		Name       string        `json:"name"`
		Unit       string        `json:"unit,omitempty"`
		As         string        `json:"as,omitempty"`
		RespondsTo []string      `json:"responds_to,omitempty"`
		Kind       Kind          `json:"kind,omitempty"`
		Spacing    Spacing       `json:"spacing,omitempty"`
		Parts      int           `json:"parts,omitempty"`
		ReadWindow *[2]float64   `json:"read_window_s,omitempty"`
		KitError   *kitErrorFile `json:"kit_error,omitempty"`
		Palest     Palest        `json:"palest,omitempty"`
		SpoiledBy  []spoilerFile `json:"spoiled_by,omitempty"`
		Swatches   []swatchFile  `json:"swatches"`
	}
	kitErrorFile struct {
		Steps  float64 `json:"steps"`
		Source string  `json:"source,omitempty"`
	}
	spoilerFile struct {
		Analyte string   `json:"analyte"`
		Over    float64  `json:"over"`
		How     SpoilHow `json:"how"`
		Source  string   `json:"source"`
	}
	swatchFile struct {
		Value float64 `json:"value"`
		Label string  `json:"label,omitempty"`
	}
	layoutFile struct {
		Cells []markFile `json:"cells"`
	}
	markFile struct {
		Role     Role         `json:"role"`
		Analyte  string       `json:"analyte,omitempty"`
		Value    *float64     `json:"value,omitempty"`
		Part     int          `json:"part,omitempty"`
		Material string       `json:"material,omitempty"`
		Polygon  [][2]float64 `json:"polygon,omitempty"`
		Rect     []float64    `json:"rect,omitempty"`
		Circle   []float64    `json:"circle,omitempty"`
	}
	marksFile struct {
		Format  int          `json:"format"`
		Photo   *photoFile   `json:"photo,omitempty"`
		Chart   string       `json:"chart,omitempty"`
		Checked *bool        `json:"checked,omitempty"`
		Looked  *lookedFile  `json:"looked,omitempty"`
		Asked   []string     `json:"asked,omitempty"`
		Corners [][2]float64 `json:"corners,omitempty"`
		Regions []markFile   `json:"regions"`
		Sample  *sampleFile  `json:"sample,omitempty"`
	}
	lookedFile struct {
		By    string   `json:"by,omitempty"`
		At    string   `json:"at"`
		Moved []string `json:"moved,omitempty"`
	}
	photoFile struct {
		Width  int    `json:"width,omitempty"`
		Height int    `json:"height,omitempty"`
		SHA256 string `json:"sha256,omitempty"`
	}
	sampleFile struct {
		Place    string   `json:"place,omitempty"`
		Point    string   `json:"point,omitempty"`
		Reader   string   `json:"reader,omitempty"`
		Taken    string   `json:"taken,omitempty"`
		Dipped   string   `json:"dipped,omitempty"`
		Strip    string   `json:"strip,omitempty"`
		Dilution string   `json:"dilution,omitempty"`
		Kit      *kitFile `json:"kit,omitempty"`
		Note     string   `json:"note,omitempty"`

		BleachRuledOut bool  `json:"bleach_ruled_out,omitempty"`
		Light          Lamp  `json:"light,omitempty"`
		Water          Water `json:"water,omitempty"`
	}
	kitFile struct {
		Lot     string `json:"lot,omitempty"`
		Expires string `json:"expires,omitempty"`
		Opened  string `json:"opened,omitempty"`
	}
)

// Encode returns the chart as a file that [ParseChart] reads back to the same
// chart. A chart that it would refuse is an error.
func (c Chart) Encode() ([]byte, error) {
	f := chartFile{
		Format: 1, Chart: c.Name, Version: c.Version, Title: c.Title, Note: c.Note,
		Handling: c.Handling, KitLifeDays: c.KitLifeDays, Analytes: []analyteFile{}, Strip: c.Strip,
		Remembered: memoryFiles(c.Remembered),
	}
	for _, a := range c.Analytes {
		f.Analytes = append(f.Analytes, a.file())
	}
	if len(c.Layout) > 0 {
		f.Layout = &layoutFile{Cells: markFiles(c.Layout)}
	}
	data, err := encode(f)
	if err == nil {
		_, err = ParseChart(data)
	}
	if err != nil {
		return nil, fmt.Errorf("chart %s: %w", strict.Quote(c.Name), err)
	}
	return data, nil
}

func (a Analyte) file() analyteFile {
	f := analyteFile{
		Name: a.Name, Unit: a.Unit, As: a.As, RespondsTo: a.RespondsTo, Kind: a.Kind, Spacing: a.Spacing,
		Parts: a.Parts, ReadWindow: a.ReadWindow, Palest: a.Palest, Swatches: []swatchFile{},
	}
	if a.KitError != nil {
		f.KitError = &kitErrorFile{Steps: a.KitError.Steps, Source: a.KitError.Source}
	}
	for _, s := range a.SpoiledBy {
		f.SpoiledBy = append(f.SpoiledBy, spoilerFile(s))
	}
	for _, s := range a.Swatches {
		f.Swatches = append(f.Swatches, swatchFile(s))
	}
	return f
}

// Encode returns the marks as a file that [ParseMarks] reads back to the same
// marks. Marks that it would refuse are an error.
func (m Marks) Encode() ([]byte, error) {
	f := marksFile{Format: 1, Chart: m.Chart, Corners: pairs(m.Corners), Regions: markFiles(m.Regions), Asked: m.Asked}
	if m.Unchecked {
		f.Checked = new(bool)
	}
	if l := m.Looked; l != nil {
		f.Looked = &lookedFile{By: l.By, At: l.At, Moved: l.Moved}
	}
	if m.Photo != (PhotoRef{}) {
		f.Photo = &photoFile{Width: m.Photo.Width, Height: m.Photo.Height, SHA256: m.Photo.SHA256}
	}
	if s := m.Sample; s != (SampleInfo{}) {
		f.Sample = &sampleFile{
			Place: s.Place, Point: s.Point, Reader: s.Reader, Taken: s.Taken, Dipped: s.Dipped,
			Strip: s.Strip, Dilution: s.Dilution, Note: s.Note, BleachRuledOut: s.BleachRuledOut, Light: s.Light, Water: s.Water,
		}
		if s.Kit != (Kit{}) {
			f.Sample.Kit = &kitFile{Lot: s.Kit.Lot, Expires: s.Kit.Expires, Opened: s.Kit.Opened}
		}
	}
	data, err := encode(f)
	if err == nil {
		_, err = ParseMarks(data)
	}
	if err != nil {
		return nil, fmt.Errorf("marks: %w", err)
	}
	return data, nil
}

func markFiles(marks []Mark) []markFile {
	files := []markFile{}
	for _, m := range marks {
		f := markFile{Role: m.Role, Analyte: m.Analyte, Part: m.Part, Material: m.Material}
		if m.Role == RoleSwatch {
			f.Value = &m.Value
		}
		p := pairs(m.Region.Points)
		switch {
		case m.Region.Shape == colorimetry.Rect && len(p) == 2:
			f.Rect = append(p[0][:], p[1][:]...)
		case m.Region.Shape == colorimetry.Circle && len(p) == 1:
			f.Circle = append(p[0][:], m.Region.Radius)
		default:
			f.Polygon = p
		}
		files = append(files, f)
	}
	return files
}

func pairs(points []colorimetry.Point) [][2]float64 {
	var all [][2]float64
	for _, p := range points {
		all = append(all, [2]float64{p.X, p.Y})
	}
	return all
}

// encode writes JSON to be read by people: what fits on a line stays on it.
func encode(file any) ([]byte, error) {
	var plain bytes.Buffer
	e := json.NewEncoder(&plain)
	e.SetEscapeHTML(false)
	if err := e.Encode(file); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := spread(&out, bytes.TrimSpace(plain.Bytes()), ""); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// lineWidth is how long a list or an object may be to stay on one line.
const lineWidth = 150

// spread writes compact JSON with the containers that are too long for a line
// broken into one line an item.
func spread(out *bytes.Buffer, compact []byte, indent string) error {
	if len(compact) <= lineWidth && indent != "" || compact[0] != '{' && compact[0] != '[' {
		out.Write(airy(compact))
		return nil
	}
	d := json.NewDecoder(bytes.NewReader(compact))
	open, err := d.Token()
	if err != nil {
		return err
	}
	fmt.Fprint(out, open)
	for first := true; d.More(); first = false {
		if !first {
			out.WriteByte(',')
		}
		out.WriteString("\n" + indent + "  ")
		var item json.RawMessage
		if compact[0] == '{' {
			name, err := d.Token()
			if err != nil {
				return err
			}
			fmt.Fprintf(out, "%q: ", name)
		}
		if err := d.Decode(&item); err != nil {
			return err
		}
		if err := spread(out, item, indent+"  "); err != nil {
			return err
		}
	}
	out.WriteString("\n" + indent + strings.Map(closing, fmt.Sprint(open)))
	return nil
}

func closing(r rune) rune { return r + 2 } // '[' to ']', '{' to '}'

// airy puts a space after the commas and colons of compact JSON that stand
// outside texts.
func airy(compact []byte) []byte {
	var out []byte
	text, escaped := false, false
	for _, c := range compact {
		out = append(out, c)
		switch {
		case escaped:
			escaped = false
		case text && c == '\\':
			escaped = true
		case c == '"':
			text = !text
		case !text && (c == ',' || c == ':'):
			out = append(out, ' ')
		}
	}
	return out
}
