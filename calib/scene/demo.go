package scene

import (
	"fmt"

	"padband/charts"
)

//go:generate go run makedemo.go

// demoSeed draws the reagents, inks and papers of the demonstration.
const demoSeed = 669

// demoFamilies are the reagents of the demonstration's chart, in its order.
var demoFamilies = []string{"pink", "hardness", "acid"}

// Demo returns the scene of one of the two demonstration photos of a bundled
// chart of three pads: "kitchen" in good light, "cellar" in bad light. Steps
// are the pads' true places.
func Demo(name string, chart charts.Chart, steps []float64) (Config, error) {
	c := Config{
		Seed: demoSeed, Width: printedWidth, Height: printedWidth * 3 / 4,
		Chart: chart, Format: JPEGSRGB, Quality: 88, Surfaces: demoSurfaces(),
	}
	v, on, err := c.press()
	if err != nil {
		return c, err
	}
	if len(chart.Analytes) != len(demoFamilies) || len(steps) != len(demoFamilies) {
		return c, fmt.Errorf("scene: the demonstration wants %d analytes and as many steps", len(demoFamilies))
	}
	d := newDice(demoSeed, streamReagent)
	for i, a := range chart.Analytes {
		p := Pad{Family: demoFamilies[i], Step: steps[i], PrintCommon: 0.4, PrintEach: 0.4, Gloss: 0.009, Wet: 0.03, Blotch: 0.05}
		for tries := 0; !p.draw(d, values(&a), a.Parts, &on, &v); tries++ {
			if tries > mostTries {
				return c, errNoReagent
			}
		}
		c.Pads = append(c.Pads, p)
	}
	if name == "cellar" {
		return c, c.inCellar()
	}
	return c, c.inKitchen()
}

// values are an analyte's swatch values.
func values(a *charts.Analyte) (out []float64) {
	for _, s := range a.Swatches {
		out = append(out, s.Value)
	}
	return out
}

// demoSurfaces is a white card on an oak table.
func demoSurfaces() Surfaces {
	s := drawSurfaces(newDice(demoSeed, streamSurface))
	s.Paper = s.Card
	wood := edge(560, 45, 0.36).plus(1, new(flat(0.10)))
	s.Table, s.Vein = wood, wood.scaled(0.72)
	return s
}

// demoCamera is a middling phone.
func demoCamera() Camera {
	k := Camera{Saturation: 1.08, Contrast: 0.15, Lift: 0.95, Shoulder: 0.85, Read: 0.001, Shot: 6e-5, Blur: 0.6, Sharpen: 0.35, Flare: 0.004}
	k.Name, k.Sensitivity = drawSensor(newDice(demoSeed, streamCamera))
	k.Balance = [3]float64{1.02, 1, 0.98}
	return k
}

// inKitchen is window light.
func (c *Config) inKitchen() error {
	c.Class, c.Camera = Good, demoCamera()
	c.Camera.Exposure = 0.78
	c.Layout = Layout{Turn: -0.02, Keystone: [8]float64{0.01, 0.012, -0.006, 0.004, 0.004, -0.01, -0.008, -0.002}, MarkJitter: 1}
	window, err := lampNamed("daylight 5600")
	c.Lights = []Light{
		{Lamp: "daylight 5600", Power: window, Level: 1, Slope: [2]float64{-0.06, -0.04}, Curve: [3]float64{-0.03, -0.03, 0.01}},
	}
	return err
}

// inCellar is a warm lamp from one side with the photographer's shadow, a
// little daylight from the other, and the lamp mirrored in one pad.
func (c *Config) inCellar() error {
	c.Class, c.Fault, c.Camera = Bad, Mixed, demoCamera()
	c.Camera.Exposure, c.Camera.Shot, c.Camera.Read = 0.5, 3e-4, 0.002
	c.Camera.Balance = [3]float64{1.10, 1, 0.86}
	c.Layout = Layout{Turn: 0.035, Keystone: [8]float64{0.02, -0.006, -0.012, 0.014, 0.002, -0.004, 0.006, 0.006}, MarkJitter: 1.5}
	lamp, err := lampNamed("LED-B1")
	if err != nil {
		return err
	}
	hatch, err := lampNamed("daylight 9000")
	c.Lights = []Light{
		{
			Lamp: "LED-B1", Power: lamp, Level: 1, Slope: [2]float64{0.14, -0.10}, Curve: [3]float64{-0.06, -0.05, 0},
			Shadow: &Shade{X0: -1.6, Y0: -0.02, X1: -0.28, Y1: 1.8, Soft: 0.05, Angle: 0.3, Depth: 0.55},
		},
		{Lamp: "daylight 9000", Power: hatch, Level: 0.12, Slope: [2]float64{-0.25, 0.05}},
	}
	c.Glares = []Spot{{X: 408, Y: 438, RX: 34, RY: 22, Peak: 0.4}}
	return err
}
