package charts

import (
	"errors"

	"padband/colorimetry"
)

// readRegion reads the one shape that a mark or a cell must have.
func readRegion(f fields) colorimetry.Region {
	var shape *value
	for _, name := range []string{"polygon", "rect", "circle"} {
		v := f.by[name]
		if v != nil && shape != nil {
			f.fail(v.path(), "keep one of them", "stands beside %s, and a region has one shape", shape.name)
		}
		if v != nil {
			shape = v
		}
	}
	if shape == nil {
		f.fail(f.at.path(), "add polygon, rect or circle", "has no shape")
	}
	if f.err != nil {
		return colorimetry.Region{}
	}
	r, err := readShape(f.decoder, shape)
	var fault *colorimetry.RegionError
	if errors.As(err, &fault) {
		f.fail(shape.path(), fault.Do, "%s", fault.What)
	}
	return r
}

func readShape(d *decoder, v *value) (colorimetry.Region, error) {
	switch v.name {
	case "rect":
		n := readNumbers(d, v, "x, y, width, height", 4)
		return colorimetry.NewRect(n[0], n[1], n[2], n[3])
	case "circle":
		n := readNumbers(d, v, "x and y of the centre, radius", 3)
		return colorimetry.NewCircle(colorimetry.Point{X: n[0], Y: n[1]}, n[2])
	}
	var points []colorimetry.Point
	for _, item := range d.items(v, colorimetry.MaxPoints) {
		points = append(points, readPoint(d, item))
	}
	return colorimetry.NewPolygon(points...)
}

// readPoint reads [x, y].
func readPoint(d *decoder, v *value) colorimetry.Point {
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
		return at(path, fault.Do, "%s", fault.What)
	}
	return nil
}

// readNumbers reads a list of exactly count numbers; zeros after an error.
func readNumbers(d *decoder, v *value, what string, count int) []float64 {
	all := make([]float64, count)
	items := d.items(v, colorimetry.MaxPoints)
	if len(items) != count {
		d.fail(v.path(), "write ["+what+"]", "holds %d numbers, not %d", len(items), count)
		return all
	}
	for i, item := range items {
		all[i] = d.number(item)
	}
	return all
}
