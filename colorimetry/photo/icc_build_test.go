package photo

import (
	"encoding/binary"
	"math"

	"padband/colorimetry"
)

// ICC profiles are built here from parts as ICC.1:2022 lays them out; none is anyone's profile.

// iccPart is one tag.
type iccPart struct {
	name string
	body []byte
}

// iccProfile lays out a profile: header, table of tags, tags.
func iccProfile(major byte, space, pcs string, parts ...iccPart) []byte {
	be := binary.BigEndian
	head := make([]byte, 128)
	head[8] = major
	copy(head[12:], "mntr")
	copy(head[16:], space)
	copy(head[20:], pcs)
	copy(head[36:], "acsp")
	copy(head[68:], xyzNumbers(0.9642, 1, 0.8249))
	out := be.AppendUint32(head, uint32(len(parts)))
	at := len(out) + 12*len(parts)
	var tail []byte
	for _, p := range parts {
		for len(tail)%4 != 0 {
			tail = append(tail, 0)
		}
		out = append(out, p.name...)
		out = be.AppendUint32(be.AppendUint32(out, uint32(at+len(tail))), uint32(len(p.body)))
		tail = append(tail, p.body...)
	}
	out = append(out, tail...)
	be.PutUint32(out, uint32(len(out)))
	return out
}

func fixed(v float64) []byte {
	return binary.BigEndian.AppendUint32(nil, uint32(int32(math.Round(v*65536))))
}

func xyzNumbers(v ...float64) []byte {
	var out []byte
	for _, x := range v {
		out = append(out, fixed(x)...)
	}
	return out
}

func kind(sig string) []byte { return append([]byte(sig), 0, 0, 0, 0) }

func xyzTag(x, y, z float64) []byte { return join(kind("XYZ "), xyzNumbers(x, y, z)) }

// descTag is a version 2 description.
func descTag(s string) []byte {
	return join(kind("desc"), binary.BigEndian.AppendUint32(nil, uint32(len(s)+1)), []byte(s), make([]byte, 1+4+4+2+1+67))
}

// mlucTag is a version 4 description.
func mlucTag(s string) []byte {
	be := binary.BigEndian
	out := join(kind("mluc"), be.AppendUint32(be.AppendUint32(nil, 1), 12), []byte("enUS"), be.AppendUint32(be.AppendUint32(nil, uint32(2*len(s))), 28))
	for _, r := range s {
		out = be.AppendUint16(out, uint16(r))
	}
	return out
}

// gammaTag is a version 2 curve of one power, in steps of 1/256.
func gammaTag(gamma float64) []byte {
	return join(kind("curv"), []byte{0, 0, 0, 1}, binary.BigEndian.AppendUint16(nil, uint16(math.Round(gamma*256))), []byte{0, 0})
}

// sampledTag is a version 2 curve of n points.
func sampledTag(n int, f func(float64) float64) []byte {
	out := join(kind("curv"), binary.BigEndian.AppendUint32(nil, uint32(n)))
	for i := range n {
		out = binary.BigEndian.AppendUint16(out, uint16(math.Round(65535*f(float64(i)/float64(n-1)))))
	}
	return out
}

// paraSRGB is the parametric curve, type 3, of IEC 61966-2-1.
func paraSRGB() []byte {
	return join(kind("para"), []byte{0, 3, 0, 0}, xyzNumbers(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045))
}

// iccScale brings XYZ relative to this program's D50 to the ICC's rounded one.
func iccScale(c colorimetry.XYZ) colorimetry.XYZ {
	d := colorimetry.D50
	return colorimetry.XYZ{X: c.X / d.X * 0.9642, Y: c.Y, Z: c.Z / d.Z * 0.8249}
}

// matrixProfile is a profile of three curves and a matrix, for a space of the colorimetry package.
func matrixProfile(major byte, description []byte, space colorimetry.RGBSpace, curve []byte) []byte {
	column := func(r, g, b float64) []byte {
		c := iccScale(space.ToXYZ.Apply(colorimetry.XYZ{X: r, Y: g, Z: b}))
		return xyzTag(c.X, c.Y, c.Z)
	}
	return iccProfile(major, "RGB ", "XYZ ",
		iccPart{"desc", description}, iccPart{"wtpt", xyzTag(0.9642, 1, 0.8249)},
		iccPart{"rXYZ", column(1, 0, 0)}, iccPart{"gXYZ", column(0, 1, 0)}, iccPart{"bXYZ", column(0, 0, 1)},
		iccPart{"rTRC", curve}, iccPart{"gTRC", curve}, iccPart{"bTRC", curve})
}

func profileP3() []byte {
	return matrixProfile(4, mlucTag("Test P3"), colorimetry.DisplayP3, paraSRGB())
}

// profileAdobe has the gamma of Adobe RGB (1998), 563/256, which a version 2 curve holds exactly.
func profileAdobe() []byte {
	return matrixProfile(2, descTag("Test Adobe RGB"), colorimetry.AdobeRGB, gammaTag(563.0/256))
}

func profileSRGB() []byte {
	return matrixProfile(2, descTag("Test sRGB"), colorimetry.SRGB, sampledTag(1024, colorimetry.SRGB.Decode))
}

// greyProfile is a grey profile of one curve.
func greyProfile(gamma float64) []byte {
	return iccProfile(2, "GRAY", "XYZ ", iccPart{"desc", descTag("Test grey")}, iccPart{"wtpt", xyzTag(0.9642, 1, 0.8249)}, iccPart{"kTRC", gammaTag(gamma)})
}

// tableProfile is a profile whose way is a table of n by n by n points in
// 16-bit Lab (type mft2), after a space of the colorimetry package.
func tableProfile(space colorimetry.RGBSpace, n int) []byte {
	be := binary.BigEndian
	out := join(kind("mft2"), []byte{3, 3, byte(n), 0}, xyzNumbers(1, 0, 0, 0, 1, 0, 0, 0, 1), []byte{0, 2, 0, 2})
	ramp := []byte{0, 0, 0xff, 0xff}
	out = join(out, ramp, ramp, ramp)
	at := func(i int) float64 { return float64(i) / float64(n-1) }
	for i := range n * n * n {
		c := space.XYZ(colorimetry.RGB{R: at(i / n / n), G: at(i / n % n), B: at(i % n)}).Lab(colorimetry.D50)
		for _, v := range []float64{c.L / 100 * 65280, (c.A + 128) * 256, (c.B + 128) * 256} {
			out = be.AppendUint16(out, uint16(math.Round(math.Max(0, math.Min(65535, v)))))
		}
	}
	out = join(out, ramp, ramp, ramp)
	return iccProfile(2, "RGB ", "Lab ", iccPart{"desc", descTag("Test table")}, iccPart{"A2B0", out})
}

// modularProfile is a version 4 profile of type mAB: a grid that leaves its
// channels as they are, curves of sRGB and a matrix.
func modularProfile(sides [3]byte, precision byte) []byte {
	be := binary.BigEndian
	clut := make([]byte, 20)
	copy(clut, sides[:])
	clut[16] = precision
	a, b, c := int(sides[0]), int(sides[1]), int(sides[2])
	for i := range a * b * c {
		for _, v := range [3]float64{float64(i/c/b) / float64(a-1), float64(i/c%b) / float64(b-1), float64(i%c) / float64(c-1)} {
			clut = be.AppendUint16(clut, uint16(math.Round(65535*v)))
		}
	}
	for len(clut)%4 != 0 {
		clut = append(clut, 0)
	}
	straight := join(kind("curv"), []byte{0, 0, 0, 0})
	straights, curves := join(straight, straight, straight), join(paraSRGB(), paraSRGB(), paraSRGB())
	var matrix []byte
	half := 32768.0 / 65535 // the connection space's XYZ are stored from 0 to 1.99997
	for _, row := range colorimetry.SRGB.ToXYZ {
		matrix = append(matrix, xyzNumbers(row[0]*half, row[1]*half, row[2]*half)...)
	}
	matrix = append(matrix, xyzNumbers(0, 0, 0)...)
	offsets := []int{32}
	parts := [][]byte{straights, matrix, curves, clut, straights}
	for k, p := range parts[:4] {
		offsets = append(offsets, offsets[k]+len(p))
	}
	head := join(kind("mAB "), []byte{3, 3, 0, 0})
	for _, o := range offsets { // B curves, matrix, M curves, grid, A curves
		head = be.AppendUint32(head, uint32(o))
	}
	return iccProfile(4, "RGB ", "XYZ ", iccPart{"desc", mlucTag("Test modular")}, iccPart{"A2B0", join(append([][]byte{head}, parts...)...)})
}
