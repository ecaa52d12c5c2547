package charts

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
)

// onlyFileErrors fails when an error is of another type or not one line.
func onlyFileErrors(t *testing.T, err error) {
	t.Helper()
	var fault *FileError
	if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\n\r\x1b") || fault.What == "" {
		t.Fatalf("not a one-line file error: %q", err)
	}
}

func FuzzParseChart(f *testing.F) {
	f.Add([]byte(goodChart))
	f.Add([]byte(stream))
	for _, c := range []string{"orchard-well", "mill-spring"} {
		data, _ := BundledFile(c)
		f.Add(data)
	}
	f.Add([]byte(`{"chart": "c", "analytes": [{"name": "a", "unit": "u", "unit": "v", "swatches": [{"value": 1e999}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := ParseChart(data)
		if err != nil {
			onlyFileErrors(t, err)
			return
		}
		for _, a := range c.Analytes {
			checkScale(t, a)
		}
		encoded, err := c.Encode()
		if err != nil {
			t.Fatalf("a chart that was read is not written: %v", err)
		}
		back, err := ParseChart(encoded)
		if err != nil || !reflect.DeepEqual(c, back) {
			t.Fatalf("%v\n%+v\n%+v", err, c, back)
		}
	})
}

// checkScale holds that values rise, and that steps and values agree.
func checkScale(t *testing.T, a Analyte) {
	t.Helper()
	last := math.Inf(-1)
	for s := 0.0; s <= float64(len(a.Swatches)-1); s += 0.25 {
		v := a.ValueAt(s)
		if !(v >= last) || math.IsInf(v, 0) {
			t.Fatalf("%+v: %v at step %v after %v", a, v, s, last)
		}
		last = v
		if back := a.StepOf(v); s == math.Trunc(s) && back != s || !(math.Abs(back-s) <= 1) {
			t.Fatalf("%+v: step %v is %v, which is step %v", a, s, v, back)
		}
	}
}

func FuzzParseMarks(f *testing.F) {
	f.Add([]byte(goodMarks))
	f.Add([]byte(streamMarks))
	f.Add([]byte(strings.Replace(strings.Replace(brookMarks, "%s", "[10,10],[210,10],[210,110],[10,110]", 1), "%s", "", 1)))
	f.Add([]byte(`{"regions": [{"role": "white", "polygon": [[0,0],[1,0],[0,1],[1,1]]}]}`))
	brook, err := ParseChart([]byte(goodChart))
	if err != nil {
		f.Fatal(err)
	}
	pair, err := ParseChart([]byte(stream))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ParseMarks(data)
		if err != nil {
			onlyFileErrors(t, err)
			return
		}
		encoded, err := m.Encode()
		if err != nil {
			t.Fatalf("marks that were read are not written: %v", err)
		}
		back, err := ParseMarks(encoded)
		if err != nil || !reflect.DeepEqual(m, back) {
			t.Fatalf("%v\n%+v\n%+v", err, m, back)
		}
		m.Photo, m.Chart = PhotoRef{}, ""
		for _, c := range []Chart{brook, pair} {
			p, err := m.Place(c, 400, 300)
			if err != nil {
				onlyFileErrors(t, err)
				continue
			}
			checkPlaced(t, p)
		}
	})
}

// checkPlaced holds that all that was promised is there and inside the photo.
func checkPlaced(t *testing.T, p Placed) {
	t.Helper()
	marks := p.Whites
	for _, a := range p.Pads {
		if len(a.Pad) != a.Analyte.Parts || len(a.Swatches) != len(a.Analyte.Swatches) {
			t.Fatalf("%s is not whole", a.Analyte.Name)
		}
		marks = append(marks, a.Pad...)
		for i, row := range a.Swatches {
			if len(row) != a.Analyte.Parts || !sameValue(row[0].Value, a.Analyte.Swatches[i].Value) {
				t.Fatalf("%s: swatch %d is not whole", a.Analyte.Name, i)
			}
			marks = append(marks, row...)
		}
	}
	for _, m := range marks {
		if !within(m.Region, 400, 300) || m.Region.Check() != nil {
			t.Fatalf("%s lies at %+v: %v", m.label(), m.Region, m.Region.Check())
		}
	}
	if len(p.Pads) == 0 {
		t.Fatal("nothing can be read, and no error")
	}
}
