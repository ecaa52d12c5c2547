package charts

import (
	"strings"

	"padband/charts/strict"
	"padband/colorimetry"
)

// Role says what a mark marks.
type Role string

// Roles.
const (
	RolePad    Role = "pad"
	RoleSwatch Role = "swatch"
	RoleWhite  Role = "white"
	// RoleWetWhite is something absorbent and white that the same water has soaked: it
	// shows the water's own colour.
	RoleWetWhite Role = "wet-white"
)

// ofWhite reports whether the role is of a white area, which belongs to no analyte.
func (r Role) ofWhite() bool { return r == RoleWhite || r == RoleWetWhite }

// Mark is one marked region of a photo (or, in a layout, of the unit square).
type Mark struct {
	Role     Role
	Analyte  string
	Part     int // 1 and up; 0 for whites
	Value    float64
	Material string
	Region   colorimetry.Region
}

// Marks is where things are in one photo.
type Marks struct {
	Format  int
	Photo   PhotoRef
	Chart   string
	Corners []colorimetry.Point // four, clockwise from the chart's top left, or none
	Regions []Mark
	Sample  SampleInfo
	// Unchecked is true of marks that the program found and nobody has looked at.
	Unchecked bool
	Looked    *Looked // nil where nobody said so, as of marks that a person drew
	// Asked names the questions about these outlines that nobody has answered: which end
	// of a row is the lowest, which row is which. Looking at the outlines is no answer.
	Asked []string
}

// Looked says who looked at outlines that the program found, and took them for right.
type Looked struct {
	By    string   // the person's name; empty where it is not known
	At    string   // an RFC 3339 time with its offset
	Moved []string // the outlines that the person moved, such as "pad nitrate"
}

// PhotoRef ties marks to their photo. Zero fields are not checked.
type PhotoRef struct {
	Width, Height int
	SHA256        string // 64 hexadecimal digits, lower case
}

// SampleInfo is what the person says of the sample; every field may be empty. Taken
// and Dipped are RFC 3339 times with their offset. Reader is the name of who dipped
// the strip and read it, as marks files call that person; the facts of a record call
// the same person Tester.
type SampleInfo struct {
	Place, Point, Reader, Taken, Dipped, Strip, Dilution, Note string
	Kit                                                        Kit
	// BleachRuledOut is true where the person says that nothing smells of chlorine and
	// nothing was treated, so that a pad without colour shows that there is nothing.
	BleachRuledOut bool
	Light          Lamp
	Water          Water
}

// Kit is the bottle the strip came from. Expires is a month (2027-05) or a
// day (2027-05-31), see [ParseExpiry]; Opened is a day.
type Kit struct{ Lot, Expires, Opened string }

// points are the places a sample may be taken at.
var points = []string{"tap", "raw", "after treatment", "bypass"}

// Caps on what a marks file may hold.
const (
	maxRegions = 2048
	maxAsked   = 16
	maxPixels  = 1_000_000 // a photo's width or height
)

// ParseMarks reads a marks file (format 1). Part is 1 where a pad or a swatch
// says none. It is as strict as [ParseChart], and its errors are
// [*FileError] too. What only the chart or the photo can tell is checked by
// [Marks.Place] and [Marks.CheckPhoto].
func ParseMarks(data []byte) (Marks, error) {
	root, err := strict.Parse(data)
	if err != nil {
		return Marks{}, err
	}
	d := &strict.Decoder{}
	m := readMarks(d, root)
	if d.Err != nil {
		return Marks{}, d.Err
	}
	return m, nil
}

func readMarks(d *strict.Decoder, v *strict.Value) Marks {
	f, format := d.File(v, "photo", "chart", "checked", "looked", "asked", "corners", "regions", "sample")
	m := Marks{Format: format}
	if p := f.By["photo"]; p != nil {
		m.Photo = readPhoto(d, p)
	}
	if f.By["chart"] != nil {
		m.Chart = f.FileName("chart")
	}
	m.Unchecked = f.By["checked"] != nil && !f.Truth("checked")
	if l := f.By["looked"]; l != nil {
		m.Looked = readLooked(d, l)
		if m.Unchecked {
			d.Fail(l.Path(), "remove one of the two", "says who looked at the marks, and \"checked\" says that nobody did")
		}
	}
	for _, item := range f.List("asked", maxAsked) {
		m.Asked = append(m.Asked, d.Name(item))
	}
	if c := f.By["corners"]; c != nil {
		m.Corners = readCorners(d, c)
	}
	for _, item := range f.List("regions", maxRegions) {
		m.Regions = append(m.Regions, readMark(d, item))
	}
	if d.Err == nil {
		refuseRepeats(d, m.Regions)
	}
	if s := f.By["sample"]; s != nil {
		m.Sample = readSample(d, s)
	}
	return m
}

func readPhoto(d *strict.Decoder, v *strict.Value) PhotoRef {
	f := d.Object(v, "width", "height", "sha256")
	p := PhotoRef{Width: f.Whole("width", 1, maxPixels, 0), Height: f.Whole("height", 1, maxPixels, 0)}
	if s := f.By["sha256"]; s != nil {
		p.SHA256 = strings.ToLower(d.Text(s, strict.MaxName))
		if len(p.SHA256) != 64 || strings.Trim(p.SHA256, "0123456789abcdef") != "" {
			d.Fail(s.Path(), "write the photo's SHA-256 in 64 hexadecimal digits, or remove it", "is %s", strict.Quote(s.Text))
		}
	}
	return p
}

// readLooked reads who looked at the marks.
func readLooked(d *strict.Decoder, v *strict.Value) *Looked {
	f := d.Object(v, "by", "at", "moved")
	l := &Looked{By: f.Label("by"), At: f.Moment("at")}
	if at := f.Need("at"); at != nil && at.EmptyText() {
		f.Fail(at.Path(), "write when it was, such as 2026-11-25T14:03:10-05:00", "is empty")
	}
	for _, item := range f.List("moved", maxRegions) {
		l.Moved = append(l.Moved, d.Text(item, strict.MaxLine))
	}
	return l
}

// readMark reads one region with what it marks.
func readMark(d *strict.Decoder, v *strict.Value) Mark {
	f := d.Object(v, "role", "analyte", "part", "value", "material", "polygon", "rect", "circle")
	f.Need("role")
	m := Mark{Role: Role(f.Choice("role", "", string(RolePad), string(RoleSwatch), string(RoleWhite), string(RoleWetWhite)))}
	switch m.Role {
	case RoleWhite, RoleWetWhite:
		refuseFields(f, "analyte", "part", "value")
		m.Material = f.Label("material")
	case RolePad:
		refuseFields(f, "value", "material")
	case RoleSwatch:
		refuseFields(f, "material")
		m.Value = readConcentration(f, "value")
	}
	if !m.Role.ofWhite() {
		m.Analyte = d.Name(f.Need("analyte"))
		m.Part = f.Whole("part", 1, maxParts, 1)
	}
	m.Region = readRegion(f)
	return m
}

// refuseFields refuses fields that mean nothing for the region's role.
func refuseFields(f strict.Fields, names ...string) {
	for _, name := range names {
		if v := f.By[name]; v != nil {
			f.Fail(v.Path(), "remove it or mend the role", "is no field of a %s", f.By["role"].Text)
		}
	}
}

// refuseRepeats refuses marks that mark the same thing.
func refuseRepeats(d *strict.Decoder, marks []Mark) {
	for i, m := range marks {
		for j, other := range marks[:i] {
			if !m.Role.ofWhite() && m.Role == other.Role && m.Analyte == other.Analyte && m.Part == other.Part && sameValue(m.Value, other.Value) {
				d.Fail(region(i), "keep one of them", "marks %s, as does %s", m.label(), region(j))
				return
			}
		}
	}
}

func readSample(d *strict.Decoder, v *strict.Value) SampleInfo {
	f := d.Object(v, "place", "point", "reader", "taken", "dipped", "strip", "dilution", "kit", "note", "bleach_ruled_out", "light", "water")
	s := SampleInfo{
		Place: f.Line("place"), Reader: f.Line("reader"), Strip: f.Line("strip"), Dilution: f.Line("dilution"), Note: f.Prose("note"),
		Taken: f.Moment("taken"), Dipped: f.Moment("dipped"), BleachRuledOut: f.Truth("bleach_ruled_out"),
	}
	s.Light, s.Water = Lamp(choice(f, "light", texts(Lamps()))), Water(choice(f, "water", texts(Waters())))
	s.Point = choice(f, "point", points)
	if k := f.By["kit"]; k != nil {
		g := d.Object(k, "lot", "expires", "opened")
		s.Kit = Kit{Lot: g.Label("lot"), Expires: readExpiry(g, "expires"), Opened: g.Day("opened")}
	}
	return s
}

// choice is one of some words, "" where the field is absent or empty.
func choice(f strict.Fields, name string, words []string) string {
	if v := f.By[name]; v == nil || v.EmptyText() {
		return ""
	}
	return f.Choice(name, "", words...)
}

// readCorners reads the chart's four corners, clockwise from its top left. None is allowed.
func readCorners(d *strict.Decoder, v *strict.Value) []colorimetry.Point {
	var points []colorimetry.Point
	for _, item := range d.Items(v, 4) {
		points = append(points, readPoint(d, item))
	}
	if len(points) == 0 || d.Err != nil {
		return nil
	}
	if why := cornerFault(points); why != "" {
		d.Fail(v.Path(), cornerOrder, "%s", why)
	}
	return points
}

const cornerOrder = "give the chart's top left, top right, bottom right and bottom left, in this order"

// cornerFault says what is wrong with four corners or their order; with y
// down, clockwise turns have positive cross products.
func cornerFault(p []colorimetry.Point) string {
	if len(p) != 4 {
		return "are " + count(len(p), "point") + ", not four"
	}
	left, right := 0, 0
	for i := range 4 {
		a, b, c := p[i], p[(i+1)%4], p[(i+2)%4]
		cross := (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X)
		if cross > 0 {
			right++
		} else if cross < 0 {
			left++
		}
	}
	switch {
	case right == 4:
		return ""
	case left == 4:
		return "run anticlockwise, so that the chart would be mirrored"
	case left == 2 && right == 2:
		return "are crossed: their sides cut each other"
	}
	return "make no four-cornered outline: three lie on a line, or one lies within the others"
}
