package photo

import (
	"fmt"

	"padband/colorimetry/photo/heif"
	"padband/colorimetry/photo/profile"
)

// header is what a file says before its pixels.
type header struct {
	format        string
	width, height int
	depth         int
	grey          bool
	chroma        int        // widest step of the colour planes in pixels; 1 when none is halved
	matrix        lumaMatrix // the matrix of luma and chroma; JFIF's where the file gives none
	opaque        bool       // whether alpha is to be ignored
	exif          []byte
	wholeExif     bool          // whether exif is the whole file
	heic          *heif.Picture // the picture of a HEIC
	colour        colourClaim
	notes         []Note
}

// colourClaim is what the file says its numbers mean.
type colourClaim struct {
	icc   []byte             // an embedded profile, whole
	spoil string             // why an embedded profile cannot be read; empty when it can
	cicp  profile.CodePoints // code points of a PNG's cICP chunk, which come before all others
	nclx  profile.CodePoints // code points of a HEIC's nclx box, which count where there is no profile
	srgb  bool               // whether there is an sRGB chunk
	gamma float64
	prims *profile.Primaries // from a cHRM chunk
}

// checkSize refuses a photo that must not reach the decoder. The caller gives the
// least number of bytes that the pixels can be packed into.
func (h *header) checkSize(limits Limits, have, least int64) error {
	if h.width <= 0 || h.height <= 0 {
		return &BrokenError{Format: h.format, Why: fmt.Sprintf("its header says %d x %d pixels", h.width, h.height)}
	}
	pixels := int64(h.width) * int64(h.height)
	if h.heic != nil {
		pixels = max(pixels, h.heic.CodedPixels())
	}
	if pixels > limits.Pixels {
		return &TooLargeError{What: "pixels", Have: pixels, Max: limits.Pixels, Width: int64(h.width), Height: int64(h.height)}
	}
	if have < least && (h.format == formatWebP || h.format == formatHEIC) {
		return &UnsupportedError{
			fmt.Sprintf("this "+h.format+" packs %d x %d pixels into %d bytes, as no photo does", h.width, h.height, have),
			"send the original photo",
		}
	}
	if have < least {
		return &BrokenError{Format: h.format, Why: fmt.Sprintf("%d bytes cannot hold its %d x %d pixels", have, h.width, h.height)}
	}
	return nil
}
