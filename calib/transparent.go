package calib

import (
	"fmt"

	"padband/colorimetry"
)

// faintSome is the share of see-through pixels above which a mark is named. Cameras
// store none; an editor's soft rim may leave a few.
const faintSome = 0.02

// checkTransparent looks for marks that an editor made partly see-through: their
// colours depend on what is laid under them.
func (r *Reading) checkTransparent(p Pad) {
	most, where := 0.0, Place{}
	look := func(samples []colorimetry.Sample, place func(k int) Place) {
		for k, s := range samples {
			if s.Transparent > most {
				most, where = s.Transparent, place(k)
			}
		}
	}
	look(p.Parts, p.partPlace)
	for i, sw := range p.Swatches {
		look(sw, p.swatchPart(i))
	}
	if !(most > faintSome) {
		return
	}
	r.warn(Warning{Code: CodeAlteredPhoto, Figure: most, Threshold: faintSome, Weight: Caution, Places: []Place{where},
		Seen: fmt.Sprintf("The picture is see-through in %.0f %% of %s, as no camera makes it.", 100*most, where.words()),
		Then: "Use the photo as the camera stored it."})
}
