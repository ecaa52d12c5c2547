package paper

import (
	"bytes"
	"encoding/base64"
	pixels "image"
	"image/jpeg"
	"math"

	"github.com/disintegration/imaging"

	"padband/calib/strip"
	"padband/cmd/padband/internal/report"
	"padband/colorimetry"
)

// Sizes of the pictures that a report holds, for people to look at.
const (
	previewPixels = 1_000_000
	cropWide      = 240 // pixels
	pictureGrade  = 85  // of JPEG
)

// Picture is a picture that is held in its own address, data:image/jpeg;base64,...
type Picture struct {
	Src           string
	Width, Height int // pixels
}

// Preview returns the upright photo as a report shows it: a JPEG of at most one
// megapixel, in which each pixel is the mean of the photo's pixels at its place. It is
// empty when there is no photo. The same photo gives the same bytes on one kind of
// processor and one version of Go.
func Preview(r *strip.Result) Picture {
	if r == nil || r.Photo == nil {
		return Picture{}
	}
	w, h := float64(r.Photo.Width), float64(r.Photo.Height)
	k := math.Min(1, math.Sqrt(previewPixels/(w*h)))
	m := r.Photo.Image(pixels.Rect(0, 0, r.Photo.Width, r.Photo.Height))
	return picture(m, max(1, int(w*k)), max(1, int(h*k)))
}

// Crops returns the function that gives the picture of a marked region and its
// surroundings (see [report.Around]), 240 pixels wide. [report.HTML] and [Page] take
// this function.
func Crops(r *strip.Result) func(colorimetry.Region) string {
	return func(mark colorimetry.Region) string {
		if r == nil || r.Photo == nil {
			return ""
		}
		least, most := report.Around(mark, r.Photo.Width, r.Photo.Height).Bounds()
		area := pixels.Rect(int(least.X), int(least.Y), int(math.Ceil(most.X)), int(math.Ceil(most.Y)))
		return picture(r.Photo.Image(area), cropWide, cropWide).Src
	}
}

// sized scales a picture to a size. In a smaller picture each pixel is a mean; a
// larger one shows the photo's own pixels where they are, and invents none.
func sized(m pixels.Image, width, height int) *pixels.NRGBA {
	how := imaging.Linear // takes the mean over all that a pixel stands for
	if width > m.Bounds().Dx() || height > m.Bounds().Dy() {
		how = imaging.NearestNeighbor
	}
	return imaging.Resize(m, width, height, how)
}

// picture scales an opaque picture to a size and puts it into the form that a report
// holds.
func picture(m pixels.Image, width, height int) Picture {
	if m.Bounds().Empty() {
		return Picture{}
	}
	out := sized(m, width, height)
	opaque := pixels.RGBA{Pix: out.Pix, Stride: out.Stride, Rect: out.Rect} // the same bytes; a JPEG of it is made faster
	var file bytes.Buffer
	if err := jpeg.Encode(&file, &opaque, &jpeg.Options{Quality: pictureGrade}); err != nil {
		return Picture{} // this cannot happen: a JPEG may be far larger, and a buffer takes all
	}
	return Picture{"data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(file.Bytes()), width, height}
}
