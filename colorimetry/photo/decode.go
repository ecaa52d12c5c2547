package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"padband/colorimetry/photo/baseline"
)

// Decode reads one JPEG or PNG photo. What it is comes from the bytes alone.
// Its header is read first and checked against the limits, then its pixels.
//
// The errors are [*NotPhotoError], [*UnsupportedError], [*BrokenError] and
// [*TooLargeError]. What can be worked around is a note on the photo: a damaged
// Exif block, no colour profile, or one that cannot be used.
func Decode(data []byte, limits Limits) (*Photo, error) {
	limits = limits.withDefaults()
	if int64(len(data)) > limits.Bytes {
		return nil, &TooLargeError{What: "bytes", Have: int64(len(data)), Max: limits.Bytes}
	}
	h, err := readHeader(data, limits)
	if err != nil {
		return nil, err
	}
	sum := digest(data)
	p := &Photo{Notes: h.notes, chroma: h.chroma}
	p.Facts = Facts{Format: h.format, StoredWidth: h.width, StoredHeight: h.height, Depth: h.depth}
	var notes []Note
	p.colour, notes = h.colour.resolve(h.grey, &p.Facts)
	p.Notes = append(p.Notes, notes...)
	p.Notes = append(p.Notes, readExif(h.exif, &p.Facts)...)
	if err := p.decodePixels(data, h); err != nil {
		return nil, err
	}
	p.turn = turned(p.Facts.Orientation, h.width, h.height)
	p.Width, p.Height = h.width, h.height
	if swaps(p.Facts.Orientation) {
		p.Width, p.Height = h.height, h.width
	}
	p.Facts.SHA256 = <-sum
	return p, nil
}

// digest hashes the file beside the decoding. The channel holds the one result.
func digest(data []byte) <-chan string {
	sum := make(chan string, 1)
	go func() {
		s := sha256.Sum256(data)
		sum <- hex.EncodeToString(s[:])
	}()
	return sum
}

// readHeader reads everything before the pixels and holds it to the limits.
func readHeader(data []byte, limits Limits) (*header, error) {
	format, err := sniff(data)
	if err != nil {
		return nil, err
	}
	var h *header
	var least int64
	if format == formatJPEG {
		h, err = readJPEG(data)
	} else {
		h, least, err = readPNG(data)
	}
	if err != nil {
		return nil, err
	}
	if format == formatJPEG {
		// Every block of 8 by 8 pixels takes at least one bit.
		least = int64(h.width) * int64(h.height) / (64 * 8)
	}
	return h, h.checkSize(limits, int64(len(data)), least)
}

// decodePixels runs the decoder and keeps its buffers.
func (p *Photo) decodePixels(data []byte, h *header) error {
	img, err := standardDecode(data, h.format)
	if err != nil {
		return decodeError(h.format, err)
	}
	if b := img.Bounds(); b.Dx() != h.width || b.Dy() != h.height {
		return &BrokenError{Format: h.format, Why: fmt.Sprintf("its header says %d x %d pixels and %d x %d came out", h.width, h.height, b.Dx(), b.Dy())}
	}
	if p.read, p.half, err = readerFor(img); err != nil {
		return &BrokenError{Format: h.format, Why: err.Error(), Err: err}
	}
	return nil
}

// standardDecode calls the decoder: that of ordinary JPEGs, else the standard
// library's. A panic in it comes back as an error.
func standardDecode(data []byte, format string) (img image.Image, err error) {
	defer func() {
		if r := recover(); r != nil {
			img, err = nil, fmt.Errorf("the decoder stopped: %v", r)
		}
	}()
	if format == formatJPEG {
		if m, ok := baseline.Decode(data); ok {
			return m, nil
		}
		return jpeg.Decode(bytes.NewReader(data))
	}
	return png.Decode(bytes.NewReader(data))
}

// decodeError tells a file that is broken from one that is valid but not supported.
func decodeError(format string, err error) error {
	var unusualJPEG jpeg.UnsupportedError
	var unusualPNG png.UnsupportedError
	switch {
	case errors.As(err, &unusualJPEG):
		return &UnsupportedError{"this is an unusual JPEG (" + string(unusualJPEG) + ")", unusualAdvice}
	case errors.As(err, &unusualPNG):
		return &UnsupportedError{"this is an unusual PNG (" + string(unusualPNG) + ")", "export it again as an ordinary PNG"}
	}
	return &BrokenError{Format: format, Why: cleanText(err.Error(), 120), Err: err}
}
