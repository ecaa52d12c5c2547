package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"sync"
	"testing"

	"padband/colorimetry"
)

// phonePhoto is a JPEG of 12 megapixels and 3 to 4 MB: soft patches with sensor noise.
var phonePhoto = sync.OnceValue(func() []byte {
	const w, h = 4032, 3024
	rng := rand.New(rand.NewPCG(1, 2))
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			m.Y[y*m.YStride+x] = uint8(90 + (x/300*37+y/300*59)%120 + rng.IntN(30))
		}
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

// thirtyMarks are as large as pads and swatches of a close photo.
func thirtyMarks() []colorimetry.Region {
	var out []colorimetry.Region
	for i := range 30 {
		x, y := float64(310+600*(i%6)), float64(310+600*(i/6)%2400)
		out = append(out, colorimetry.Region{Shape: colorimetry.Polygon, Points: []colorimetry.Point{{X: x, Y: y}, {X: x + 260, Y: y + 5}, {X: x + 255, Y: y + 262}, {X: x - 4, Y: y + 250}}})
	}
	return out
}

func TestPhonePhotoSize(t *testing.T) {
	if n := len(phonePhoto()); n < 3_000_000 || n > 4_000_000 {
		t.Errorf("the benchmark's photo has %d bytes, not 3 to 4 MB", n)
	}
}

func BenchmarkBareDecode12MP(b *testing.B) {
	data := phonePhoto()
	b.ReportMetric(float64(len(data))/1e6, "MB/photo")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecodeAndSample12MP(b *testing.B) {
	data, marks := phonePhoto(), thirtyMarks()
	b.ReportAllocs()
	for b.Loop() {
		p, err := Decode(data, Limits{})
		if err != nil {
			b.Fatal(err)
		}
		for _, r := range marks {
			if _, err := p.Sample(r); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkGlance12MP makes the picture that the page shows first, as a JPEG, of a
// photo held across and of one held upright; to be set against BenchmarkBareDecode12MP.
func BenchmarkGlance12MP(b *testing.B) {
	data := phonePhoto()
	upright := append(append([]byte{0xff, 0xd8}, exifSegment(orientationBlock(6))...), data[2:]...)
	for name, file := range map[string][]byte{"across": data, "upright": upright} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, m, _, err := Glance(file, Limits{}, 1000)
				if err != nil || m.Bounds().Dx() < 1000 {
					b.Fatal(err, m.Bounds())
				}
				if err := jpeg.Encode(io.Discard, m, &jpeg.Options{Quality: 90}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSample(b *testing.B) {
	p, err := Decode(phonePhoto(), Limits{})
	if err != nil {
		b.Fatal(err)
	}
	r := thirtyMarks()[7]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Sample(r); err != nil {
			b.Fatal(err)
		}
	}
}

// A header that asks for more than the limit must cost next to nothing.
func BenchmarkHostileHeader(b *testing.B) {
	data := jpegOf(b, image.NewGray(image.Rect(0, 0, 8, 8)))
	at := findMarker(b, data, 0xc0)
	copy(data[at+5:], "\xff\xff\xff\xff")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Decode(data, Limits{}); err == nil {
			b.Fatal("65535 x 65535 pixels were decoded")
		}
	}
}

// BenchmarkImage makes the picture for people of a photo of 3 megapixels with a profile.
func BenchmarkImage(b *testing.B) {
	data, err := os.ReadFile("../../testdata/demo/kitchen.jpg")
	if err != nil {
		b.Fatal(err)
	}
	p, err := Decode(data, Limits{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p.Image(image.Rect(0, 0, p.Width, p.Height))
	}
}
