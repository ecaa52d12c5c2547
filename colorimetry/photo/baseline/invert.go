package baseline

import "encoding/binary"

// The inverse cosine transform with 11 multiplications for 8 values of Loeffler,
// Ligtenberg and Moschytz (ICASSP 1989), in the fixed point of image/jpeg of Go
// 1.26, so that every sample comes out as there: first the rows, then the columns,
// which are rounded, moved up by 128 and cut to 0 to 255.

// Factors, 60 bits after the point: fixed rounds them.
const (
	cos1     = 1130768441178740757 // cos pi/16
	sin1     = 224923827593068887
	cos3     = 958619196450722178 // cos 3 pi/16
	sin3     = 640528868967736374
	half2    = 815238614083298888 // 1/sqrt 2
	halfCos6 = 311978311033955632 // cos 6 pi/16 / sqrt 2
	halfSin6 = 753182269664427492
)

func fixed(x uint64, bits int) int32 { return int32((x + 1<<(59-bits)) >> (60 - bits)) }

// turn turns and scales (x, y) with three multiplications.
func turn(x, y, kcos, ksin int32) (int32, int32) {
	sum := kcos * (x + y)
	return sum + (ksin-kcos)*y, sum - (kcos+ksin)*x
}

// invert transforms a block and writes its samples.
func invert(b *[64]int32, dst []byte, stride int) {
	for i := 0; i < 64; i += 8 {
		row := (*[8]int32)(b[i : i+8])
		if row[1]|row[2]|row[3]|row[4]|row[5]|row[6]|row[7] == 0 {
			v := row[0] << 17
			*row = [8]int32{v, v, v, v, v, v, v, v}
			continue
		}
		invertRow(row)
	}
	for i := range 8 {
		invertColumn((*[57]int32)(b[i : i+57]))
	}
	for y := range 8 {
		binary.LittleEndian.PutUint64(dst[y*stride:], samples((*[8]int32)(b[8*y:8*y+8])))
	}
}

// invertRow transforms a row of whole numbers to numbers with 20 bits after the point.
func invertRow(x *[8]int32) {
	x0, x7, x2, x5, x1, x6, x3, x4 := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
	x0, x1 = x0<<17+x1<<17, x0<<17-x1<<17
	x2, x3 = turn(x2, x3, fixed(halfCos6, 18), -fixed(halfSin6, 18))
	x1, x2 = x1+x2, x1-x2
	x0, x3 = x0+x3, x0-x3

	x7, x4 = x7<<7+x4<<7, x7<<7-x4<<7
	x6 *= fixed(half2, 8)
	x5 *= fixed(half2, 8)
	x7, x5 = x7+x5, x7-x5
	x4, x6 = x4+x6, x4-x6
	x4, x7 = turn(x4>>2, x7>>2, fixed(cos3, 12), -fixed(sin3, 12))
	x5, x6 = turn(x5>>2, x6>>2, fixed(cos1, 12), -fixed(sin1, 12))

	x[0], x[7] = x0+x7, x0-x7
	x[1], x[6] = x1+x6, x1-x6
	x[2], x[5] = x2+x5, x2-x5
	x[3], x[4] = x3+x4, x3-x4
}

// invertColumn transforms a column of a block, to numbers with 18 bits after the point.
func invertColumn(b *[57]int32) {
	x0, x7, x2, x5, x1, x6, x3, x4 := b[0], b[8], b[16], b[24], b[32], b[40], b[48], b[56]
	x0 += 1 << 19 // a half, for the rounding
	x0, x1 = (x0+x1)>>2, (x0-x1)>>2
	x2, x3 = turn(x2>>13, x3>>13, fixed(halfCos6, 12), -fixed(halfSin6, 12))
	x1, x2 = x1+x2, x1-x2
	x0, x3 = x0+x3, x0-x3

	x7, x4 = x7+x4, x7-x4
	x5 = (x5 >> 13) * fixed(half2, 14)
	x6 = (x6 >> 13) * fixed(half2, 14)
	x7, x5 = x7+x5, x7-x5
	x4, x6 = x4+x6, x4-x6
	x4, x7 = turn(x4>>14, x7>>14, fixed(cos3, 12), -fixed(sin3, 12))
	x5, x6 = turn(x5>>14, x6>>14, fixed(cos1, 12), -fixed(sin1, 12))

	b[0], b[56] = x0+x7, x0-x7
	b[8], b[48] = x1+x6, x1-x6
	b[16], b[40] = x2+x5, x2-x5
	b[24], b[32] = x3+x4, x3-x4
}

// samples takes a row to its samples, the first in the lowest byte.
func samples(row *[8]int32) (out uint64) {
	a, b, c, d := row[0]>>18+128, row[1]>>18+128, row[2]>>18+128, row[3]>>18+128
	e, f, g, h := row[4]>>18+128, row[5]>>18+128, row[6]>>18+128, row[7]>>18+128
	if uint32(a|b|c|d|e|f|g|h) <= 255 { // mostly
		return uint64(a|b<<8|c<<16) | uint64(d)<<24 | uint64(e|f<<8|g<<16)<<32 | uint64(h)<<56
	}
	for i := 7; i >= 0; i-- {
		out = out<<8 | uint64(sample(row[i]))
	}
	return out
}

// sample takes a value with 18 bits after the point to a sample.
func sample(v int32) byte {
	v = v>>18 + 128
	if uint32(v) > 255 {
		v = ^v >> 31 & 255
	}
	return byte(v)
}

// flat writes the samples of a block that has a first coefficient alone.
func flat(dc int32, dst []byte, stride int) {
	c := sample((dc<<17 + 1<<19) >> 2)
	for y := range 8 {
		row := (*[8]byte)(dst[y*stride:])
		*row = [8]byte{c, c, c, c, c, c, c, c}
	}
}
