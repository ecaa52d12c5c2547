// Package baseline decodes the ordinary JPEG of phones and cameras, only where its
// samples are wanted. Each sample is the very one that image/jpeg gives. Start at
// [Decode]; [Smaller] gives a smaller picture. The package leaves every other JPEG to
// image/jpeg.
//
// An ordinary JPEG is Huffman coded, of 8 bits, grey or luma and chroma, and without
// any fault. It is sequential, in one scan that ends with the picture; or, where areas
// of it are wanted, progressive without restart markers. A JPEG that is refused here
// need not be broken: image/jpeg, which reads more and says what is wrong, decides.
package baseline

import (
	"image"
	bits8 "math/bits"
)

// Decode decodes an ordinary JPEG; every sample equals that of image/jpeg. Anything
// else, a fault at any place included, is not ok. With want nil all of the picture is
// decoded, else what lies in these areas of its pixels, in whole coded units: the
// rest is read for faults and takes no memory.
//
// The memory it takes is the picture's, by its header: a caller holds that to its
// limits first. Where image/jpeg decides after a fault the time is taken twice, and
// so a picture of over 64 megapixels is not begun.
func Decode(data []byte, want []image.Rectangle) (p *Picture, ok bool) {
	d := decoder{data: data, samples: 8}
	ok = d.decode(want)
	return d.picture, ok
}

// Smaller decodes all of an ordinary JPEG to a picture of so many samples for 8 of the
// file's, 2 to 4, rounded up: 2 is a quarter as wide and high, 4 half. It is for
// looking at, and takes the least coefficients that such a picture has.
func Smaller(data []byte, samples int) (s *Small, ok bool) {
	d := decoder{data: data, samples: max(2, min(4, samples))}
	if !d.decode(nil) {
		return nil, false
	}
	return d.small(), true
}

func (d *decoder) decode(want []image.Rectangle) (ok bool) {
	d.side = bits8.Len(uint(d.samples - 1))
	if !d.header() {
		return false
	}
	if d.several && (want == nil || d.samples != 8) {
		return false // all coefficients of all blocks: nothing is gained
	}
	d.picture = d.newPicture(want)
	if d.several {
		return d.progressive(d.firstScan)
	}
	return d.scan() && d.ends()
}

// mostPixels is the largest picture that is decoded here. Phones make up to 50
// megapixels; larger ones are rare.
const mostPixels = 64_000_000

// decoder is one JPEG being decoded.
type decoder struct {
	data    []byte
	pos     int // next byte of the header or after the scan
	samples int // a side that a block gives, 2, 3, 4 or 8
	side    int // log2 of the bytes a side that they lie in, 1 to 3

	width, height int
	parts         []component
	quant         [4][64]int32 // in zigzag order
	known         [4]bool      // the quantisation tables that are there
	dc            [2]table
	ac            [2]table
	restart       int // MCUs between restart markers; 0 for none
	jfif          bool
	several       bool   // it is progressive
	firstScan     []byte // and the header of its first scan

	picture *Picture
}

// component is one channel.
type component struct {
	id, tq byte
	h, v   int // sampling factors
	dc, ac *table
	quant  *[64]int32
	last   int32 // DC value of the block before
	stride int   // samples from row to row of a tile
	first  int   // place of its first sample in a tile
}

// mcus is the number of minimum coded units across and down.
func (d *decoder) mcus() (across, down int) {
	h, v := 8*d.parts[0].h, 8*d.parts[0].v
	return (d.width + h - 1) / h, (d.height + v - 1) / v
}

// ratios are the samplings that image/jpeg reads: the luma's factors over the chroma's.
var ratios = map[[2]int]bool{{1, 1}: true, {1, 2}: true, {2, 1}: true, {2, 2}: true, {4, 1}: true, {4, 2}: true}
