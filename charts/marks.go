package charts

import "padband/colorimetry"

// Role says what a mark marks.
type Role string

// Roles.
const (
	RolePad    Role = "pad"
	RoleSwatch Role = "swatch"
	RoleWhite  Role = "white"
)

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
}

// PhotoRef ties marks to their photo. Zero fields are not checked.
type PhotoRef struct {
	Width, Height int
	SHA256        string // 64 hexadecimal digits, lower case
}

// SampleInfo is what the person says of the sample; every field may be empty.
// Taken and Dipped are RFC 3339 times with their offset.
type SampleInfo struct {
	Place, Point, Reader, Taken, Dipped, Strip, Dilution, Note string
	Kit                                                        Kit
}

// Kit is the bottle the strip came from. Expires is a month (2027-05) or a
// day (2027-05-31), see [ParseExpiry]; Opened is a day.
type Kit struct{ Lot, Expires, Opened string }

// points are the places a sample may be taken at.
var points = []string{"tap", "raw", "after treatment", "bypass"}
