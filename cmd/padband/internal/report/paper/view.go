package paper

import (
	"math"
	"strconv"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/colorimetry"
)

// view is the photo with its marks drawn over it, in the photo's own pixels.
type view struct {
	Src           string // of the picture
	Width, Height int    // of the picture
	Room          string // the drawing's viewBox
	Shapes        []shape
	Tags          []tag
	Key           string // which number is which analyte
	Size          string // of the numbers
}

// shape is one outline, drawn wide and pale first and narrow and dark on that.
type shape struct{ Points, Under, Over, Dash, Role string }

// tag is a pad's number beside it.
type tag struct{ X, Y, Text string }

// newView makes the view of a photo, with each pad's number beside it; it is nil without
// a picture or without the photo's size.
func newView(in report.Source, shown Picture, numbers []numbered) *view {
	w, h := in.Photo.Width, in.Photo.Height
	src := markup.Address(shown.Src)
	if src == "" || w <= 0 || h <= 0 {
		return nil
	}
	v := &view{Src: src, Width: shown.Width, Height: shown.Height, Room: "0 0 " + strconv.Itoa(w) + " " + strconv.Itoa(h)}
	unit := math.Max(float64(w), float64(h)) / 500
	v.Size = markup.Px(16 * unit)
	for _, m := range in.Placed.Whites {
		v.outline(m.Region, "white", unit, markup.Px(3*unit)+" "+markup.Px(2*unit))
	}
	for _, p := range in.Placed.Pads {
		for _, row := range p.Swatches {
			for _, m := range row {
				v.outline(m.Region, "swatch", unit, "")
			}
		}
	}
	var key []string
	for _, n := range numbers {
		for _, p := range in.Placed.Pads {
			switch {
			case p.Analyte.Name != n.analyte || len(p.Pad) == 0:
			case n.number == "":
				v.pads(p, unit)
			default:
				key = append(key, n.number+" "+lines.OneLine(n.analyte))
				v.pads(p, unit)
				v.tag(p, n.number, unit, float64(w))
			}
		}
	}
	v.Key = lines.List(key)
	return v
}

// numbered is an analyte with the number of its reading; a pad that is read from another
// photo of its strip has none.
type numbered struct{ analyte, number string }

// pads draws a pad's parts.
func (v *view) pads(p charts.PlacedAnalyte, unit float64) {
	for _, m := range p.Pad {
		v.outline(m.Region, "pad", unit, "")
	}
}

// tag puts a pad's number beside its first part.
func (v *view) tag(p charts.PlacedAnalyte, number string, unit, width float64) {
	least, most := p.Pad[0].Region.Bounds()
	x := least.X - 10*unit
	if x < 8*unit {
		x = math.Min(most.X+10*unit, width-8*unit)
	}
	v.Tags = append(v.Tags, tag{markup.Px(x), markup.Px((least.Y+most.Y)/2 + 5.5*unit), number})
}

// outline draws the edge of a region. The edge of a pad is thicker than other edges.
func (v *view) outline(r colorimetry.Region, role string, unit float64, dash string) {
	over := 0.8 * unit
	if role == "pad" {
		over = 1.8 * unit
	}
	var points []string
	for _, p := range r.Outline() {
		points = append(points, markup.Px(p.X)+","+markup.Px(p.Y))
	}
	if len(points) > 0 {
		v.Shapes = append(v.Shapes, shape{strings.Join(points, " "), markup.Px(over + 1.4*unit), markup.Px(over), dash, role})
	}
}

// piece is the photo with the drawing over it; it is nothing without a picture.
func (v *view) piece() markup.Piece {
	if v == nil {
		return markup.Pieces{}
	}
	drawn := markup.Block("svg", "",
		markup.Each(v.Shapes, shape.piece),
		markup.Each(v.Tags, func(t tag) markup.Piece {
			return markup.El("text", "paper-tag", markup.Prose(t.Text)).With("x", t.X, "y", t.Y, "font-size", v.Size, "font-weight", "700",
				"font-family", "sans-serif", "text-anchor", "middle", "fill", "#000", "stroke", "#fff")
		}),
	).With("viewBox", v.Room, "role", "img", "aria-label", "Where pads, swatches and white areas were marked",
		"fill", "none", "stroke-linejoin", "round")
	photo := markup.El("img", "").With("src", v.Src, "alt", "The photo, upright, made smaller",
		"width", strconv.Itoa(v.Width), "height", strconv.Itoa(v.Height))
	return markup.Block("figure", "paper-view",
		markup.El("div", "paper-photo", photo, markup.Prose("\n"), drawn),
		markup.El("figcaption", "", markup.Prose(v.caption())))
}

// caption says which line marks what, and which number is which analyte.
func (v *view) caption() string {
	key := ""
	if v.Key != "" {
		key = ", " + v.Key
	}
	return "Thick: the pads" + key + ". Thin: swatches. Dashed: white areas, which tell the light."
}

// piece is one outline: a pale, wide line below and a dark, narrow line on it.
func (s shape) piece() markup.Piece {
	outline := func(colour, width string) markup.Elem {
		return markup.El("polygon", "").With("points", s.Points, "stroke", colour, "stroke-width", width)
	}
	over := outline("#000", s.Over)
	if s.Dash != "" {
		over.With("stroke-dasharray", s.Dash)
	}
	return markup.El("g", "paper-"+s.Role, outline("#fff", s.Under), over)
}
