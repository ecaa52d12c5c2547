package scene

import (
	"encoding/binary"
	"math"

	"padband/colorimetry"
)

// iccTag is one tag of a profile: its name and its body, type first.
type iccTag struct{ name, body string }

// srgbProfile is a display profile of sRGB, version 4: its matrix, and its
// curve as a formula. Its description is "sRGB". Source of the layout: ICC.1:2022.
func srgbProfile() []byte {
	tags := []iccTag{
		{"desc", iccText("sRGB")},
		{"cprt", iccText("No copyright, use freely")},
		{"wtpt", iccXYZ(colorimetry.D50)},
		{"chad", "sf32\x00\x00\x00\x00" + fixedPoint(adaptation()...)},
	}
	for i, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		m := colorimetry.SRGB.ToXYZ
		tags = append(tags, iccTag{name, iccXYZ(colorimetry.XYZ{X: m[0][i], Y: m[1][i], Z: m[2][i]})})
	}
	// The curve of IEC 61966-2-1, as a function of type 3 (10.18).
	curve := "para\x00\x00\x00\x00\x00\x03\x00\x00" + fixedPoint(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)
	for _, name := range []string{"rTRC", "gTRC", "bTRC"} {
		tags = append(tags, iccTag{name, curve})
	}
	return iccFile(tags)
}

// iccFile writes header, table of tags and tags; tags of the same body share it.
func iccFile(tags []iccTag) []byte {
	be := binary.BigEndian
	out := make([]byte, 128)
	out[8], out[9] = 4, 0x40
	copy(out[12:], "mntrRGB XYZ ")
	copy(out[24:], []byte{0x07, 0xea, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0}) // 2026-01-01
	copy(out[36:], "acsp")
	copy(out[68:], fixedPoint(0.9642, 1, 0.8249))
	out = be.AppendUint32(out, uint32(len(tags)))
	at, tail := len(out)+12*len(tags), ""
	placed := map[string]int{}
	for _, t := range tags {
		if _, there := placed[t.body]; !there {
			placed[t.body] = at + len(tail)
			tail += t.body + string(make([]byte, -len(t.body)&3))
		}
		out = append(out, t.name...)
		out = be.AppendUint32(be.AppendUint32(out, uint32(placed[t.body])), uint32(len(t.body)))
	}
	out = append(out, tail...)
	be.PutUint32(out, uint32(len(out)))
	return out
}

// adaptation is the matrix, row by row, from the space's white to D50 (9.2.15).
func adaptation() (out []float64) {
	for _, row := range colorimetry.AdaptMatrix(colorimetry.D65, colorimetry.D50) {
		out = append(out, row[:]...)
	}
	return out
}

// iccText is a text in one language (10.15), ASCII only.
func iccText(s string) string {
	be := binary.BigEndian
	out := be.AppendUint32(be.AppendUint32([]byte("mluc\x00\x00\x00\x00"), 1), 12)
	out = be.AppendUint32(be.AppendUint32(append(out, "enUS"...), uint32(2*len(s))), 28)
	for _, r := range s {
		out = be.AppendUint16(out, uint16(r))
	}
	return string(out)
}

// iccXYZ is a colour (10.31).
func iccXYZ(c colorimetry.XYZ) string { return "XYZ \x00\x00\x00\x00" + fixedPoint(c.X, c.Y, c.Z) }

// fixedPoint writes numbers in steps of 1/65536 (4.6).
func fixedPoint(v ...float64) string {
	var out []byte
	for _, x := range v {
		out = binary.BigEndian.AppendUint32(out, uint32(int32(math.Round(x*65536))))
	}
	return string(out)
}

// withICC puts a profile that fits one segment behind the start of a JPEG
// file. Source: ICC.1:2022, annex B.4.
func withICC(file, profile []byte) []byte {
	body := append([]byte("ICC_PROFILE\x00\x01\x01"), profile...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe2}, uint16(len(body)+2))
	segment = append(segment, body...)
	return append(append(append([]byte(nil), file[:2]...), segment...), file[2:]...)
}
