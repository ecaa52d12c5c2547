package strip

import (
	"padband/calib"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// colours looks at how many hues the photo has. Where the marks alone have fewer than
// photos have, the whole photo decides; again gives it where only parts were decoded.
// Without it nothing is said of parts. The error is a [*photo.NoColourError].
func colours(p *photo.Photo, marked []colorimetry.Region, again func() (*photo.Photo, error)) (ws []calib.Warning, err error) {
	if len(marked) == 0 || p.Hues(marked...) == photo.ManyHues {
		return nil, nil
	}
	whole := p
	if !p.Whole() {
		if again == nil {
			return nil, nil
		}
		if whole, err = again(); err != nil {
			return nil, err
		}
	}
	hues := whole.Hues()
	switch hues {
	case photo.NoHue:
		return nil, &photo.NoColourError{}
	case photo.OneHue:
		return []calib.Warning{{Code: calib.CodeAlteredPhoto, Weight: calib.Unreliable, Places: []calib.Place{{Kind: calib.PlacePhoto}},
			Seen: "The whole picture has one hue, as sepia has: its colours were taken away.",
			Then: "Use the photo as the camera stored it, without a filter."}}, nil
	}
	return nil, nil
}
