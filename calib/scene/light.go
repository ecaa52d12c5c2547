package scene

import "math"

// gridStep is the distance of the nodes at which light is computed, pixels.
const gridStep = 8

// at is the light's level at a place (-1 to 1 across the photo), before drift.
func (l *Light) at(x, y float64) float64 {
	v := l.Level * math.Exp(l.Slope[0]*x+l.Slope[1]*y+l.Curve[0]*x*x+l.Curve[1]*y*y+l.Curve[2]*x*y)
	if s := l.Share; s != nil {
		v *= s.Low + (s.High-s.Low)*logistic((x*math.Cos(s.Angle)+y*math.Sin(s.Angle)-s.At)/s.Soft)
	}
	if l.Shadow != nil {
		v *= 1 - l.Shadow.cover(x, y)
	}
	return v
}

// cover is the share of the light that the shadow takes at a place.
func (s *Shade) cover(x, y float64) float64 {
	mx, my := (s.X0+s.X1)/2, (s.Y0+s.Y1)/2
	cos, sin := math.Cos(s.Angle), math.Sin(s.Angle)
	u, v := (x-mx)*cos+(y-my)*sin, (y-my)*cos-(x-mx)*sin
	inside := func(t, half float64) float64 {
		return logistic((t+half)/s.Soft) * logistic((half-t)/s.Soft)
	}
	return s.Depth * inside(u, (s.X1-s.X0)/2) * inside(v, (s.Y1-s.Y0)/2)
}

// field is one light over the photo, tabulated: [node][channel].
type field struct {
	columns int
	nodes   [][3]float32
}

// newField tabulates a light for a photo.
func newField(l *Light, w, h int) field {
	f := field{columns: w/gridStep + 2}
	rows := h/gridStep + 2
	for j := range rows {
		for i := range f.columns {
			x, y := 2*float64(i*gridStep)/float64(w)-1, 2*float64(j*gridStep)/float64(h)-1
			v := l.at(x, y)
			var node [3]float32
			for c := range node {
				node[c] = float32(v * (1 + l.Drift[0][c]*x + l.Drift[1][c]*y))
			}
			f.nodes = append(f.nodes, node)
		}
	}
	return f
}

// row interpolates the light along a row of pixels.
func (f *field) row(y int, out [][3]float32) {
	j, fy := y/gridStep, (float32(y%gridStep)+0.5)/gridStep
	upper, lower := f.nodes[j*f.columns:], f.nodes[(j+1)*f.columns:]
	var left, right [3]float32
	for x := range out {
		if x%gridStep == 0 {
			i := x / gridStep
			for c := range left {
				left[c] = upper[i][c] + fy*(lower[i][c]-upper[i][c])
				right[c] = upper[i+1][c] + fy*(lower[i+1][c]-upper[i+1][c])
			}
		}
		fx := (float32(x%gridStep) + 0.5) / gridStep
		for c := range left {
			out[x][c] = left[c] + fx*(right[c]-left[c])
		}
	}
}
