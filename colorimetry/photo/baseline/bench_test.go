package baseline

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"sync"
	"testing"
)

// detailed is a JPEG of 12 megapixels and about 3.5 MB: soft patches with a camera's noise.
var detailed = sync.OnceValue(func() []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	m := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		x, y := i%m.YStride, i/m.YStride
		m.Y[i] = uint8(90 + (x/300*37+y/300*59)%120 + rng.IntN(30))
	}
	for i := range m.Cb {
		x, y := i%m.CStride, i/m.CStride
		m.Cb[i] = uint8(100 + (x/150*23+y/150*41)%60 + rng.IntN(7))
		m.Cr[i] = uint8(100 + (x/150*31+y/150*17)%60 + rng.IntN(7))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 88}); err != nil {
		panic(err)
	}
	return b.Bytes()
})

func BenchmarkDecode12MP(b *testing.B) {
	data := detailed()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := Decode(data, nil); !ok {
			b.Fatal("it is not ordinary")
		}
	}
}

func BenchmarkStandard12MP(b *testing.B) {
	data := detailed()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}

// A hostile file: the largest picture that its few bytes could hold, of the same
// short code over and over, costs no more for each pixel than a photo does.
func BenchmarkEmptyBlocks(b *testing.B) {
	data := spec{8, 8, []byte{0x11}, 0, false, 1}.head(rand.New(rand.NewPCG(1, 1)))
	at := bytes.Index(data, []byte{0xff, markSOF0})
	copy(data[at+5:], "\x10\x00\x10\x00")
	data = append(data, make([]byte, 512*512*4/8)...) // 00 00: the shortest codes of a DC of 0 and of the end
	data = append(data, 0xff, markEOI)
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := Decode(data, nil); !ok {
			b.Fatal("it is not ordinary")
		}
	}
}

// A progressive photo of 3 megapixels of which a tenth is wanted.
func BenchmarkProgressive(b *testing.B) {
	data := spec{2048, 1536, []byte{0x22, 0x11, 0x11}, 0, false, 1}.progressive()
	want := []image.Rectangle{image.Rect(200, 200, 760, 760)}
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := Decode(data, want); !ok {
			b.Fatal("it was not read")
		}
	}
}

func BenchmarkProgressiveStandard(b *testing.B) {
	data := spec{2048, 1536, []byte{0x22, 0x11, 0x11}, 0, false, 1}.progressive()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}
