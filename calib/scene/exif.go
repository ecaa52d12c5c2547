package scene

import "encoding/binary"

// Exif is what the camera says of the photo.
type Exif struct {
	Make, Model string
	Taken       string // "2006:01:02 15:04:05"
	Offset      string // "+01:00"
	ISO         uint16
	Exposure    [2]uint32 // seconds, a fraction
}

// into puts the EXIF block behind the start of a JPEG file.
// Source: Exif 2.32 (CIPA DC-008), 4.5 and 4.6; TIFF 6.0.
func (e *Exif) into(file []byte) []byte {
	body := append([]byte("Exif\x00\x00"), e.tiff()...)
	segment := []byte{0xff, 0xe1}
	segment = binary.BigEndian.AppendUint16(segment, uint16(len(body)+2))
	segment = append(segment, body...)
	return append(append(append([]byte(nil), file[:2]...), segment...), file[2:]...)
}

// entry is one field of a directory.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func text(tag uint16, s string) entry {
	return entry{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

func short(tag, v uint16) entry {
	return entry{tag, 3, 1, binary.BigEndian.AppendUint16(nil, v)}
}

// tiff is the block itself: the main directory and the Exif one.
func (e *Exif) tiff() []byte {
	out := []byte("MM\x00\x2a\x00\x00\x00\x08")
	main := []entry{text(0x010f, e.Make), text(0x0110, e.Model), short(0x0112, 1), text(0x0132, e.Taken), {0x8769, 4, 1, []byte{0, 0, 0, 0}}}
	fraction := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, e.Exposure[0]), e.Exposure[1])
	sub := []entry{{0x829a, 5, 1, fraction}, short(0x8827, e.ISO), text(0x9003, e.Taken), text(0x9011, e.Offset), short(0x9209, 16)}
	at := 8 + uint32(len(directory(main, 8)))
	main[len(main)-1].value = binary.BigEndian.AppendUint32(nil, at)
	out = append(out, directory(main, 8)...)
	return append(out, directory(sub, at)...)
}

// directory writes entries in order of their tags, then their long values; at is its place in the block.
func directory(entries []entry, at uint32) []byte {
	out := binary.BigEndian.AppendUint16(nil, uint16(len(entries)))
	long := at + 2 + 12*uint32(len(entries)) + 4
	var tail []byte
	for _, e := range entries {
		out = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(out, e.tag), e.kind)
		out = binary.BigEndian.AppendUint32(out, e.count)
		if len(e.value) <= 4 {
			out = append(out, append(e.value, 0, 0, 0, 0)[:4]...)
			continue
		}
		out = binary.BigEndian.AppendUint32(out, long+uint32(len(tail)))
		tail = append(tail, e.value...)
		if len(tail)%2 == 1 {
			tail = append(tail, 0)
		}
	}
	out = append(out, 0, 0, 0, 0)
	return append(out, tail...)
}
