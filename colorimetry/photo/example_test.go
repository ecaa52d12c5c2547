package photo_test

import (
	"fmt"
	"os"

	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// A photo is decoded for the regions that are wanted of it, and each gives its
// colour, with its spread, in linear light.
func ExampleDecode() {
	data, err := os.ReadFile("../../testdata/demo/kitchen.jpg")
	if err != nil {
		fmt.Println(err)
		return
	}
	pad, err := colorimetry.NewRect(340, 430, 60, 55)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := photo.Decode(data, photo.Limits{}, pad)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := p.Sample(pad)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Width, "x", p.Height, "pixels,", p.Facts.Profile)
	fmt.Printf("Y %.2f of white, clipped %.0f %%\n", s.XYZ.Y, 100*s.Clipped)
	// Output:
	// 2016 x 1512 pixels, sRGB
	// Y 0.51 of white, clipped 0 %
}
