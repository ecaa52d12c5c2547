package photo

import (
	"encoding/binary"
	"image"
	"slices"
)

// tiffParts are the tags of a plain picture in one strip, which follows the table.
func tiffParts(w, h, samples int, bits uint16) map[uint16]entry {
	depth := entry{258, 3, uint32(samples), nil}
	for range samples {
		depth.value = binary.LittleEndian.AppendUint16(depth.value, bits)
	}
	kind := uint16(2)
	if samples == 1 {
		kind = 1
	}
	bytes := uint32(w * h * samples * int(bits) / 8)
	return map[uint16]entry{
		256: long(256, uint32(w)), 257: long(257, uint32(h)), 258: depth, 259: short(259, 1), 262: short(262, kind),
		277: short(277, uint16(samples)), 278: long(278, uint32(h)), 279: long(279, bytes), 284: short(284, 1),
	}
}

// tiffOf lays out a TIFF of tags and the picture's bytes.
func tiffOf(parts map[uint16]entry, pixels []byte, more ...entry) []byte {
	all := make([]entry, 0, len(parts)+len(more)+1)
	for _, e := range more {
		parts[e.tag] = e
	}
	if _, tiled := parts[322]; !tiled && parts[273].value == nil {
		parts[273] = long(273, 0)
	}
	for _, e := range parts {
		all = append(all, e)
	}
	slices.SortFunc(all, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	size := len(table(8, 0, all...))
	for i := range all {
		if all[i].tag == 273 && parts[273].value != nil && binary.LittleEndian.Uint32(all[i].value) == 0 {
			all[i] = long(273, uint32(8+size))
		}
	}
	return join(tiffLE, table(8, 0, all...), pixels)
}

// rgbTIFF is a picture as a plain TIFF of 8 bits with more tags.
func rgbTIFF(m *image.NRGBA, more ...entry) []byte {
	var pixels []byte
	for i := 0; i < len(m.Pix); i += 4 {
		pixels = append(pixels, m.Pix[i:i+3]...)
	}
	return tiffOf(tiffParts(m.Rect.Dx(), m.Rect.Dy(), 3, 8), pixels, more...)
}

// iccTag carries a profile.
func iccTag(profile []byte) entry {
	return entry{34675, 7, uint32(len(profile)), profile}
}
