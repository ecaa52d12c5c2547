package baseline

import (
	"bytes"
	"image/jpeg"
	"testing"
)

// FuzzBaseline holds whatever is read here to what image/jpeg reads.
func FuzzBaseline(f *testing.F) {
	for i, sampling := range samplings {
		f.Add(spec{20, 12, sampling, i % 3, i%2 == 0, uint64(i)}.file())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d := decoder{data: data}
		if d.header() && d.width*d.height > 1<<20 {
			return // its caller's limits refuse it
		}
		got, ok := Decode(data)
		if !ok {
			return
		}
		want, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil || !equalTo(got, want) {
			t.Fatalf("image/jpeg says %v, or reads other samples", err)
		}
	})
}
