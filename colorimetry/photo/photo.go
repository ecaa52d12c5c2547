// Package photo turns the bytes of one photo into an upright picture whose regions can
// be sampled in linear light, and gathers its facts. Start at [Decode], then call
// [Photo.Sample] for each region. The package opens no files, and knows nothing of
// strips, charts or marks.
//
// The stored picture stays in the decoder's own buffers. Only the pixels under a
// region are turned upright and have their colours converted.
package photo

import (
	"time"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// Limits caps what a photo may ask for, and carries a decoder that this package does
// not have itself. The zero value of a number means its default.
type Limits struct {
	Pixels int64 // width times height; default 200 million
	Bytes  int64 // size of the file; default 512 MiB

	// HEIC decodes HEIC photos; without one they are refused.
	HEIC HEICDecoder
}

func (l Limits) withDefaults() Limits {
	if l.Pixels <= 0 {
		l.Pixels = 200_000_000
	}
	if l.Bytes <= 0 {
		l.Bytes = 512 << 20
	}
	return l
}

// NoteCode names what a note says.
type NoteCode string

// These are the codes of the notes on a file.
const (
	NoteNoProfile          NoteCode = "no-profile"
	NoteProfileDropped     NoteCode = "profile-dropped"
	NoteOrientationUnknown NoteCode = "orientation-unknown"
	NoteFlash              NoteCode = "flash"
	NoteNoMarker           NoteCode = "no-marker"
)

// NoteCodes are the codes of all notes.
func NoteCodes() []NoteCode {
	return []NoteCode{NoteNoProfile, NoteProfileDropped, NoteOrientationUnknown, NoteFlash, NoteNoMarker}
}

// Note is something about the file that a person should know.
type Note struct {
	Code NoteCode
	Text string
}

// Facts are what the file says of itself.
type Facts struct {
	Format                    string // "JPEG", "PNG", "WebP", "TIFF" or "HEIC", from the bytes
	StoredWidth, StoredHeight int    // before the photo is turned upright
	Orientation               int    // EXIF 1-8; 0 when the file does not say; of a HEIC what its own boxes come to
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
	FNumber                   float64     // of the lens; 0 when absent
	LightSource               LightSource // what the camera took the light for
	SHA256                    string      // of the file's bytes, hex
}

// Photo is one decoded photo, upright. Its methods may be called from several
// goroutines at once.
type Photo struct {
	Width, Height int // upright
	Facts         Facts
	Notes         []Note

	read   pixelReader
	half   float64 // half a code step, in channels from 0 to 1
	turn   upright
	colour *profile.Transform
	chroma int                  // widest step between colour samples, pixels
	want   []colorimetry.Region // what was decoded; nil is all
}
