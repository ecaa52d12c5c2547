package photo

import (
	"bytes"
	"strings"
	"time"
	"unicode"

	"github.com/bep/imagemeta"
)

// These limits hold for what is read from Exif. A JPEG segment holds under 64 KiB; a
// PNG chunk may be no larger here.
const (
	maxExif     = 64 << 10
	maxExifTags = 4000
	maxExifTag  = 1024 // bytes of one value
)

// exifTags are the tags that are read, by table.
var exifTags = map[string]string{
	"Orientation": "IFD0", "Make": "IFD0", "Model": "IFD0", "Software": "IFD0",
	"DateTimeOriginal": "IFD0/ExifIFDP", "OffsetTimeOriginal": "IFD0/ExifIFDP", "Flash": "IFD0/ExifIFDP",
	"FNumber": "IFD0/ExifIFDP", "LightSource": "IFD0/ExifIFDP",
	"ExposureTime": "IFD0/ExifIFDP", "ISO": "IFD0/ExifIFDP", "GPSLatitude": "IFD0/GPSInfoIFD",
}

// LightSource is what a camera took the light for, or what was set on it: the number of
// Exif's tag 0x9208 (CIPA DC-008; the meaning of the numbers is from memory). Most
// phones say nothing.
type LightSource int

// Fluorescent reports whether it is a fluorescent tube: any, or one of five whites.
func (s LightSource) Fluorescent() bool { return s == 2 || s >= 12 && s <= 16 }

// Tungsten reports whether it is a bulb with a filament: any, standard illuminant A, or
// the lamp of a studio.
func (s LightSource) Tungsten() bool { return s == 3 || s == 17 || s == 24 }

// readExif fills in the facts from an Exif block (a TIFF structure). It returns notes
// for what a person should know, such as an orientation that cannot be read. Only the
// main picture's table counts, because a thumbnail has an orientation of its own.
func readExif(h *header, facts *Facts) []Note {
	block := h.exif
	if block == nil {
		return nil
	}
	if len(block) > maxExif && !h.wholeExif || !exifTableFits(block) {
		return []Note{unknownOrientation}
	}
	tags := map[string]any{}
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(block), ImageFormat: imagemeta.TIFF, Sources: imagemeta.EXIF,
		LimitNumTags: maxExifTags, LimitTagSize: maxExifTag,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool { return exifTags[t.Tag] == t.Namespace },
		HandleTag: func(t imagemeta.TagInfo) error {
			if _, seen := tags[t.Tag]; !seen {
				tags[t.Tag] = t.Value
			}
			return nil
		},
	})
	facts.fromTags(tags)
	return facts.exifNotes(tags, err)
}

var unknownOrientation = Note{NoteOrientationUnknown,
	"The photo's Exif block is damaged, so which way up it was taken is not known; it is read as stored. Check that the marks " +
		"lie where they should."}

// exifTableFits checks that the first table and its entries lie within the block.
func exifTableFits(b []byte) bool {
	if len(b) < 14 || !bytes.HasPrefix(b, []byte("II")) && !bytes.HasPrefix(b, []byte("MM")) {
		return false
	}
	_, _, fault := firstTable(b)
	return fault == ""
}

func (f *Facts) fromTags(tags map[string]any) {
	f.Make, f.Model, f.Software = tagText(tags["Make"]), tagText(tags["Model"]), tagText(tags["Software"])
	if n, ok := tagInt(tags["Flash"]); ok {
		f.Flash = n&1 == 1
	}
	if n, ok := tagInt(tags["ISO"]); ok && n > 0 {
		f.ISO = n
	}
	_, f.HasPosition = tags["GPSLatitude"]
	f.ExposureSeconds, f.FNumber = tagRatio(tags["ExposureTime"]), tagRatio(tags["FNumber"])
	if n, ok := tagInt(tags["LightSource"]); ok {
		f.LightSource = LightSource(n)
	}
	f.taken(tagText(tags["DateTimeOriginal"]), tagText(tags["OffsetTimeOriginal"]))
}

// exifNotes sets the orientation, and notes what is odd in the block.
func (f *Facts) exifNotes(tags map[string]any, err error) []Note {
	var notes []Note
	value, there := tags["Orientation"]
	n, isInt := tagInt(value)
	switch {
	case there && isInt && n >= 1 && n <= 8:
		f.Orientation = n
	case there:
		f.Orientation = 1
		notes = append(notes, Note{NoteOrientationUnknown,
			"The photo's orientation tag has a value that means nothing; it is read as stored. Check that the marks lie where they should."})
	case err != nil:
		notes = append(notes, unknownOrientation)
	}
	if f.Flash {
		notes = append(notes, Note{NoteFlash, "The flash fired: its reflection can lighten a wet pad. Take the photo without flash if you can."})
	}
	return notes
}

// taken reads Exif's date, "2006:01:02 15:04:05", and its offset, "+02:00".
func (f *Facts) taken(date, offset string) {
	t, err := time.Parse("2006:01:02 15:04:05", date)
	if err != nil {
		return
	}
	f.TakenTime, f.Taken = t, t.Format("2006-01-02T15:04:05")
	if z, err := time.Parse("2006:01:02 15:04:05Z07:00", date+offset); err == nil && offset != "" {
		f.TakenTime, f.TakenHasOffset = z, true
		f.Taken = z.Format(time.RFC3339)
	}
}

func tagText(v any) string {
	s, ok := v.(string)
	if !ok {
		return ""
	}
	return strings.TrimSpace(cleanText(s, 120))
}

// tagRatio returns a tag's fraction, 0 where there is none.
func tagRatio(v any) float64 {
	if r, ok := v.(imagemeta.Rat[uint32]); ok && r.Den() > 0 {
		return r.Float64()
	}
	return 0
}

// tagInt returns a tag's whole number, or the first of several.
func tagInt(v any) (int, bool) {
	switch n := v.(type) {
	case uint8:
		return int(n), true
	case uint16:
		return int(n), true
	case uint32:
		return int(n), true
	case int32:
		return int(n), true
	case []any:
		if len(n) > 0 {
			if _, nested := n[0].([]any); !nested {
				return tagInt(n[0])
			}
		}
	}
	return 0, false
}

// cleanText keeps a string from a file on one line and at most n characters long.
func cleanText(s string, n int) string {
	s, _, _ = strings.Cut(s, "\x00")
	s = strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, " "))
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > n {
		s = string(r[:n])
	}
	return s
}
