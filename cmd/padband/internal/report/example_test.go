package report

import (
	"padband/calib"
	"padband/charts"
)

func source(readings ...calib.Reading) Source {
	return Source{
		File: "kitchen.jpg", ChartSHA256: "cc", Version: "1.2.3",
		Photo:    PhotoFacts{SHA256: "aa", Profile: "Display P3", Taken: "2026-11-14T08:41:10-05:00", Width: 4032, Height: 3024},
		Chart:    charts.Chart{Name: "orchard-well", Version: "2", Title: "Orchard well"},
		Light:    calib.LightReport{Reliability: calib.Good, CCT: 5210.123, Duv: 0.0020004, Unevenness: 0.08},
		Readings: readings,
	}
}
