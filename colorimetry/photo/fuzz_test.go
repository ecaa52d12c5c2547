package photo

import (
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// FuzzDecode: whatever the bytes, a photo or one plain error; and from a photo
// finite colours or one plain error.
func FuzzDecode(f *testing.F) {
	for _, name := range []string{"progressive.jpg", "restart.jpg", "three_scans.jpg", "ink.jpg", "rgb_ids.jpg", "lossy.webp", "alpha.webp"} {
		data, err := os.ReadFile("../../testdata/photos/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	m := scene(24, 20)
	for _, profile := range [][]byte{profileP3(), profileAdobe(), modularProfile([3]byte{2, 2, 2}, 2), tableProfile(colorimetry.SRGB, 3)} {
		f.Add(withICCP(pngOf(f, m), profile))
		f.Add(jpegOf(f, m, exifSegment(orientationBlock(6)), iccSegment(1, 2, profile[:100]), iccSegment(2, 2, profile[100:])))
	}
	f.Add(afterIHDR(pngOf(f, m), gammaChunk(45455), chrmSRGB(), chunk("eXIf", orientationBlock(7))))
	f.Add(afterIHDR(pngOf(f, m), chunk("cICP", []byte{12, 13, 0, 1})))
	f.Add(pngOf(f, image.NewPaletted(image.Rect(0, 0, 9, 9), color.Palette{color.NRGBA{90, 80, 70, 60}})))
	f.Add(losslessWebP(m, riffChunk("ICCP", profileP3()), riffChunk("EXIF", orientationBlock(5))))
	f.Add(rgbTIFF(m, short(274, 6), iccTag(profileP3())))
	f.Add(tiffOf(tiffParts(9, 9, 4, 16), make([]byte, 9*9*8), short(338, 1)))
	for _, name := range []string{"patches.heic", "grey.heic", "ramp10.heic", "odd.heic"} {
		f.Add(photoFile(f, name))
	}
	f.Add(heicWith(f, "corners.heic", cutProp(30, 1, 20, 1, 1, 2, 1, 2), rotateProp(1), mirrorProp(0), codeProp(12, 13, 1, 0), iccProp(profileP3())))
	f.Fuzz(func(t *testing.T, data []byte) {
		limits := Limits{Pixels: 1 << 14, Bytes: 1 << 20, HEIC: emptyDecoder}
		p, err := Decode(data, limits)
		if err != nil {
			oneLine(t, err, "decode")
			return
		}
		if w, h, err := Size(data, limits); err != nil || w != p.Width || h != p.Height {
			t.Fatalf("its size is %d x %d (%v), and it was decoded as %d x %d", w, h, err, p.Width, p.Height)
		}
		w, h := float64(p.Width), float64(p.Height)
		r := colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{}, {X: w, Y: h}}}
		s, err := p.Sample(r)
		if err != nil {
			oneLine(t, err, "sample")
			return
		}
		sum := s.XYZ.X + s.XYZ.Y + s.XYZ.Z + s.Cov[0][0] + s.Cov[1][2] + s.Effective + s.Slope[0].X + s.InsetShift + s.Place.X
		if math.IsNaN(sum) || math.IsInf(sum, 0) || !(s.Effective >= 1) {
			t.Fatalf("not finite: %+v", s)
		}
		p.Image(image.Rect(0, 0, p.Width, p.Height))
	})
}

// emptyDecoder gives an empty picture of luma and halved chroma: the real one runs
// in a process of its own and is not this package's.
func emptyDecoder(_ []byte, width, height int) (image.Image, error) {
	return image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420), nil
}

// FuzzProfile reaches the profile reader without the file around it.
func FuzzProfile(f *testing.F) {
	for _, p := range [][]byte{profileSRGB(), profileP3(), profileAdobe(), greyProfile(2.2), modularProfile([3]byte{2, 2, 2}, 2), tableProfile(colorimetry.SRGB, 3)} {
		f.Add(p, false)
		f.Add(p, true)
	}
	f.Fuzz(func(t *testing.T, data []byte, grey bool) {
		profile.Describe(data)
		tr, err := profile.Open(data, grey)
		if err != nil {
			return
		}
		if c := tr.XYZ(0.3, 0.6, 0.9); math.IsNaN(c.X + c.Y + c.Z) {
			t.Fatal("not a number")
		}
	})
}
