package charts

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"padband/charts/strict"
)

// onlyFileErrors fails when an error is of another type or not one line.
func onlyFileErrors(t *testing.T, err error) {
	t.Helper()
	var fault *strict.FileError
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
	for _, small := range []string{
		`{"chart":"c","analytes":[{"name":"a","unit":"u","swatches":[{"value":1},{"value":2}]}]}`,
		`{"chart":"c","analytes":[{"name":"a","unit":"pH","spacing":"log","swatches":[{"value":0.1},{"value":7},{"value":1e9}]}]}`,
		`{"chart":"c","analytes":[{"name":"a","kind":"presence","parts":2,"swatches":[{"value":1},{"value":2,"label":"l"}]}]}`,
		`{"chart":"c","analytes":[{"name":"a","unit":"u","swatches":[{"value":1},{"value":2}]}],"layout":{"cells":[{"role":"white","rect":[0,0,1,1]}]}}`,
		`{"chart":"c","analytes":[{"name":"a","unit":"u","swatches":[{"value":1},{"value":2}]}],"layout":{"cells":[{"role":"swatch","analyte":"a","value":1,"circle":[0.5,0.5,0.1]}]}}`,
		`{"print_colours":[{"lot":"A","day":"2026-11-25","light":"daylight","swatches":[{"analyte":"a","value":1,"lab":[9,-1,0],"sd":[0,0,1]}]}],` +
			`"chart":"c","analytes":[{"name":"a","unit":"u","swatches":[{"value":1},{"value":2}]}]}`,
	} {
		f.Add([]byte(small))
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
		if plain, err := ParseChart(Forget(data)); err != nil || !reflect.DeepEqual(c.Plain(), plain) {
			t.Fatalf("without what it remembers: %v\n%+v\n%+v", err, c.Plain(), plain)
		}
		looks := PrintColours{Lot: "fuzzed", Day: "2026-11-25", Light: LampDaylight, Swatches: []PrintColour{
			{c.Analytes[0].Name, c.Analytes[0].Swatches[0].Value, 1, [3]float64{50, 1, 2}, [3]float64{}}}}
		more, err := Remember(data, looks)
		if err != nil && len(c.Remembered) < maxLots || err == nil && string(Forget(more)) != string(Forget(data)) {
			t.Fatalf("a chart does not remember and forget: %v\n%s", err, more)
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
	for _, small := range []string{
		`{"regions":[{"role":"white","rect":[0,0,1,1]}]}`,
		`{"regions":[{"role":"white","material":"m","polygon":[[0,0],[9,0],[9,9]]}]}`,
		`{"corners":[[0,0],[9,0],[9,9],[0,9]],"regions":[{"role":"pad","analyte":"nitrate","circle":[50,50,9]},{"role":"swatch","analyte":"nitrate","value":5,"rect":[70,70,9,9]}]}`,
		`{"photo":{"width":4,"height":3},"sample":{"taken":"2026-11-25T14:03:10Z","point":"raw","kit":{"expires":"2027-05","opened":"2026-09-01"}}}`,
	} {
		f.Add([]byte(small))
	}
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
		if !m.Region.Inside(400, 300) || m.Region.Check() != nil {
			t.Fatalf("%s lies at %+v: %v", m.label(), m.Region, m.Region.Check())
		}
	}
	if len(p.Pads) == 0 {
		t.Fatal("nothing can be read, and no error")
	}
}
