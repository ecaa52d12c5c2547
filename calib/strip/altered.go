package strip

import (
	"padband/calib"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// colours looks for any colour in the photo: in the marks first, and where these have
// none in the whole photo, which again gives where only parts were decoded. Without it
// nothing is said of parts. The error is a [*photo.NoColourError].
func colours(p *photo.Photo, marked []colorimetry.Region, again func() (*photo.Photo, error)) error {
	if len(marked) == 0 || p.Hues(marked...) != photo.NoHue {
		return nil
	}
	hues, err := huesOfAll(p, again)
	if err == nil && hues == photo.NoHue {
		err = &photo.NoColourError{}
	}
	return err
}

// altered warns of a picture of one hue: in all marks, and in the whole photo.
func altered(p *photo.Photo, samples calib.Photo, again func() (*photo.Photo, error)) ([]calib.Warning, error) {
	if !samples.OneHue() {
		return nil, nil
	}
	if hues, err := huesOfAll(p, again); err != nil || hues != photo.OneHue {
		return nil, err
	}
	return []calib.Warning{{Code: calib.CodeAlteredPhoto, Weight: calib.Unreliable, Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: "The whole picture has one hue, as sepia has: its colours were taken away.",
		Then: "Use the photo as the camera stored it, without a filter."}}, nil
}

// huesOfAll are the hues of the whole photo; it is taken to have many where only parts
// of it can be had.
func huesOfAll(p *photo.Photo, again func() (*photo.Photo, error)) (photo.Hues, error) {
	if !p.Whole() {
		if again == nil {
			return photo.ManyHues, nil
		}
		whole, err := again()
		if err != nil {
			return photo.ManyHues, err
		}
		p = whole
	}
	return p.Hues(), nil
}
