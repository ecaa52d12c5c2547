package photo

import (
	"errors"
	"fmt"
	"image"

	"padband/colorimetry/photo/heif"
	"padband/colorimetry/photo/profile"
)

// HEICDecoder decodes a plain HEIC file of one picture, width by height pixels. It
// gives the luma and chroma as coded, in 8 bits, as an [image.YCbCr] or, for luma
// alone, as an [image.Gray]. It is called after the limits were checked, and turns
// nothing. It converts a deep picture as [heif.Picture.Deep] tells.
type HEICDecoder func(plain []byte, width, height int) (image.Image, error)

// readHEIC reads the boxes of a HEIC file.
func readHEIC(data []byte) (*header, error) {
	p, err := heif.Read(data)
	if err != nil {
		return nil, heicError(err)
	}
	h := &header{
		format: formatHEIC, width: p.Width, height: p.Height, depth: p.Depth, grey: p.Chroma == 0, chroma: 1,
		exif: p.Exif, heic: p,
	}
	if p.Chroma == 1 || p.Chroma == 2 {
		h.chroma = 2
	}
	if p.Deep() {
		h.chroma *= 2 // the decoder smooths it by one sample each way
	}
	if h.matrix, err = heicMatrix(p); err != nil {
		return nil, err
	}
	h.colour.icc = p.ICC
	if p.ICCTwice {
		h.colour.spoil = "it is there twice"
	}
	h.colour.nclx = profile.CodePoints{Primaries: p.Code.Primaries, Transfer: p.Code.Transfer}
	if h.colour.nclx.HighRange() {
		return nil, &UnsupportedError{"this HEIC is a high dynamic range picture (PQ or HLG)", heicAdvice}
	}
	return h, nil
}

const heicAdvice = "export the photo as JPEG or PNG"

// heicError turns an error of the box reader into one of this package.
func heicError(err error) error {
	var broken *heif.BrokenError
	if errors.As(err, &broken) {
		return &BrokenError{Format: formatHEIC, Why: broken.Why, Err: err}
	}
	var unusual *heif.UnsupportedError
	if errors.As(err, &unusual) {
		return &UnsupportedError{unusual.What, unusual.Advice}
	}
	return err
}

// lumaShares are the shares of red and blue in luma by the matrix coefficients
// of ITU-T H.273, table 4; from memory.
var lumaShares = map[int][2]float64{
	1: {0.2126, 0.0722}, 4: {0.30, 0.11}, 5: {red601, blue601}, 6: {red601, blue601},
	7: {0.212, 0.087}, 9: {0.2627, 0.0593},
}

// heicMatrix is the matrix that takes the decoder's planes to red, green and blue. For
// a file that names none it is BT.601 in full codes.
func heicMatrix(p *heif.Picture) (lumaMatrix, error) {
	refuse := func(what string, v ...any) (lumaMatrix, error) {
		return lumaMatrix{}, &UnsupportedError{"this HEIC " + fmt.Sprintf(what, v...), heicAdvice}
	}
	matrix, full := p.Matrix()
	k, ok := lumaShares[matrix]
	switch {
	case p.Depth > 12:
		return refuse("has %d bits a channel", p.Depth)
	case p.Depth > 8 && p.Chroma == 3:
		return refuse("has %d bits a channel and colour at every pixel", p.Depth)
	case !ok, p.Deep() && !deepMatrix[matrix]:
		return refuse("codes its colours in an unusual way (matrix %d)", matrix)
	case p.Deep():
		return matrixOfCut(p.Depth), nil
	}
	return newLumaMatrix(k[0], k[1], full, p.Depth), nil
}

// deepMatrix are the matrices by which the decoder converts deep pictures.
var deepMatrix = map[int]bool{1: true, 5: true, 6: true, 9: true}

// matrixOfCut is the matrix for planes in BT.601 and full codes whose channels had
// their lower bits cut off: luma is then too low by half of what was cut, chroma is
// not. For each channel of a pixel that is within 0.375 of an 8-bit code for 10 bits,
// and the rounding of luma and chroma to codes adds 0.5 + 0.886 at most; over an area
// both average out. Colours beyond red, green and blue are cut off.
func matrixOfCut(depth int) lumaMatrix {
	m := newLumaMatrix(red601, blue601, true, depth)
	m.middle = matrixJFIF.middle
	return m
}

// decodeHEIC lets the decoder decode the coded picture and checks what comes back.
func decodeHEIC(h *header, decode HEICDecoder) (image.Image, error) {
	if decode == nil {
		return nil, &UnsupportedError{"this is a HEIC photo", "export the photo as JPEG or PNG"}
	}
	img, err := decode(h.heic.Repack(), h.width, h.height)
	if err != nil {
		return nil, err
	}
	want := map[int]image.YCbCrSubsampleRatio{
		1: image.YCbCrSubsampleRatio420,
		2: image.YCbCrSubsampleRatio422,
		3: image.YCbCrSubsampleRatio444,
	}
	switch m := img.(type) {
	case *image.Gray:
		if h.grey {
			return img, nil
		}
	case *image.YCbCr:
		if ratio, ok := want[h.heic.Chroma]; ok && m.SubsampleRatio == ratio {
			return img, nil
		}
	}
	return nil, fmt.Errorf("%T came out", img)
}

// sameAs gives the Exif orientation that each step of a HEIC comes to.
var sameAs = map[heif.TurnKind]int{
	heif.Cut: 1, heif.QuarterLeft: 8, heif.Half: 3, heif.QuarterRight: 6, heif.FlipRows: 4, heif.FlipColumns: 2,
}

// turnHEIC turns the photo by the container's own steps, which alone decide. Exif's
// orientation is for information; when it differs, that is a note.
func (p *Photo) turnHEIC(h *header) {
	said := p.Facts.Orientation
	p.Width, p.Height, p.turn = h.width, h.height, turned(1, h.width, h.height)
	for _, t := range h.heic.Turns {
		step := turned(sameAs[t.Kind], p.Width, p.Height)
		step.x0, step.y0 = step.x0+t.X, step.y0+t.Y
		p.turn = p.turn.after(step)
		p.Width, p.Height = t.Width, t.Height
	}
	p.Facts.Orientation = p.turn.orientation()
	var notes []Note
	for _, n := range p.Notes {
		if n.Code != unknownOrientation.Code {
			notes = append(notes, n)
		}
	}
	p.Notes = notes
	if said > 1 && said != p.Facts.Orientation {
		p.Notes = append(p.Notes, Note{unknownOrientation.Code,
			"The photo's Exif block says that it was turned otherwise than its HEIC container does; the container counts. Check that " +
				"the marks lie where they should."})
	}
}
