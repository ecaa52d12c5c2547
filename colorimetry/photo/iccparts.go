package photo

import (
	"bytes"
	"fmt"

	"padband/colorimetry/photo/profile"
)

const iccLabel = "ICC_PROFILE\x00"

// iccParts joins a profile that a JPEG carries in several segments: each part
// has a number from 1 and the count of all parts (ICC.1, annex B.4).
type iccParts struct {
	count byte
	part  map[byte][]byte
	spoil string
}

// add takes one part. late says that it came after the frame header.
func (p *iccParts) add(body []byte, late bool) {
	switch {
	case len(body) < 2:
		p.fault("a part is too short")
		return
	case late:
		p.fault("a part comes after the frame header")
		return
	}
	number, count := body[0], body[1]
	if p.part == nil {
		p.part, p.count = map[byte][]byte{}, count
	}
	switch {
	case count == 0 || count != p.count:
		p.fault("its parts disagree about their number")
	case number == 0 || number > count:
		p.fault(fmt.Sprintf("it has a part %d of %d", number, count))
	case p.part[number] != nil:
		p.fault(fmt.Sprintf("part %d is there twice", number))
	default:
		p.part[number] = body[2:]
	}
}

// fault keeps the first fault.
func (p *iccParts) fault(why string) {
	if p.spoil == "" {
		p.spoil = why
	}
}

// join returns the whole profile, or the reason why there is none. Both are empty when
// there was no part.
func (p *iccParts) join() (data []byte, spoil string) {
	if p.spoil != "" || p.part == nil {
		return nil, p.spoil
	}
	if len(p.part) == 1 && p.count == 1 {
		return p.part[1], ""
	}
	var all bytes.Buffer
	for n := 1; n <= int(p.count); n++ {
		b, ok := p.part[byte(n)]
		if !ok {
			return nil, fmt.Sprintf("part %d of %d is missing", n, p.count)
		}
		if all.Len()+len(b) > profile.MaxBytes {
			return nil, "it is too large"
		}
		all.Write(b)
	}
	return all.Bytes(), ""
}
