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
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"padband/colorimetry"
	"padband/colorimetry/photo/baseline"
	"padband/colorimetry/photo/rows"
)

// Decode reads one JPEG, PNG, WebP, TIFF or HEIC photo. The bytes alone decide which
// of these it is. The header is read first and checked against the limits, then the
// pixels are read.
//
// The errors are [*NotPhotoError], [*UnsupportedError], [*BrokenError] and
// [*TooLargeError]. What can be worked around is a note on the photo: a damaged Exif
// block, no colour profile, or a profile that cannot be used.
//
// Without regions all of the photo is decoded. With regions only these are wanted:
// what lies in none of them is left out of an ordinary JPEG or PNG, and may be left
// out of others. A wanted region may be sampled, and so may any region that lies in
// it. Sampling takes the pixels, as far as the photo reaches, whose centres lie in the
// region or at most 3 pixels and 0.4 times the square root of its area from it. Where
// nothing was wanted, [Photo.Sample] and [Photo.Patch] give a [*NotWantedError] and
// [Photo.Image] gives an empty picture. A region that breaks a rule or reaches beyond
// the photo is no error here; sampling it is one, as always.
func Decode(data []byte, limits Limits, want ...colorimetry.Region) (*Photo, error) {
	limits = limits.withDefaults()
	h, err := readHeader(data, limits)
	if err != nil {
		return nil, err
	}
	sum := digest(data)
	p := of(h)
	p.want = wanted(want)
	if err := p.decodePixels(data, h, limits); err != nil {
		return nil, err
	}
	p.Facts.SHA256 = <-sum
	return p, nil
}

// of is the photo that a header describes, before its pixels and its digest are there.
func of(h *header) *Photo {
	p := &Photo{Notes: h.notes, chroma: h.chroma}
	p.Facts = Facts{Format: h.format, StoredWidth: h.width, StoredHeight: h.height, Depth: h.depth}
	var notes []Note
	p.colour, notes = h.colour.resolve(h.grey, &p.Facts)
	p.Notes = append(p.Notes, notes...)
	p.Notes = append(p.Notes, readExif(h, &p.Facts)...)
	p.turnUpright(h)
	return p
}

// Size is the size of the upright photo, in pixels, as the file gives it before its
// pixels. The errors are those that [Decode] may have before it comes to the pixels.
func Size(data []byte, limits Limits) (width, height int, err error) {
	h, err := readHeader(data, limits.withDefaults())
	if err != nil {
		return 0, 0, err
	}
	var p Photo
	readExif(h, &p.Facts)
	p.turnUpright(h)
	return p.Width, p.Height, nil
}

// turnUpright decides how the stored picture is turned.
func (p *Photo) turnUpright(h *header) {
	if h.heic != nil {
		p.turnHEIC(h)
		return
	}
	p.turn = turned(p.Facts.Orientation, h.width, h.height)
	p.Width, p.Height = h.width, h.height
	if swaps(p.Facts.Orientation) {
		p.Width, p.Height = h.height, h.width
	}
}

// digest hashes the file while it is being decoded. The channel gives the one result.
func digest(data []byte) <-chan string {
	sum := make(chan string, 1)
	go func() {
		s := sha256.Sum256(data)
		sum <- hex.EncodeToString(s[:])
	}()
	return sum
}

// readHeader reads everything before the pixels and checks it against the limits.
func readHeader(data []byte, limits Limits) (*header, error) {
	if int64(len(data)) > limits.Bytes {
		return nil, &TooLargeError{What: "bytes", Have: int64(len(data)), Max: limits.Bytes}
	}
	format, err := sniff(data)
	if err != nil {
		return nil, err
	}
	h, least, err := readers[format](data)
	if err != nil {
		return nil, err
	}
	return h, h.checkSize(limits, int64(len(data)), least)
}

// readers are the functions that read what a file says before its pixels. They also
// give the least number of bytes that those pixels can be packed into.
var readers = map[string]func([]byte) (h *header, least int64, err error){
	formatJPEG: blockwise(
		readJPEG,
	), formatPNG: readPNG, formatWebP: blockwise(readWebP), formatTIFF: readTIFF, formatHEIC: blockwise(readHEIC),
}

// blockwise adds the least number of bytes for a coding in blocks of 8 by 8 pixels:
// one bit for each block.
func blockwise(read func([]byte) (*header, error)) func([]byte) (*header, int64, error) {
	return func(data []byte) (*header, int64, error) {
		h, err := read(data)
		if err != nil {
			return nil, 0, err
		}
		return h, int64(h.width) * int64(h.height) / (64 * 8), nil
	}
}

// decodePixels runs the decoder and keeps the buffers that it fills.
func (p *Photo) decodePixels(data []byte, h *header, limits Limits) error {
	img, err := decodePicture(data, h, limits, p.areas())
	if err != nil {
		return decodeError(h.format, err)
	}
	if b := img.Bounds(); b.Dx() != h.width || b.Dy() != h.height {
		return &BrokenError{
			Format: h.format,
			Why:    fmt.Sprintf("its header says %d x %d pixels and %d x %d came out", h.width, h.height, b.Dx(), b.Dy()),
		}
	}
	if p.read, p.half, err = readerFor(img, h.matrix); err != nil {
		return &BrokenError{Format: h.format, Why: err.Error(), Err: err}
	}
	if h.opaque {
		p.read = opaque(p.read)
	}
	return nil
}

// decoders are the functions that give a file's pixels.
var decoders = map[string]func(io.Reader) (image.Image, error){
	formatJPEG: jpeg.Decode, formatPNG: png.Decode, formatWebP: webp.Decode, formatTIFF: tiff.Decode,
}

// decodePicture calls the decoder, and turns a panic in it into an error. Pixels
// outside the areas may be left out; nil wants all pixels.
func decodePicture(data []byte, h *header, limits Limits, areas []image.Rectangle) (img image.Image, err error) {
	defer func() {
		if r := recover(); r != nil {
			img, err = nil, fmt.Errorf("the decoder stopped: %v", r)
		}
	}()
	if h.heic != nil {
		return decodeHEIC(h, limits.HEIC)
	}
	switch h.format {
	case formatJPEG:
		if m, ok := baseline.Decode(data, areas); ok {
			return m, nil
		}
	case formatPNG:
		if m, ok := rows.Decode(data, areas); ok {
			return m, nil
		}
	}
	return decoders[h.format](bytes.NewReader(data))
}

// decodeError tells whether a file is broken, or valid but not supported.
func decodeError(format string, err error) error {
	var unusualJPEG jpeg.UnsupportedError
	var unusualPNG png.UnsupportedError
	var unusualTIFF tiff.UnsupportedError
	var own *UnsupportedError
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &unusualJPEG):
		return &UnsupportedError{"this is an unusual JPEG (" + string(unusualJPEG) + ")", unusualAdvice}
	case errors.As(err, &unusualPNG):
		return &UnsupportedError{"this is an unusual PNG (" + string(unusualPNG) + ")", "export it again as an ordinary PNG"}
	case errors.As(err, &unusualTIFF):
		return &UnsupportedError{"this is an unusual TIFF (" + cleanText(string(unusualTIFF), 80) + ")", tiffAdvice}
	}
	return &BrokenError{Format: format, Why: cleanText(err.Error(), 120), Err: err}
}
