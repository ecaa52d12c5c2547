package charts

import (
	"bytes"
	"encoding/json"
	"slices"

	"padband/charts/strict"
)

// PrintColours are how the swatches of one bottle's chart looked in good light, as a
// photo showed them. They are a witness and never a scale: no reading is made from
// them, but a photo whose swatches do not look so is doubted.
type PrintColours struct {
	Lot      string // of the kit
	Day      string // of the photo, such as "2026-11-25"
	Light    Lamp   // [LampDaylight]
	Camera   string // maker and model, as the photo's file names them; empty when it does not
	Swatches []PrintColour
}

// PrintColour is one swatch, or one part of it: CIELAB under D50 relative to the white
// beside it, and the standard deviation of each.
type PrintColour struct {
	Analyte string
	Value   float64
	Part    int // from 1
	Lab, SD [3]float64
}

// Caps on what a chart may remember.
const (
	maxLots     = 32
	mostL       = 150 // a swatch brighter than its white passes 100
	mostAB      = 200
	mostSpread  = 100
	memoryField = "print_colours"
)

// Plain is the chart without what it remembers: two charts that differ in nothing else
// are one chart.
func (c Chart) Plain() Chart {
	c.Remembered = nil
	return c
}

// Of returns what is remembered of a lot; ok is false where nothing is.
func (c Chart) Of(lot string) (p PrintColours, ok bool) {
	i := slices.IndexFunc(c.Remembered, func(p PrintColours) bool { return p.Lot == lot })
	if i < 0 {
		return p, false
	}
	return c.Remembered[i], true
}

// readMemory reads what a chart remembers. Its lots differ, and each swatch is the
// chart's own and stands there once.
func readMemory(d *strict.Decoder, v *strict.Value, c Chart) (out []PrintColours) {
	for _, item := range d.Items(v, maxLots) {
		f := d.Object(item, "lot", "day", "light", "camera", "swatches")
		p := PrintColours{Lot: d.Name(f.Need("lot")), Camera: f.Label("camera")}
		if day := f.Need("day"); day != nil && day.EmptyText() {
			d.Fail(day.Path(), "write the day of the photo, such as 2026-11-25", "is empty")
		}
		f.Need("light")
		p.Day = f.Day("day")
		p.Light = Lamp(f.Choice("light", string(LampDaylight), string(LampDaylight)))
		if j := slices.IndexFunc(out, func(o PrintColours) bool { return o.Lot == p.Lot }); j >= 0 {
			d.Fail(item.Path()+".lot", "keep one of them", "is %s, as is %s[%d]", strict.Quote(p.Lot), v.Path(), j)
		}
		if s := f.Need("swatches"); s != nil {
			p.Swatches = readPrints(d, s, c)
		}
		if d.Err != nil {
			return nil
		}
		out = append(out, p)
	}
	return out
}

// readPrints reads the swatches of one lot.
func readPrints(d *strict.Decoder, v *strict.Value, c Chart) (out []PrintColour) {
	seen := map[cell]int{}
	for i, item := range d.Items(v, maxCells) {
		f := d.Object(item, "analyte", "value", "part", "lab", "sd")
		p := PrintColour{Analyte: d.Name(f.Need("analyte")), Value: readConcentration(f, "value"), Part: f.Whole("part", 1, maxParts, 1)}
		p.Lab = readThree(d, f.Need("lab"), [3][2]float64{{0, mostL}, {-mostAB, mostAB}, {-mostAB, mostAB}})
		p.SD = readThree(d, f.Need("sd"), [3][2]float64{{0, mostSpread}, {0, mostSpread}, {0, mostSpread}})
		if d.Err != nil {
			return nil
		}
		k, err := c.cell(Mark{Role: RoleSwatch, Analyte: p.Analyte, Value: p.Value, Part: p.Part}, item.Path())
		if err != nil {
			d.Err = err
			return nil
		}
		if j, twice := seen[k]; twice {
			d.Fail(item.Path(), "keep one of them", "is the same swatch as %s[%d]", v.Path(), j)
		}
		seen[k], out = i, append(out, p)
	}
	if len(out) == 0 {
		d.Fail(v.Path(), "add the swatches", "holds no swatch")
	}
	return out
}

// readThree reads three numbers within their bounds.
func readThree(d *strict.Decoder, v *strict.Value, within [3][2]float64) (out [3]float64) {
	if d.Err != nil {
		return out
	}
	items := d.Items(v, 3)
	if len(items) != 3 {
		d.Fail(v.Path(), "write three: of L*, a* and b*", "holds %d numbers, not three", len(items))
		return out
	}
	for i, item := range items {
		out[i] = d.Number(item)
		if !(within[i][0] <= out[i] && out[i] <= within[i][1]) {
			d.Fail(item.Path(), "write "+strict.Figure(within[i][0])+" to "+strict.Figure(within[i][1]), "is %s", strict.Figure(out[i]))
		}
	}
	return out
}

// Remember returns a chart's file that remembers these colours too, in the place of
// those of the same lot. What else stands in the file stays as it is, to the byte.
func Remember(file []byte, p PrintColours) ([]byte, error) {
	c, err := ParseChart(file)
	if err != nil {
		return nil, err
	}
	kept := slices.DeleteFunc(c.Remembered, func(o PrintColours) bool { return o.Lot == p.Lot })
	list, err := json.Marshal(memoryFiles(append(kept, p)))
	if err != nil {
		return nil, err
	}
	file = Forget(file)
	_, at, _ := member(file, "")
	var out bytes.Buffer
	out.Write(file[:at])
	out.WriteString(",\n  \"" + memoryField + "\": ")
	if err := spread(&out, list, "  "); err != nil {
		return nil, err
	}
	out.Write(file[at:])
	_, err = ParseChart(out.Bytes())
	return out.Bytes(), err
}

// Forget returns a chart's file without what it remembers: of a file that [Remember]
// made, the file that it was made from. Files that are none come back as they are.
func Forget(file []byte) []byte {
	from, to, ok := member(file, memoryField)
	if !ok {
		return file
	}
	return slices.Concat(file[:from], file[to:])
}

// member finds a member of the object that a file holds: from the end of the member
// before it, so that the comma goes with it, or with the comma after it where it is the
// first. With no name, to is the end of the last member.
func member(file []byte, name string) (from, to int, ok bool) {
	d := json.NewDecoder(bytes.NewReader(file))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return 0, 0, false
	}
	for first := true; d.More(); first = false {
		from = int(d.InputOffset())
		key, err := d.Token()
		var value json.RawMessage
		if err != nil || d.Decode(&value) != nil {
			return 0, 0, false
		}
		to = int(d.InputOffset())
		if key != name || name == "" {
			continue
		}
		if first && d.More() {
			to += bytes.IndexByte(file[to:], ',') + 1
		}
		return from, to, true
	}
	return from, to, name == ""
}

// The memory as it is written.
type (
	memoryFile struct {
		Lot      string      `json:"lot"`
		Day      string      `json:"day"`
		Light    Lamp        `json:"light"`
		Camera   string      `json:"camera,omitempty"`
		Swatches []printFile `json:"swatches"`
	}
	printFile struct {
		Analyte string     `json:"analyte"`
		Value   float64    `json:"value"`
		Part    int        `json:"part,omitempty"`
		Lab     [3]float64 `json:"lab"`
		SD      [3]float64 `json:"sd"`
	}
)

func memoryFiles(all []PrintColours) (out []memoryFile) {
	for _, p := range all {
		f := memoryFile{Lot: p.Lot, Day: p.Day, Light: p.Light, Camera: p.Camera}
		for _, s := range p.Swatches {
			f.Swatches = append(f.Swatches, printFile(s))
		}
		out = append(out, f)
	}
	return out
}
