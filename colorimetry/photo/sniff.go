package photo

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

const (
	formatJPEG = "JPEG"
	formatPNG  = "PNG"
	formatWebP = "WebP"
	formatTIFF = "TIFF"
	formatHEIC = "HEIC"

	exportAdvice = "valid but not supported, export the photo as JPEG or PNG"
)

var pngSignature = []byte("\x89PNG\r\n\x1a\n")

// sniff says what kind of file the bytes are. It looks at nothing but the bytes: a
// name or a claimed type does not count.
func sniff(data []byte) (string, error) {
	switch {
	case len(data) == 0:
		return "", &NotPhotoError{"the file is empty", "send the photo again"}
	case bytes.HasPrefix(data, []byte{0xff, 0xd8}):
		return formatJPEG, nil
	case bytes.HasPrefix(data, pngSignature):
		return formatPNG, nil
	case bytes.HasPrefix(data, []byte("\x89PNG")):
		return "", &BrokenError{Format: formatPNG, Why: "its first bytes were changed on the way"}
	}
	has := func(at int, s string) bool { return hasAt(data, at, s) }
	switch {
	case has(0, "RIFF") && has(8, "WEBP"):
		return formatWebP, nil
	case has(0, "II*\x00"), has(0, "MM\x00*"):
		return formatTIFF, nil
	case rawFormat(data):
		return "", &NotPhotoError{"this is a raw camera file", rawAdvice}
	}
	name := otherFormat(data)
	switch name {
	case "":
		return "", &NotPhotoError{"this is no photo (" + looks(data) + ")", "choose a JPEG, PNG, HEIC, WebP or TIFF photo"}
	case formatHEIC:
		return formatHEIC, nil
	case "video":
		return "", &NotPhotoError{"this is a video file", "take a photo instead, or export one picture of the video as JPEG or PNG"}
	}
	return "", &NotPhotoError{"this is a " + name + " file", exportAdvice}
}

func hasAt(data []byte, at int, s string) bool {
	return len(data) >= at+len(s) && string(data[at:at+len(s)]) == s
}

// rawFormat reports whether these are the raw file of a camera that differs from TIFF
// in its first bytes.
func rawFormat(data []byte) bool {
	for _, s := range []string{"IIU\x00", "IIRO", "IIRS", "MMOR", "FUJIFILMCCD-RAW", "FOVb", "\x00MRM"} {
		if hasAt(data, 0, s) {
			return true
		}
	}
	return hasAt(data, 4, "ftypcrx ")
}

// otherFormat names a format that is known but not read; it is empty for all other
// bytes.
func otherFormat(data []byte) string {
	has := func(at int, s string) bool { return hasAt(data, at, s) }
	switch {
	case has(4, "ftyp"):
		return brandName(data)
	case has(0, "II+\x00"), has(0, "MM\x00+"):
		return "BigTIFF"
	case has(0, "GIF8"):
		return "GIF"
	case has(0, "%PDF"):
		return "PDF"
	case has(0, "BM") && len(data) > 26 && data[14] >= 12 && data[15] == 0:
		return "BMP"
	case has(0, "\xff\x0a"), has(4, "JXL "):
		return "JPEG XL"
	case has(4, "jP  "), has(0, "\xff\x4f\xff\x51"):
		return "JPEG 2000"
	case has(0, "\xff\xd8") || has(0, "PK\x03\x04"):
		return "ZIP"
	}
	return ""
}

// brandName names an ISO media file by its major brand and the compatible
// brands that follow, at most 64 bytes of them.
func brandName(data []byte) string {
	brands := data[8:min(len(data), 72)]
	for _, b := range []string{"avif", "avis"} {
		if bytes.Contains(brands, []byte(b)) {
			return "AVIF"
		}
	}
	for _, b := range []string{"heic", "heix", "hevc", "heim", "heis", "mif1", "msf1"} {
		if bytes.Contains(brands, []byte(b)) {
			return formatHEIC
		}
	}
	return "video"
}

// looks describes unknown bytes for people.
func looks(data []byte) string {
	head := data[:min(len(data), 512)]
	for i := 0; i < utf8.UTFMax && len(head) > 1 && !utf8.Valid(head); i++ {
		head = head[:len(head)-1]
	}
	if utf8.Valid(head) && !bytes.ContainsRune(head, 0) {
		return "it looks like text"
	}
	return fmt.Sprintf("it begins with the bytes % x", data[:min(len(data), 4)])
}
