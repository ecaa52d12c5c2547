// Package baseline decodes the ordinary JPEG of phones and cameras to the very
// pixels that image/jpeg gives, in less than half its time, and leaves every other
// JPEG to it.
//
// Ordinary is: sequential, Huffman coded, 8 bits, grey or luma and chroma, in one
// scan that ends with the picture, without any fault. What is refused here is not
// thereby broken: image/jpeg, which reads more and says what is wrong, decides.
package baseline

import "image"

// Decode decodes an ordinary JPEG to an [*image.Gray] or [*image.YCbCr], equal in
// every sample to what image/jpeg gives. Anything else, a fault at any place
// included, is not ok. The memory it takes is the picture's, by its header: a
// caller holds that to its limits first. Where image/jpeg decides after a fault it
// is taken twice, and so a picture of over 64 megapixels is not begun.
func Decode(data []byte) (m image.Image, ok bool) {
	d := decoder{data: data}
	if !d.header() {
		return nil, false
	}
	d.makePlanes()
	if !d.scan() || !d.ends() {
		return nil, false
	}
	return d.picture(), true
}

// mostPixels is the largest picture that is decoded here. Phones make up to 50
// megapixels; larger ones are rare.
const mostPixels = 64_000_000

// decoder is one JPEG being decoded.
type decoder struct {
	data []byte
	pos  int // next byte of the header or after the scan

	width, height int
	parts         []component
	quant         [4][64]int32 // in zigzag order
	known         [4]bool      // the quantisation tables that are there
	dc            [2]table
	ac            [2]table
	restart       int // MCUs between restart markers; 0 for none
	jfif          bool

	grey *image.Gray
	full *image.YCbCr
}

// component is one channel.
type component struct {
	id, tq byte
	h, v   int // sampling factors
	dc, ac *table
	quant  *[64]int32
	last   int32  // DC value of the block before
	plane  []byte // samples, in whole MCUs
	stride int
}

// mcus is the number of minimum coded units across and down.
func (d *decoder) mcus() (across, down int) {
	h, v := 8*d.parts[0].h, 8*d.parts[0].v
	return (d.width + h - 1) / h, (d.height + v - 1) / v
}

// ratios are the samplings that image/jpeg reads, by the luma's factors over the chroma's.
var ratios = map[[2]int]image.YCbCrSubsampleRatio{
	{1, 1}: image.YCbCrSubsampleRatio444, {1, 2}: image.YCbCrSubsampleRatio440,
	{2, 1}: image.YCbCrSubsampleRatio422, {2, 2}: image.YCbCrSubsampleRatio420,
	{4, 1}: image.YCbCrSubsampleRatio411, {4, 2}: image.YCbCrSubsampleRatio410,
}

// makePlanes makes room for the samples of whole MCUs.
func (d *decoder) makePlanes() {
	across, down := d.mcus()
	p := d.parts
	whole := image.Rect(0, 0, 8*p[0].h*across, 8*p[0].v*down)
	if len(p) == 1 {
		d.grey = image.NewGray(whole)
		p[0].plane, p[0].stride = d.grey.Pix, d.grey.Stride
		return
	}
	d.full = image.NewYCbCr(whole, ratios[[2]int{p[0].h / p[1].h, p[0].v / p[1].v}])
	p[0].plane, p[0].stride = d.full.Y, d.full.YStride
	p[1].plane, p[1].stride = d.full.Cb, d.full.CStride
	p[2].plane, p[2].stride = d.full.Cr, d.full.CStride
}

// picture is what was decoded, without the rest of the last MCUs.
func (d *decoder) picture() image.Image {
	r := image.Rect(0, 0, d.width, d.height)
	if d.grey != nil {
		return d.grey.SubImage(r)
	}
	return d.full.SubImage(r)
}
