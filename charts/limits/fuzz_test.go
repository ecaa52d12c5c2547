package limits

import (
	"errors"
	"math"
	"strings"
	"testing"

	"padband/charts/strict"
	"padband/charts/units"
)

// FuzzParseLimits holds that any file of limits is taken or refused in one line
// by a [*FileError], and that what is taken has figures that can be judged by.
func FuzzParseLimits(f *testing.F) {
	f.Add([]byte(goodLimits))
	for _, name := range setOrder {
		data, err := limitFiles.ReadFile(name + ".limits.json")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ParseLimits(data)
		var fault *strict.FileError
		if err != nil {
			if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\r\n\x1b") {
				t.Fatalf("%T %q", err, err.Error())
			}
			return
		}
		for _, l := range s.Limits {
			if one := l.Value > 0; one == (l.TwoSided() && l.Low > 0 || len(l.Classes) > 1) {
				t.Fatalf("%+v", l)
			}
			_ = l.Text() + l.Whose() + l.SumsBy()
		}
	})
}

// FuzzParseLimit holds the same of a limit, a quantity and a dilution that
// are typed; a quantity reads back as itself.
func FuzzParseLimit(f *testing.F) {
	for _, text := range []string{"us-epa", "10 mg/L as N", "nitrate: 50 mg/L NO3", "6.5-8.5", "1+1, 3 %", "5 °dH", "pH 7", "0,3 ppm"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		_, errL := ParseLimit(text)
		q, errQ := units.ParseQuantity(text)
		d, errD := units.ParseDilution(text)
		var fault *units.Error
		for _, err := range []error{errL, errQ, errD} {
			if err != nil && (!errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\r\n\x1b")) {
				t.Fatalf("%T %q", err, err.Error())
			}
		}
		if errQ == nil {
			if again, err := units.ParseQuantity(q.String()); err != nil || again.Unit != q.Unit || math.Abs(again.Value-q.Value) > 1e-12*q.Value {
				t.Fatalf("%+v, then %+v, %v", q, again, err)
			}
		}
		if errD == nil && !(d.Factor() > 1 && d.Factor() <= 1000) {
			t.Fatalf("%+v", d)
		}
	})
}
