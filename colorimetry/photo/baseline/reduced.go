package baseline

// Pictures smaller than the file's are made of the first 2 by 2 or 4 by 4
// coefficients of each block alone, by the inverse cosine transform of that size:
// the mean of a block stays what it is.

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

// invert2 writes 2 by 2 samples of a block.
func invert2(b *[64]int32, dst []byte, stride int) {
	mean, across, down, both := int64(b[0])+4, int64(b[1]), int64(b[8]), int64(b[9]) // 4 for the rounding
	dst[0], dst[1] = code((mean+across+down+both)>>3), code((mean-across+down-both)>>3)
	dst[stride], dst[stride+1] = code((mean+across-down-both)>>3), code((mean-across-down+both)>>3)
}

// code moves a sample up by 128 and cuts it to 0 to 255.
func code(v int64) byte { return byte(max(0, min(255, v+128))) }
