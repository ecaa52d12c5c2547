package charts

import "padband/charts/strict"

// Palest says which end of an analyte's row of swatches is pale, close to the
// white of the paper that it is printed on. Most dyes grow from a pale lowest
// swatch; the dyes of some analytes fade as the value rises; hardness and pH run
// from one colour to another.
type Palest string

// The ends. [PalestUnsaid] is of a chart that does not say.
const (
	PalestUnsaid  Palest = ""
	PalestLowest  Palest = "lowest"
	PalestHighest Palest = "highest"
	PalestNeither Palest = "neither"
)

// readPalest reads which end of a row is pale.
func readPalest(f strict.Fields) Palest {
	return Palest(f.Choice("palest", string(PalestUnsaid), string(PalestLowest), string(PalestHighest), string(PalestNeither)))
}
