package outline

import (
	"sort"

	"padband/colorimetry"
	"padband/colorimetry/patches"
)

// paper is what lies about a patch.
type paper struct {
	colour colorimetry.Lab // the brighter part of it
}

// ringAt is how far out, of the way from the middle to a corner or the middle of a
// side, the ground about a patch is looked at.
const ringAt = 1.38

// about looks at eight places round a patch and takes the middle of the three
// brightest, since print about a patch is darker than its paper.
func (s *search) about(p patches.Patch) paper {
	var seen []colorimetry.Lab
	for i, c := range p.Corners {
		d := p.Corners[(i+1)%4]
		for _, at := range [2]colorimetry.Point{c, {X: (c.X + d.X) / 2, Y: (c.Y + d.Y) / 2}} {
			at = colorimetry.Point{X: p.Middle.X + ringAt*(at.X-p.Middle.X), Y: p.Middle.Y + ringAt*(at.Y-p.Middle.Y)}
			if s.g.Has(at) {
				seen = append(seen, s.g.At(at))
			}
		}
	}
	if len(seen) == 0 {
		return paper{p.Colour}
	}
	sort.Slice(seen, func(i, j int) bool { return seen[i].L > seen[j].L })
	return paper{seen[min(1, len(seen)-1)]}
}
