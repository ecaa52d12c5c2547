package table

import (
	"encoding/json"
	"math"

	"padband/charts"
)

// truthFile is the form of a truth file.
type truthFile struct {
	Kind     Kind          `json:"kind"`
	Columns  bool          `json:"columns"`
	Down     bool          `json:"down"`
	Shape    string        `json:"shape"`
	Touching bool          `json:"touching"`
	Size     [2]int        `json:"size"`
	Regions  []truthRegion `json:"regions"`
}

type truthRegion struct {
	Role    charts.Role  `json:"role"`
	Analyte string       `json:"analyte"`
	Value   *float64     `json:"value,omitempty"`
	Polygon [][2]float64 `json:"polygon"`
}

// TruthFile writes the truth: outlines in pixels, to a tenth.
func (s *Scene) TruthFile() ([]byte, error) {
	f := truthFile{Kind: s.Kind, Columns: s.Columns, Down: s.Down, Shape: s.Form, Touching: s.Touching, Size: [2]int{s.Width, s.Height}}
	for _, r := range s.Regions {
		t := truthRegion{Role: r.Role, Analyte: r.Analyte}
		if r.Role == charts.RoleSwatch {
			t.Value = &r.Value
		}
		for _, p := range r.Polygon {
			t.Polygon = append(t.Polygon, [2]float64{tenth(p.X), tenth(p.Y)})
		}
		f.Regions = append(f.Regions, t)
	}
	return json.Marshal(f)
}

// ChartFile writes the chart, with "strip" where the pads come in another
// order than the rows.
func (s *Scene) ChartFile() ([]byte, error) {
	data, err := s.Chart.Encode()
	if err != nil || s.inOrder() {
		return data, err
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(data, &fields); err != nil {
		return nil, err
	}
	if fields["strip"], err = json.Marshal(s.Strip); err != nil {
		return nil, err
	}
	return json.Marshal(fields)
}

// inOrder reports whether the pads come in the order of the rows.
func (s *Scene) inOrder() bool {
	for i, a := range s.Chart.Analytes {
		if a.Name != s.Strip[i] {
			return false
		}
	}
	return true
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }
