package record

import (
	"slices"
	"strconv"
	"strings"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
)

// LongestFact is the most letters that a fact may have. A terminal hands over a line
// of at most 4,095 bytes and drops the rest, so a fact of this length is never cut
// unseen.
const LongestFact = 1000

// SampleFact is a fact of the sample that a person knows.
type SampleFact struct {
	Name  string // of its flag and of its field
	Label string // in bag-info.txt
	Words string // as a report names it
	Ask   string // what is asked for
	of    func(charts.SampleInfo) string
}

// These facts are words of a short list.
const (
	namePlace  = "place"
	namePoint  = "point"
	nameTaken  = "taken"
	nameLight  = "light"
	nameWater  = "water"
	labelLight = "Light"
	labelWater = "Water-Look"
)

// Optional reports whether a fact is often not there to be told, as under mixed light.
// It is not named among the facts that nobody gave.
func (a SampleFact) Optional() bool { return a.Name == nameLight || a.Name == nameWater }

// optional reports whether the fact of this label is [SampleFact.Optional].
func optional(label string) bool {
	return slices.ContainsFunc(Sample, func(a SampleFact) bool { return a.Label == label && a.Optional() })
}

// told is a fact's value as a report prints it.
func (a SampleFact) told(v string) string {
	switch a.Name {
	case nameLight:
		return words.Lamp(charts.Lamp(v))
	case nameWater:
		return words.Water(charts.Water(v))
	}
	return v
}

// inNoMarks gives nothing: it is for a fact that marks do not hold.
func inNoMarks(charts.SampleInfo) string { return "" }

// Sample lists the facts that a person is asked for, in order. The tester is the
// person whom marks files name in the field reader.
var Sample = []SampleFact{
	{namePlace, "Place", "Place", "place, such as the house", func(s charts.SampleInfo) string { return s.Place }},
	{namePoint, "Sampling-Point", "Sampling point", "sampling point, such as tap or raw", func(s charts.SampleInfo) string { return s.Point }},
	{"tester", "Tester", "Tester", "who dipped and read", func(s charts.SampleInfo) string { return s.Reader }},
	{nameTaken, "Photo-Taken", "Photo taken", "time of the photo", func(s charts.SampleInfo) string { return s.Taken }},
	{"dipped", "Dipped", "Dipped", "time of the dip", func(s charts.SampleInfo) string { return s.Dipped }},
	{"read", "Read", "Read by eye", "time of reading by eye", inNoMarks},
	{nameLight, labelLight, "Light of the photo", "the photo's light (daylight, lamp, tube, flash)",
		func(s charts.SampleInfo) string { return string(s.Light) }},
	{nameWater, labelWater, "Look of the water", "the water before the dip, in a white cup (clear, tint, dark, cloudy)",
		func(s charts.SampleInfo) string { return string(s.Water) }},
	{"lot", "Kit-Lot", "Kit lot", "the kit's lot", func(s charts.SampleInfo) string { return s.Kit.Lot }},
	{"expires", "Kit-Expires", "Kit expiry", "the kit's expiry date", func(s charts.SampleInfo) string { return s.Kit.Expires }},
	{"opened", "Kit-Opened", "Kit opened", "day the bottle was opened", func(s charts.SampleInfo) string { return s.Kit.Opened }},
	{"handling", "Handling-Rule-Followed", "Handling rule followed", "the kit's handling rule was followed (yes, no, how)", inNoMarks},
	{"note", "Note", "Note", "a note", func(s charts.SampleInfo) string { return s.Note }},
}

// These are the labels of the facts that the program itself knows.
const (
	labelReceived = "Photo-Received"
	labelSHA256   = "Photo-SHA-256"
	labelPosition = "Photo-Position"
	labelProgram  = "Program"
	labelMethod   = "Method"
	labelGo       = "Go-Version"
	labelBuild    = "Program-Build"
	labelForm     = "Sheet-Form"
	labelMissing  = "Facts-Missing"
	labelSigned   = "Signed-By"
	labelLooked   = "Outlines-Looked-At"

	programName = "padband"
	noOffset    = " (no offset)"
)

// known are the labels of the program's own facts that a report prints, with its words.
var known = []bag.Fact{
	{Label: labelReceived, Value: "Photo received"},
	{Label: labelPosition, Value: "Position in the photo"},
	{Label: labelLooked, Value: "Outlines looked at"},
	{Label: labelProgram, Value: "Read by"},
}

// FactsOf gives the facts of the sample. Each comes from what a person said, by its
// name, else from the marks, else, for the photo's time, from the photo itself; ""
// means that it is not known.
func FactsOf(r *strip.Result, said map[string]string) (out []bag.Fact) {
	for _, a := range Sample {
		v := strings.TrimSpace(said[a.Name])
		if v == "" {
			v = a.of(r.Marks.Sample)
		}
		if v == "" && a.Label == "Photo-Taken" {
			v = photoTime(r)
		}
		out = append(out, bag.Fact{Label: a.Label, Value: v})
	}
	return out
}

// photoTime is the photo's own time as the photo gives it; where it has no offset,
// that is said.
func photoTime(r *strip.Result) string {
	f := r.Photo.Facts
	if f.Taken == "" || f.TakenHasOffset {
		return f.Taken
	}
	return f.Taken + noOffset
}

// programFacts are the facts that are known without asking a person, of photos of which
// bag-info.txt is to hold photoFacts.
func (m Made) programFacts(again Reread, photoFacts []bag.Fact) []bag.Fact {
	p := reading.ProgramOf(m.Version)
	facts := append([]bag.Fact{{Label: labelReceived, Value: m.received()}}, photoFacts...)
	facts = append(facts, []bag.Fact{
		{Label: labelPosition, Value: yes(again.position())},
		{Label: labelProgram, Value: programName + " " + p.Version},
		{Label: labelMethod, Value: strconv.Itoa(p.Method)},
		{Label: labelGo, Value: p.Go},
		{Label: labelBuild, Value: build()},
		{Label: labelForm, Value: strconv.Itoa(paper.Form)},
	}...)
	if looked := again.looked(); looked != "" { // an empty fact would count as missing
		facts = append(facts, bag.Fact{Label: labelLooked, Value: looked})
	}
	return facts
}

// yes says "yes" or "no".
func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// entries gives the facts as a report prints them, and the names of those that nobody
// gave.
func entries(facts []bag.Fact) (out []words.Entry, missing []string) {
	in := bag.Info(facts)
	for _, a := range Sample {
		switch v := in.Get(a.Label); {
		case v != "":
			out = append(out, words.Entry{Label: a.Words, Value: a.told(v)})
		case !a.Optional():
			missing = append(missing, a.Words)
		}
	}
	for _, k := range known {
		if v := in.Get(k.Label); v != "" {
			if k.Label == labelProgram {
				v += ", method " + in.Get(labelMethod) + ", " + in.Get(labelGo)
			}
			out = append(out, words.Entry{Label: k.Value, Value: v})
		}
	}
	return out, missing
}

// Subject says what was tested, such as "Mill Lane 7, tap"; it is empty when that is
// not known.
func Subject(facts []bag.Fact) string {
	in := bag.Info(facts)
	parts := []string{in.Get("Place"), in.Get("Sampling-Point")}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}
