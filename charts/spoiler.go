package charts

import (
	"padband/charts/strict"
)

// Spoiler is something in the water that makes a pad read wrong, which another pad of
// the same strip shows.
type Spoiler struct {
	Analyte string  // which pad of this chart shows it
	Over    float64 // what that pad reads, in its unit on this chart, over which the reading is spoiled
	How     SpoilHow
	Source  string // the maker's sheet or whoever says so
}

// SpoilHow says in one word what a spoiler does to a pad.
type SpoilHow string

// Ways of spoiling. A pad that its own analyte bleaches names itself.
const (
	SpoilBleaches SpoilHow = "bleaches" // the pad turns white, as from nothing
	SpoilDisturbs SpoilHow = "disturbs" // the pad reads wrong in another way
)

// BleachesItself reports whether very much of the analyte turns its own pad white.
func (a Analyte) BleachesItself() bool {
	for _, s := range a.SpoiledBy {
		if s.Analyte == a.Name {
			return true
		}
	}
	return false
}

// readSpoilers reads what spoils an analyte's pad. Whether the chart has the analytes
// that it names is checked by [checkSpoilers].
func readSpoilers(f strict.Fields) (out []Spoiler) {
	for _, item := range f.List("spoiled_by", maxAnalytes) {
		g := f.Object(item, "analyte", "over", "how", "source")
		for _, name := range []string{"analyte", "how", "source"} {
			g.Need(name)
		}
		s := Spoiler{
			Analyte: f.Name(g.By["analyte"]), Over: readConcentration(g, "over"),
			How:    SpoilHow(g.Choice("how", "", string(SpoilBleaches), string(SpoilDisturbs))),
			Source: g.Line("source"),
		}
		if v := g.By["source"]; v != nil && v.EmptyText() {
			f.Fail(v.Path(), "write who says so, such as the maker's sheet", "is empty")
		}
		out = append(out, s)
	}
	return out
}

// checkSpoilers refuses spoilers that no pad of the chart shows, that are named twice
// or that disturb their own pad.
func checkSpoilers(d *strict.Decoder, list *strict.Value, all []Analyte) {
	if d.Err != nil {
		return
	}
	names := map[string]bool{}
	for _, a := range all {
		names[a.Name] = true
	}
	for i, item := range d.Items(list, maxAnalytes) {
		seen := map[string]bool{}
		for k, s := range all[i].SpoiledBy {
			at := item.Field("spoiled_by") + "[" + strict.Figure(float64(k)) + "]"
			switch {
			case !names[s.Analyte]:
				d.Fail(at+".analyte", "name another analyte of this chart", "is %s, which the chart does not have", strict.Quote(s.Analyte))
			case seen[s.Analyte]:
				d.Fail(at+".analyte", "keep one of them", "names %s a second time", strict.Quote(s.Analyte))
			case s.Analyte == all[i].Name && s.How != SpoilBleaches:
				d.Fail(at+".how", `write "bleaches", or name another analyte`, "is %s, and a pad's own analyte can only bleach it",
					strict.Quote(string(s.How)))
			}
			seen[s.Analyte] = true
		}
	}
}
