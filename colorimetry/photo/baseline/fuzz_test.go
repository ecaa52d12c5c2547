package baseline

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"
)

// FuzzBaseline holds whatever is read here to what image/jpeg reads: whole, and
// where an area alone is wanted. What is faulty outside the area is refused with it,
// and a smaller picture is read of the same files, but for progressive ones.
func FuzzBaseline(f *testing.F) {
	for i, sampling := range samplings {
		f.Add(spec{20, 12, sampling, i % 3, i%2 == 0, uint64(i)}.file(), byte(i), byte(3*i), byte(1+i), byte(9))
		f.Add(spec{40, 50, sampling, i % 3, i%2 == 1, uint64(i)}.file(), byte(20), byte(17), byte(9), byte(3*i))
		f.Add(spec{20, 33, sampling, 0, i%2 == 1, uint64(i)}.progressive(), byte(10), byte(17), byte(9), byte(3*i))
	}
	f.Fuzz(func(t *testing.T, data []byte, x, y, w, h byte) {
		d := decoder{data: data}
		if d.header() && d.width*d.height > 1<<20 {
			return // its caller's limits refuse it
		}
		area := []image.Rectangle{image.Rect(int(x), int(y), int(x)+int(w), int(y)+int(h))}
		got, ok := Decode(data, []image.Rectangle{image.Rect(0, 0, d.width, d.height)})
		part, partly := Decode(data, area)
		_, whole := Decode(data, nil)
		others := ok && !d.several
		if partly != ok || whole != others {
			t.Fatalf("it is read whole: %t and %t, in part: %t", ok, whole, partly)
		}
		for samples := 2; samples <= 4; samples++ {
			p, smaller := Smaller(data, samples)
			if smaller != others {
				t.Fatalf("it is read whole: %t, of %d samples: %t", whole, samples, smaller)
			}
			if smaller {
				p.Samples(p.Width-1, p.Height-1)
			}
		}
		if !ok {
			return
		}
		want, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil || !equalTo(got, want, nil) || !equalTo(part, want, area) {
			t.Fatalf("image/jpeg says %v, or reads other samples", err)
		}
	})
}
