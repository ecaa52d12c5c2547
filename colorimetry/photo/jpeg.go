package photo

import (
	"bytes"
	"fmt"
)

// JPEG markers, ITU-T T.81 table B.1.
const (
	markSOI   = 0xd8
	markEOI   = 0xd9
	markSOS   = 0xda
	markAPP0  = 0xe0
	markAPP1  = 0xe1
	markAPP2  = 0xe2
	markAPP14 = 0xee
)

// maxScans caps the passes that a JPEG may take over the picture. Progressive files
// have about ten. Each pass can cost the decoder a walk over all pixels for some 250
// bytes of file, so thousands of them in a small file would take hours.
const maxScans = 100

// frame is a JPEG's frame header.
type frame struct {
	marker        byte
	precision     int
	width, height int
	ids           []byte
	sampling      []byte // high nibble across, low nibble down
}

// jpegWalk gathers a JPEG's header segments. It copies nothing but the parts of a
// profile.
type jpegWalk struct {
	frame   *frame
	exif    []byte
	parts   iccParts
	jfif    bool
	adobe   bool
	scanned map[byte]bool // components with a first scan
	scans   int
	ended   bool // the end marker was met
}

// readJPEG reads a JPEG's header segments and refuses a file that the decoder cannot
// read truthfully.
func readJPEG(data []byte) (*header, error) {
	w := jpegWalk{scanned: map[byte]bool{}}
	if err := w.walk(data); err != nil {
		return nil, err
	}
	f := w.frame
	if f == nil {
		return nil, brokenJPEG("it has no frame header")
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	h := &header{
		format: formatJPEG, width: f.width, height: f.height, depth: f.precision, matrix: matrixJFIF,
		grey: len(f.ids) == 1, chroma: f.chromaStep(), exif: w.exif,
	}
	h.colour.icc, h.colour.spoil = w.parts.join()
	if n := w.markerNote(); n != "" {
		h.notes = append(h.notes, Note{NoteNoMarker, n})
	}
	return h, nil
}

// complete reports a picture that a decoder might give back as finished although it is
// not.
func (w *jpegWalk) complete() error {
	if !w.ended {
		return brokenJPEG("its end marker is missing")
	}
	for _, id := range w.frame.ids {
		if !w.scanned[id] {
			return brokenJPEG("a colour plane is missing")
		}
	}
	return nil
}

func brokenJPEG(why string) error { return &BrokenError{Format: formatJPEG, Why: why} }

// walk reads segment after segment up to the end marker.
func (w *jpegWalk) walk(data []byte) error {
	i := 2
	for {
		i = nextMarker(data, i)
		if i >= len(data) {
			if w.frame == nil {
				return brokenJPEG("it ends within its header")
			}
			return w.complete()
		}
		m := data[i]
		i++
		switch {
		case m == markEOI:
			w.ended = true
			if w.frame == nil {
				return brokenJPEG("it ends before its picture")
			}
			return w.complete()
		case m == 0x01 || m >= 0xd0 && m <= markSOI: // these markers stand alone
			continue
		}
		body, next, ok := segment(data, i)
		if !ok {
			return brokenJPEG("it ends within its header")
		}
		if err := w.take(m, body); err != nil {
			return err
		}
		i = next
	}
}

// nextMarker returns the place of the next marker's code at or after i, or len(data).
func nextMarker(data []byte, i int) int {
	for i < len(data) {
		k := bytes.IndexByte(data[i:], 0xff)
		if k < 0 {
			return len(data)
		}
		i += k
		for i < len(data) && data[i] == 0xff {
			i++
		}
		if i < len(data) && data[i] != 0 {
			return i
		}
		i++
	}
	return len(data)
}

// segment returns a segment's body and the place after it.
func segment(data []byte, i int) (body []byte, next int, ok bool) {
	if i+2 > len(data) {
		return nil, 0, false
	}
	n := int(data[i])<<8 | int(data[i+1])
	if n < 2 || i+n > len(data) {
		return nil, 0, false
	}
	return data[i+2 : i+n], i + n, true
}

// take notes one segment.
func (w *jpegWalk) take(m byte, body []byte) error {
	switch {
	case m >= 0xc0 && m <= 0xcf && m != 0xc4 && m != 0xc8 && m != 0xcc:
		f, err := parseFrame(m, body)
		if err != nil {
			return err
		}
		if w.frame != nil {
			return brokenJPEG("it has two frame headers")
		}
		w.frame = f
	case m == markSOS:
		if w.scans++; w.scans > maxScans {
			return &UnsupportedError{fmt.Sprintf("this is an unusual JPEG in over %d scans", maxScans), unusualAdvice}
		}
		w.scan(body)
	case m == markAPP0:
		w.jfif = w.jfif || bytes.HasPrefix(body, []byte("JFIF\x00"))
	case m == markAPP1 && w.exif == nil && bytes.HasPrefix(body, []byte("Exif\x00")) && len(body) > 6:
		w.exif = body[6:]
	case m == markAPP2 && bytes.HasPrefix(body, []byte(iccLabel)):
		w.parts.add(body[len(iccLabel):], w.frame != nil)
	case m == markAPP14:
		w.adobe = w.adobe || bytes.HasPrefix(body, []byte("Adobe")) && len(body) >= 12
	}
	return nil
}

// scan notes which components a scan header begins (its spectral selection starts at 0).
func (w *jpegWalk) scan(body []byte) {
	if len(body) < 1 || len(body) < 4+2*int(body[0]) {
		return
	}
	n := int(body[0])
	if body[1+2*n] != 0 {
		return
	}
	for k := range n {
		w.scanned[body[1+2*k]] = true
	}
}

func parseFrame(m byte, body []byte) (*frame, error) {
	if len(body) < 6 || len(body) < 6+3*int(body[5]) {
		return nil, brokenJPEG("its frame header is too short")
	}
	f := &frame{
		marker: m, precision: int(body[0]),
		height: int(body[1])<<8 | int(body[2]), width: int(body[3])<<8 | int(body[4]),
	}
	for k := range int(body[5]) {
		f.ids = append(f.ids, body[6+3*k])
		f.sampling = append(f.sampling, body[7+3*k])
	}
	return f, nil
}

const unusualAdvice = "export it again as an ordinary JPEG"

// check refuses the kinds of JPEG that are valid but not read here, and says so in
// words.
func (f *frame) check() error {
	switch {
	case f.marker > 0xc2:
		return &UnsupportedError{"this is an unusual JPEG (lossless, hierarchical or arithmetic coding)", unusualAdvice}
	case f.precision != 8:
		return &UnsupportedError{fmt.Sprintf("this is an unusual JPEG with %d bits a channel", f.precision), unusualAdvice}
	case len(f.ids) == 4:
		return &UnsupportedError{"this JPEG is in printing ink colours (CMYK)", "export it as RGB"}
	case len(f.ids) != 1 && len(f.ids) != 3:
		return &UnsupportedError{fmt.Sprintf("this is an unusual JPEG with %d channels", len(f.ids)), unusualAdvice}
	}
	return nil
}

// chromaStep is the widest step between colour samples, in pixels.
func (f *frame) chromaStep() int {
	if len(f.sampling) != 3 {
		return 1
	}
	step := 1
	for k := 1; k < 3; k++ {
		for _, shift := range []int{4, 0} {
			y, c := int(f.sampling[0]>>shift&15), int(f.sampling[k]>>shift&15)
			if c > 0 {
				step = max(step, y/c)
			}
		}
	}
	return step
}

// markerNote says that nothing in the file tells whether its colours are luma and
// chroma or red, green and blue. Exif files are luma and chroma by the Exif standard.
func (w *jpegWalk) markerNote() string {
	if len(w.frame.ids) != 3 || w.jfif || w.adobe || w.exif != nil {
		return ""
	}
	taken := "luma and chroma"
	if string(w.frame.ids) == "RGB" {
		taken = "red, green and blue"
	}
	return "This JPEG has no JFIF, Exif or Adobe marker to say which kind of channels it holds; they are taken as " + taken +
		". If the picture looks tinted, export it again."
}
