package baseline

// Pictures smaller than the file's are made of the first 2 by 2, 3 by 3 or 4 by 4
// coefficients of each block alone, by the inverse cosine transform of that size:
// the mean of a block stays what it is.

// Small is a picture that is smaller than the file's.
type Small struct {
	Width, Height int
	Grey          bool // luma alone

	tiles         *Picture // its tiles, whose bytes lie as the cells say
	columns, rows []cell   // of each pixel's column and row
}

// cell says where the samples of a column or a row of pixels lie: in which tile, and
// from where in its luma and in its chroma.
type cell struct{ tile, luma, chroma int32 }

// Samples are the codes of a pixel; of a grey picture luma is the only one.
func (s *Small) Samples(x, y int) (luma, cb, cr uint8) {
	column, row := s.columns[x], s.rows[y]
	tile := s.tiles.pix[s.tiles.at[row.tile+column.tile]:]
	luma = tile[row.luma+column.luma]
	if s.Grey {
		return luma, 0, 0
	}
	k := int(row.chroma + column.chroma)
	return luma, tile[s.tiles.cb+k], tile[s.tiles.cr+k]
}

// cells are those of n columns or rows of pixels that lie in units of some pixels,
// a block's side of them in cells of 1<<log bytes: block after block, chroma of 1<<less
// pixels in one. step, luma and chroma are the tiles and bytes from one to the next.
func cells(n, unit, side, log, less, step, luma, chroma int) []cell {
	out := make([]cell, n)
	for i := range out {
		in := i % unit
		of := in >> less
		out[i] = cell{int32(i / unit * step), int32((in/side<<log + in%side) * luma), int32((of/side<<log + of%side) * chroma)}
	}
	return out
}

// small is the decoded picture with its cells.
func (d *decoder) small() *Small {
	p, luma, chroma := d.picture, d.parts[0], d.parts[len(d.parts)-1]
	return &Small{
		Width: p.Width, Height: p.Height, Grey: p.Grey, tiles: p,
		columns: cells(p.Width, luma.h*d.samples, d.samples, d.side, p.narrow, 1, 1, 1),
		rows:    cells(p.Height, luma.v*d.samples, d.samples, d.side, p.flat, p.across, luma.stride, chroma.stride),
	}
}

// Factors of 4 values, with bitsOf4 bits after the point.
const (
	bitsOf4  = 13
	cos1Of4  = 5352 // cos pi/8 / sqrt 2
	cos3Of4  = 2217 // cos 3 pi/8 / sqrt 2
	halfOf4  = 1 << (bitsOf4 - 1)
	shiftOf4 = 2*bitsOf4 + 1 // both passes, and half: the coefficients are those of 8 values
)

// invert4 writes 4 by 4 samples of a block.
func invert4(b *[64]int32, dst []byte, stride int) {
	var m [16]int64
	for y := range 4 {
		row := (*[4]int32)(b[8*y:])
		m[y], m[4+y], m[8+y], m[12+y] = invertOf4(int64(row[0]), int64(row[1]), int64(row[2]), int64(row[3]))
	}
	var out [16]int64
	for x := range 4 {
		c := (*[4]int64)(m[4*x:])
		out[x], out[4+x], out[8+x], out[12+x] = invertOf4(c[0], c[1], c[2], c[3])
	}
	for y := range 4 {
		to := (*[4]byte)(dst[y*stride:])
		for x := range 4 {
			to[x] = code((out[4*y+x] + 1<<(shiftOf4-1)) >> shiftOf4)
		}
	}
}

// invertOf4 is the orthonormal inverse transform of 4 values.
func invertOf4(a, b, c, d int64) (w, x, y, z int64) {
	even, odd := (a+c)*halfOf4, (a-c)*halfOf4
	outer, inner := b*cos1Of4+d*cos3Of4, b*cos3Of4-d*cos1Of4
	return even + outer, odd + inner, odd - inner, even - outer
}

// Factors of 3 values, with bitsOf3 bits after the point.
const (
	bitsOf3  = 13
	cos1Of3  = 10033 // cos pi/6 x sqrt 2
	cos2Of3  = 5793  // cos 2 pi/6 x sqrt 2
	wholeOf3 = 1 << bitsOf3
	shiftOf3 = 2*bitsOf3 + 3 // both passes, and an eighth: the coefficients are those of 8 by 8 values
)

// invert3 writes 3 by 3 samples of a block.
func invert3(b *[64]int32, dst []byte, stride int) {
	var m [9]int64
	for y := range 3 {
		row := (*[3]int32)(b[8*y:])
		m[y], m[3+y], m[6+y] = invertOf3(int64(row[0]), int64(row[1]), int64(row[2]))
	}
	const half = 1 << (shiftOf3 - 1)
	for x := range 3 {
		above, middle, below := invertOf3(m[3*x], m[3*x+1], m[3*x+2])
		dst[x] = code((above + half) >> shiftOf3)
		dst[stride+x] = code((middle + half) >> shiftOf3)
		dst[2*stride+x] = code((below + half) >> shiftOf3)
	}
}

// invertOf3 is the inverse transform of 3 values, sqrt 8 times too large.
func invertOf3(a, b, c int64) (x, y, z int64) {
	mean, outer, inner := a*wholeOf3, b*cos1Of3, c*cos2Of3
	return mean + outer + inner, mean - 2*inner, mean - outer + inner
}

// invert2 writes 2 by 2 samples of a block.
func invert2(b *[64]int32, dst []byte, stride int) {
	mean, across, down, both := int64(b[0])+4, int64(b[1]), int64(b[8]), int64(b[9]) // 4 for the rounding
	dst[0], dst[1] = code((mean+across+down+both)>>3), code((mean-across+down-both)>>3)
	dst[stride], dst[stride+1] = code((mean+across-down-both)>>3), code((mean-across-down+both)>>3)
}

// code moves a sample up by 128 and cuts it to 0 to 255.
func code(v int64) byte { return byte(max(0, min(255, v+128))) }
