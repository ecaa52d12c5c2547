//go:build ignore

// Makedemo remakes the demonstration: two photos of an invented household
// well with their marks, and the truth. Run it by go generate.
package main

import (
	"crypto/sha256"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"padband/calib/scene"
	"padband/charts"
)

const folder = "../../testdata/demo"

// photo is one photo of the demonstration.
type photo struct {
	name   string
	values []float64 // nitrate mg/L as N, total hardness mg/L as CaCO3, pH
	exif   scene.Exif
	sample charts.SampleInfo
}

var kit = charts.Kit{Lot: "OW-2418", Expires: "2027-05", Opened: "2026-09-01"}

var photos = []photo{
	{
		"kitchen", []float64{8.6, 205, 7.3},
		scene.Exif{Make: "Padband", Model: "rendered", Taken: "2026:11:14 08:41:10", Offset: "-05:00", ISO: 64, Exposure: [2]uint32{1, 120}},
		charts.SampleInfo{Place: "kitchen", Point: "tap", Taken: "2026-11-14T08:41:10-05:00", Dipped: "2026-11-14T08:40:18-05:00", Kit: kit},
	},
	{
		"cellar", []float64{9.3, 232, 7.1},
		scene.Exif{Make: "Padband", Model: "rendered", Taken: "2026:11:14 09:12:35", Offset: "-05:00", ISO: 640, Exposure: [2]uint32{1, 25}},
		charts.SampleInfo{Place: "cellar, at the pressure tank", Point: "raw", Taken: "2026-11-14T09:12:35-05:00", Kit: kit},
	},
}

func main() {
	if err := remake(); err != nil {
		log.Fatal(err)
	}
}

func remake() error {
	chart, err := demoChart()
	if err != nil {
		return err
	}
	truth := "# True values of the rendered demonstration photos. Steps: 0 at the lowest swatch, 1 at the " +
		"next.\nphoto,analyte,unit,as,value,step\n"
	for _, p := range photos {
		rows, err := p.write(chart)
		if err != nil {
			return err
		}
		truth += rows
	}
	return os.WriteFile(filepath.Join(folder, "truth.csv"), []byte(truth), 0o644)
}

func demoChart() (charts.Chart, error) {
	for _, c := range charts.Bundled() {
		if c.Name == "orchard-well" {
			return c, nil
		}
	}
	return charts.Chart{}, fmt.Errorf("no bundled chart orchard-well")
}

// write renders one photo, writes it and its marks, and returns its rows of truth.
func (p photo) write(chart charts.Chart) (string, error) {
	rows, steps := "", []float64{}
	for i, a := range chart.Analytes {
		step := a.StepOf(p.values[i])
		steps = append(steps, step)
		rows += fmt.Sprintf("%s.jpg,%s,%s,%s,%g,%.4f\n", p.name, a.Name, a.Unit, a.As, p.values[i], step)
	}
	c, err := scene.Demo(p.name, chart, steps)
	if err != nil {
		return "", err
	}
	c.Exif = &p.exif
	s, err := scene.Render(c)
	if err != nil {
		return "", err
	}
	s.Marks.Photo.SHA256 = fmt.Sprintf("%x", sha256.Sum256(s.Photo))
	s.Marks.Sample = p.sample
	marks, err := s.Marks.Encode()
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(folder, p.name+".jpg"), s.Photo, 0o644); err != nil {
		return "", err
	}
	return rows, os.WriteFile(filepath.Join(folder, p.name+".marks.json"), marks, 0o644)
}
