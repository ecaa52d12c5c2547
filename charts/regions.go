package charts

import (
	"errors"

	"padband/charts/strict"
	"padband/colorimetry"
)

// readRegion reads the one shape that a mark or a cell must have.
func readRegion(f strict.Fields) colorimetry.Region {
	var shape *strict.Value
	for _, name := range []string{"polygon", "rect", "circle"} {
		v := f.By[name]
		if v != nil && shape != nil {
			f.Fail(v.Path(), "keep one of them", "stands beside %s, and a region has one shape", shape.Name)
		}
		if v != nil {
			shape = v
		}
	}
	if shape == nil {
		f.Fail(f.At.Path(), "add polygon, rect or circle", "has no shape")
	}
	if f.Err != nil {
		return colorimetry.Region{}
	}
	r, err := readShape(f.Decoder, shape)
	var fault *colorimetry.RegionError
	if errors.As(err, &fault) {
		f.Fail(shape.Path(), fault.Do, "%s", fault.What)
	}
	return r
}

func readShape(d *strict.Decoder, v *strict.Value) (colorimetry.Region, error) {
	switch v.Name {
	case "rect":
		n := readNumbers(d, v, "x, y, width, height", 4)
		return colorimetry.NewRect(n[0], n[1], n[2], n[3])
	case "circle":
		n := readNumbers(d, v, "x and y of the centre, radius", 3)
		return colorimetry.NewCircle(colorimetry.Point{X: n[0], Y: n[1]}, n[2])
	}
	var points []colorimetry.Point
	for _, item := range d.Items(v, colorimetry.MaxPoints) {
		points = append(points, readPoint(d, item))
	}
	return colorimetry.NewPolygon(points...)
}

// readPoint reads [x, y].
func readPoint(d *strict.Decoder, v *strict.Value) colorimetry.Point {
	n := readNumbers(d, v, "x, y", 2)
	return colorimetry.Point{X: n[0], Y: n[1]}
}

// inUnitSquare reports whether a region lies in the unit square, its edges
// included; a billionth beyond is rounding.
func inUnitSquare(r colorimetry.Region) bool {
	const slack = 1e-9
	least, most := r.Bounds()
	return least.X >= -slack && least.Y >= -slack && most.X <= 1+slack && most.Y <= 1+slack
}

// checkRegion returns what is wrong with a region as an error about its place.
func checkRegion(r colorimetry.Region, path string) error {
	var fault *colorimetry.RegionError
	if errors.As(r.Check(), &fault) {
		return strict.Fault(path, fault.Do, "%s", fault.What)
	}
	return nil
}

// readNumbers reads a list of exactly count numbers; zeros after an error.
func readNumbers(d *strict.Decoder, v *strict.Value, what string, count int) []float64 {
	all := make([]float64, count)
	items := d.Items(v, colorimetry.MaxPoints)
	if len(items) != count {
		d.Fail(v.Path(), "write ["+what+"]", "holds %d numbers, not %d", len(items), count)
		return all
	}
	for i, item := range items {
		all[i] = d.Number(item)
	}
	return all
}
