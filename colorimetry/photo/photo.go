// Package photo turns the bytes of one photo into an upright picture whose
// regions can be sampled in linear light, and gathers its facts.
package photo

import (
	"errors"
	"image"
	"time"

	"padband/colorimetry"
)

// Limits caps what a photo may ask for. The zero value of a field means its default.
type Limits struct {
	Pixels int64 // width times height; default 200 million
	Bytes  int64 // size of the file; default 512 MiB
}

// Note is something about the file that a person should know.
type Note struct{ Code, Text string }

// Facts is what the file says of itself.
type Facts struct {
	Format                    string // "JPEG" or "PNG", from the bytes
	StoredWidth, StoredHeight int    // before turning
	Orientation               int    // EXIF 1-8; 0 when the file does not say
	Depth                     int    // bits per channel as stored
	Profile                   string // "sRGB", "Display P3", a profile's own description, or "none, taken as sRGB"
	ProfileSHA256             string // hex; empty without an embedded profile
	ProfileAssumed            bool   // no usable profile: colours taken as sRGB
	Taken                     string // EXIF DateTimeOriginal as "2006-01-02T15:04:05", with offset when the file has it; empty when absent
	TakenTime                 time.Time
	TakenHasOffset            bool
	Make, Model, Software     string
	Flash                     bool // EXIF says the flash fired
	HasPosition               bool // GPS tags are present
	ExposureSeconds           float64
	ISO                       int
	SHA256                    string // of the file's bytes, hex
}

// Photo is one decoded photo, upright.
type Photo struct {
	Width, Height int // upright
	Facts         Facts
	Notes         []Note // codes: no-profile, profile-dropped, flash, orientation-unknown, no-marker, ...
	// unexported: the stored image, orientation, colour transform
}

// Decode reads one photo. (Stub.)
func Decode(data []byte, limits Limits) (*Photo, error) { return nil, errors.New("stub") }

// Sample measures one region. (Stub.)
func (p *Photo) Sample(r colorimetry.Region) (colorimetry.Sample, error) {
	return colorimetry.Sample{}, errors.New("stub")
}

// Image returns the upright picture for people to look at, in sRGB; never for measuring. (Stub.)
func (p *Photo) Image(area image.Rectangle) image.Image { return nil }
