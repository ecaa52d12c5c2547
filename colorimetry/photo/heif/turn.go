package heif

import "fmt"

// Turn is one step from the coded picture to the upright one: a cut, a quarter
// turn or a mirroring.
type Turn struct {
	Kind          TurnKind
	X, Y          int // of a cut: its top left corner
	Width, Height int // of the picture after the step
}

// TurnKind says what a step does.
type TurnKind int

// Steps.
const (
	Cut          TurnKind = iota // to the rectangle at X, Y of Width by Height
	QuarterLeft                  // a quarter turn anticlockwise
	Half                         // half a turn
	QuarterRight                 // a quarter turn clockwise
	FlipRows                     // top and bottom change places
	FlipColumns                  // left and right change places
)

// readTurns reads the steps in the order in which the item's properties list
// them (ISO/IEC 23008-12, 6.3).
func (m *metaBox) readTurns(it *item, width, height int) (out []Turn, err error) {
	for _, p := range m.property(it, "clap", "irot", "imir") {
		t := Turn{Width: width, Height: height}
		switch c := (&cursor{data: p.body}); p.kind {
		case "clap":
			if t, err = readCut(c, width, height); err != nil {
				return nil, err
			}
		case "irot": // quarter turns anticlockwise
			angle := c.int(1) & 3
			if angle == 0 && !c.short {
				continue
			}
			t.Kind = Cut + TurnKind(angle)
			if angle != 2 {
				t.Width, t.Height = height, width
			}
			err = shortIn(c, p.kind)
		case "imir": // axis 0 exchanges top and bottom, 1 left and right
			t.Kind = FlipRows + TurnKind(c.int(1)&1)
			err = shortIn(c, p.kind)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, t)
		width, height = t.Width, t.Height
	}
	return out, nil
}

// readCut reads a clean aperture (ISO/IEC 14496-12, 12.1.4): width, height and
// the offset of its centre from the picture's, each a fraction. It must come to
// whole pixels within the picture.
func readCut(c *cursor, width, height int) (Turn, error) {
	var v [8]int64
	for i := range v {
		v[i] = int64(int32(c.uint(4)))
	}
	if err := shortIn(c, "clap"); err != nil {
		return Turn{}, err
	}
	w, x, err := cutSide(v[0], v[1], v[4], v[5], int64(width))
	if err != nil {
		return Turn{}, err
	}
	h, y, err := cutSide(v[2], v[3], v[6], v[7], int64(height))
	return Turn{Kind: Cut, X: x, Y: y, Width: w, Height: h}, err
}

// cutSide gives a cut's extent and start along one side of so many pixels:
// extent n/d about a centre that lies on/od from the side's middle.
func cutSide(n, d, on, od, side int64) (extent, start int, err error) {
	if d <= 0 || od <= 0 || n <= 0 {
		return 0, 0, broken("its cut makes no sense")
	}
	if n%d != 0 {
		return 0, 0, unsupported(fmt.Sprintf("this HEIC is cut to %d/%d pixels", n, d))
	}
	size := n / d
	// start = side/2 + on/od - size/2, as a fraction over 2 od.
	over := (side-size)*od + 2*on
	if size > side || over < 0 || over > 2*od*(side-size) {
		return 0, 0, broken("its cut reaches outside its picture")
	}
	if over%(2*od) != 0 {
		return 0, 0, unsupported("this HEIC is cut between two pixels")
	}
	return int(size), int(over / (2 * od)), nil
}
