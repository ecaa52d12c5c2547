package decoder

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"runtime/debug"

	"github.com/gen2brain/heic"

	"padband/cmd/padband/internal/lines"
)

// foreignLibrary is what a child says that would not decode with its own code.
const foreignLibrary = "foreign library"

// Bounds of a child's memory. The decoder holds the file, its own copy and the
// coded picture in 2 bytes a sample, and grows by copying: 500 MB of address
// space for 12 megapixels and under 1,500 MB for 48, and of 10 bits in 4:2:2
// 1,240 MB for 26, measured.
const (
	childMemory      = 600 << 20
	childPixelMemory = 48 // bytes a pixel
)

// maxPlain caps the file that a child takes.
const maxPlain = 1 << 30

// Answer decodes the picture that stands in in, and writes it or what is wrong
// with it; done is whether it could be decoded. It bounds the memory of the whole
// process, which is to end after it.
func Answer(in io.Reader, out io.Writer) (done bool) {
	err := decodeOne(in, out)
	if err != nil {
		fmt.Fprintf(out, "%s%.200s", markFail, lines.Blanked(err.Error()))
	}
	return err == nil
}

func decodeOne(in io.Reader, out io.Writer) error {
	head := make([]byte, 8)
	if _, err := io.ReadFull(in, head); err != nil {
		return err
	}
	width, height := int(binary.BigEndian.Uint32(head)), int(binary.BigEndian.Uint32(head[4:]))
	most := childMemory + childPixelMemory*int64(width)*int64(height)
	debug.SetMemoryLimit(most / 2) // collect early
	capMemory(most)
	plain, err := io.ReadAll(io.LimitReader(in, maxPlain))
	if err != nil {
		return err
	}
	img, err := decodePlain(plain)
	if err != nil {
		return err
	}
	if b := img.Bounds(); b.Min != (image.Point{}) || b.Dx() != width || b.Dy() != height {
		return fmt.Errorf("its header says %d x %d pixels and %d x %d came out", width, height, b.Dx(), b.Dy())
	}
	return writeAnswer(out, img)
}

// decodePlain decodes with the decoder's own code, never with a library that
// happens to be on the machine.
func decodePlain(plain []byte) (img image.Image, err error) {
	if heic.Dynamic() == nil {
		return nil, errors.New(foreignLibrary)
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the decoder stopped: %v", r)
		}
	}()
	own := os.Stdout
	os.Stdout = os.Stderr // where the decoder's own messages go
	defer func() { os.Stdout = own }()
	return heic.Decode(bytes.NewReader(plain))
}

// spoiltLuma is the number of first luma samples that the decoder overwrites
// when it gives their memory back before it hands them out (version 0.4.5).
const spoiltLuma = 24

// writeAnswer writes mark and planes. The samples that the decoder spoilt are
// replaced by those of the row below.
func writeAnswer(out io.Writer, img image.Image) error {
	switch m := img.(type) {
	case *image.Gray:
		mend(m.Pix, m.Stride, m.Rect)
		return writePlanes(out, markGrey, plane{m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy()})
	case *image.YCbCr:
		mend(m.Y, m.YStride, m.Rect)
		for mark, ratio := range ratios {
			if ratio == m.SubsampleRatio {
				w, h := chromaSize(m)
				return writePlanes(out, mark, plane{m.Y, m.YStride, m.Rect.Dx(), m.Rect.Dy()},
					plane{m.Cb, m.CStride, w, h}, plane{m.Cr, m.CStride, w, h})
			}
		}
	}
	return fmt.Errorf("%T came out", img)
}

func chromaSize(m *image.YCbCr) (w, h int) {
	w, h = m.Rect.Dx(), m.Rect.Dy()
	if m.SubsampleRatio != image.YCbCrSubsampleRatio444 {
		w = (w + 1) / 2
	}
	if m.SubsampleRatio == image.YCbCrSubsampleRatio420 {
		h = (h + 1) / 2
	}
	return w, h
}

func mend(luma []byte, stride int, r image.Rectangle) {
	if n := min(spoiltLuma, r.Dx()); r.Dy() > 1 && len(luma) >= stride+n {
		copy(luma[:n], luma[stride:stride+n])
	}
}

// plane is one plane of a picture.
type plane struct {
	pix           []byte
	stride        int
	width, height int
}

func writePlanes(out io.Writer, mark string, planes ...plane) error {
	for _, p := range planes {
		if p.stride < p.width || len(p.pix) < p.stride*(p.height-1)+p.width {
			return errors.New("the decoder gave too few samples")
		}
	}
	if _, err := io.WriteString(out, mark); err != nil {
		return err
	}
	for _, p := range planes {
		for y := range p.height {
			if _, err := out.Write(p.pix[y*p.stride:][:p.width]); err != nil {
				return err
			}
		}
	}
	return nil
}
