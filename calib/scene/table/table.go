// Package table renders photos of charts in many layouts on tables full of other
// things, with the truth of every pad and swatch, and photos without a chart. What
// matters is where things lie: colours are plausible and no more. Start at [Draw];
// the same seed gives the same photo.
package table

import (
	"errors"
	"fmt"
	"math"

	"padband/charts"
)

// Scene is a rendered photo with its truth.
type Scene struct {
	Photo         []byte // JPEG, in sRGB
	Width, Height int
	Kind          Kind
	Chart         charts.Chart // the analytes in the order of the printed rows from the top, or columns from the left
	Strip         []string     // the analytes in the order of the pads from the dipped tip
	Columns, Down bool         // analytes are columns; the highest value comes first
	Form          string       // of the patches: square, soft or round
	Touching      bool
	Regions       []Region
}

// errCrowded is the fault of a seed for which no composition was found.
var errCrowded = errors.New("table: no place for all patches was found")

// Draw renders the photo of a seed: six in ten are of flat cards, the others
// of bottles. It fails only when no composition is found in which all patches
// are seen.
func Draw(seed uint64) (Scene, error) {
	c := compose(seed, fmt.Sprintf("table-%d", seed))
	if c == nil {
		return Scene{}, fmt.Errorf("%w: seed %d", errCrowded, seed)
	}
	pic := c.paint(seed)
	d := newDice(seed, streamLight)
	photo, err := pic.expose(d.drawLight(), d)
	if err != nil {
		return Scene{}, err
	}
	return c.scene(photo), nil
}

// paint paints all that is in the photo, evenly lit.
func (c *composition) paint(seed uint64) *picture {
	pic := newPicture(c.width, c.height)
	table := newDice(seed, streamGround)
	pic.lay(table.drawGround(), c.cam, table.in(0, 2*math.Pi))
	c.clutter(pic, newDice(seed, streamClutter))
	d := newDice(seed, streamPrint)
	if c.flask != nil {
		c.flask.paint(pic, c.cam)
	}
	c.paintCard(pic, d)
	if c.flask != nil {
		c.flask.light(pic, c.cam)
	}
	c.paintStrip(pic, d)
	if d.chance(0.15) {
		c.glare(pic, d)
	}
	return pic
}

// scene is the photo with its truth.
func (c *composition) scene(photo []byte) Scene {
	s := Scene{
		Photo: photo, Width: c.width, Height: c.height, Kind: c.kind, Chart: c.chart, Columns: c.columns, Down: c.down,
		Form: [...]string{"square", "soft", "round"}[c.form], Touching: c.touching, Regions: c.regions(),
	}
	for _, i := range c.order {
		s.Strip = append(s.Strip, c.chart.Analytes[i].Name)
	}
	return s
}
