//go:build ignore

// Generate writes scenes to a folder: NAME.jpg, NAME.chart.json and
// NAME.truth.json for each seed; with -without photos that do not show their chart.
//
//	go run generate.go [-without] FOLDER FIRST LAST
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"strconv"

	"padband/calib/scene/table"
)

func main() {
	without := flag.Bool("without", false, "photos without strip or chart, and a chart to look for")
	flag.Parse()
	if err := write(flag.Args(), *without); err != nil {
		log.Fatal(err)
	}
}

func write(args []string, without bool) error {
	if len(args) != 3 {
		return fmt.Errorf("give FOLDER FIRST LAST, not %d arguments", len(args))
	}
	first, err := strconv.ParseUint(args[1], 10, 32)
	if err != nil {
		return err
	}
	last, err := strconv.ParseUint(args[2], 10, 32)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(args[0], 0o755); err != nil {
		return err
	}
	for seed := first; seed <= last; seed++ {
		if err := one(filepath.Join(args[0], fmt.Sprintf("%04d", seed)), seed, without); err != nil {
			return err
		}
	}
	return nil
}

func one(name string, seed uint64, without bool) error {
	draw := table.Draw
	if without {
		draw = table.Without
	}
	s, err := draw(seed)
	if err != nil {
		return err
	}
	chart, err := s.ChartFile()
	if err != nil {
		return err
	}
	truth, err := s.TruthFile()
	if err != nil {
		return err
	}
	files := map[string][]byte{".jpg": s.Photo, ".chart.json": chart, ".truth.json": truth}
	if without {
		delete(files, ".truth.json")
	}
	for end, data := range files {
		if err := os.WriteFile(name+end, data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
