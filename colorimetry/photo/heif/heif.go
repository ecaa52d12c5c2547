// Package heif reads the boxes of a HEIC photo (ISO/IEC 14496-12 and 23008-12): which
// picture is the photo, its size, which way is up, what its numbers mean, and its
// coded bytes. Start at [Read]. The package decodes no pixels.
//
// Everything is bounded. Boxes are read to a fixed depth and number, every place and
// length is checked against the file's size, and nothing is allocated because of a
// number in the file alone.
package heif

// Picture is the primary item of a file: the photo itself, whatever thumbnails,
// depths and gain maps lie beside it.
type Picture struct {
	Item          uint32
	Width, Height int // as coded, before Turns; pixels
	Turns         []Turn

	Depth  int // bits a channel, 8 to 16
	Chroma int // 0 luma alone, 1 for 4:2:0, 2 for 4:2:2, 3 for 4:4:4

	ICC       []byte // an embedded profile; nil without one
	ICCTwice  bool   // there are several, so that none is meant
	Code      CodePoints
	CodeGiven bool // by an nclx box or, without one, by the coded picture itself

	Exif []byte // a TIFF structure; nil without one

	coded []coded // the tiles row by row, or the one picture
	grid  *grid   // nil for a picture of one piece
}

// CodePoints are the numbers of ITU-T H.273 for primaries, transfer and
// matrix, 2 where the file does not say, and whether codes use their full range.
type CodePoints struct {
	Primaries, Transfer, Matrix int
	Full                        bool
}

// coded is one coded picture with its decoder configuration.
type coded struct {
	config []byte
	data   [][]byte // in pieces
	sps    params
	width  int
	height int
}

// grid says how tiles make up the picture.
type grid struct{ rows, columns int }

// UnsupportedError says that the file is valid and of a kind that is not read.
type UnsupportedError struct{ What, Advice string }

func (e *UnsupportedError) Error() string { return e.What + ": " + e.Advice }

// BrokenError says that the file is damaged or cut short.
type BrokenError struct{ Why string }

func (e *BrokenError) Error() string { return "the file is damaged or cut short (" + e.Why + ")" }

const exportAdvice = "export the photo as JPEG or PNG"

func broken(why string) error       { return &BrokenError{why} }
func unsupported(what string) error { return &UnsupportedError{what, exportAdvice} }

// Matrix is the matrix coefficients of ITU-T H.273, table 4, and whether codes
// use their full range. What the file does not say is BT.601 (6), and full
// where it says nothing at all (ISO/IEC 23000-22, 7.3.6.4; from memory).
func (p *Picture) Matrix() (matrix int, full bool) {
	matrix, full = 6, true
	if p.CodeGiven {
		full = p.Code.Full
		if p.Code.Matrix != 2 {
			matrix = p.Code.Matrix
		}
	}
	return matrix, full
}

// Deep tells a colour picture of more than 8 bits. The decoder that is known
// (libheif 1.18.2) takes it to red, green and blue by its matrix and range,
// cuts those to 8 bits, and goes back to BT.601 in full codes; planes of 8 bits
// and pictures of luma alone it leaves as coded, but for lower bits cut off.
func (p *Picture) Deep() bool { return p.Depth > 8 && p.Chroma > 0 }

// CodedPixels is what a decoder of the picture has to unpack: more than Width
// times Height where tiles reach past the picture's edge.
func (p *Picture) CodedPixels() (n int64) {
	for _, c := range p.coded {
		n += int64(c.width) * int64(c.height)
	}
	return n
}

// Read reads the boxes of a HEIC file. The errors are [*UnsupportedError] and
// [*BrokenError]. The result shares the file's bytes.
func Read(file []byte) (*Picture, error) {
	r := reader{file: file, boxesLeft: maxBoxes, bytesLeft: int64(len(file))}
	meta, err := r.meta()
	if err != nil {
		return nil, err
	}
	p, err := r.picture(meta)
	if err != nil {
		return nil, err
	}
	return p, r.describe(meta, p)
}
