package readers

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/calib/agreement"
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/words"
)

// inCommon says what two readings have in common, and which errors then count.
var inCommon = map[agreement.Relation][2]string{
	agreement.SamePhoto: {"Both are of the same photo: strip, chart and light are shared. Only where the marks were put " +
		"and the noise in them count", "1.96 √(u² + u²), u the standard deviation of each by marks, noise and light"},
	agreement.OneStrip: {"Different photos of one strip: the strip's own error is shared, and only the errors of " +
		"reading the colour count. What both photos have in common of those is counted twice, so that a difference shows " +
		"rather too seldom", "√(U² + U²), U the half of each colour's range that faces the other"},
	agreement.TwoStrips: {"Different strips: all errors count, the strips' own too",
		"√(U² + U²), U the half that faces the other of what each water may be (E_n, ISO 13528)"},
	agreement.ByReference: {"A reading and another method: all errors of the reading count, the strip's own too, and the " +
		"uncertainty given", "√(U² + U²), U the half that faces the value of what the water may be, and the value's uncertainty, " +
		"taken to hold 95 times in 100 (E_n, ISO 13528)"},
}

// gapAdvice is what to do when two readings differ, by what they have in common.
var gapAdvice = map[agreement.Relation]string{
	agreement.SamePhoto:   "Look at the marks of both: one has left its patch, or missed a white area.",
	agreement.OneStrip:    "Look at the warnings of both photos, and take a third one in even light.",
	agreement.TwoStrips:   "Dip a third strip of the same sample, at the time the maker's sheet gives.",
	agreement.ByReference: "Trust the better method; check the strip's lot, date and timing.",
}

// singleUnit prints figures of readings in their unit, with as many decimals as show a
// tenth of what the two may differ by.
func singleUnit(g agreement.Gap) figurer {
	wide := g.Reach
	if g.Relation == agreement.SamePhoto || !(wide > 0) || math.IsInf(wide, 0) {
		wide = math.Max(math.Abs(g.Difference), g.A.Value/10)
	}
	u := ""
	if g.A.Unit != "" {
		u = agreement.UnitText(g.A.Unit, g.A.As)
	}
	return figurer{decimals: decimalsOf(wide / 10), unit: lines.OneLine(u)}
}

// GapText returns two readings of one sample compared as text for people, in 80
// columns; the first three sentences are the decision.
func GapText(g agreement.Gap) string {
	var b strings.Builder
	for _, s := range gapDecision(g) {
		lines.Paragraph(&b, "", s)
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", lines.UpperFirst(lines.OneLine(lines.WithUnit(g.A.Analyte, singleUnit(g).unit))))
	f := singleUnit(g)
	for _, s := range []agreement.Single{g.A, g.B} {
		lines.Paragraph(&b, "  ", singleLine(g, f, s))
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", inCommon[g.Relation][0]+".")
	lines.Paragraph(&b, "", gapSum(g, f))
	return b.String()
}

// gapDecision says whether they differ, by how much, and what to do. Outlines that nobody
// has looked at come before other advice: the difference may be theirs.
func gapDecision(g agreement.Gap) []string {
	out := gapDecided(g)
	if of := unchecked(g); of != "" {
		out[2] = of
	}
	return out
}

// unchecked says which of two readings rests on outlines that nobody has looked at; it is
// empty for neither.
func unchecked(g agreement.Gap) string {
	const rests = " on outlines that the program found and nobody has looked at. Look at them before relying on this."
	switch {
	case g.A.Unchecked && g.B.Unchecked:
		return "Both readings rest" + rests
	case g.A.Unchecked:
		return "The reading of " + singleName(g.A) + " rests" + rests
	case g.B.Unchecked:
		return "The reading of " + singleName(g.B) + " rests" + rests
	}
	return ""
}

// gapDecided is the decision by the figures.
func gapDecided(g agreement.Gap) []string {
	f := singleUnit(g)
	differ, known := g.Differ()
	switch {
	case !known:
		return []string{"Whether the two differ cannot be said.", lines.UpperFirst(g.Why) + ".", "Look at both readings as they are."}
	case differ:
		return []string{"The two differ by more than their errors allow" + doubted(g) + ".", gapSize(g, f), gapAdvice[g.Relation]}
	case doubted(g) != "":
		return []string{"The two agree within " + reachText(g, f) + doubted(g) + ".", gapSize(g, f),
			"Take that photo again before relying on it; see its warnings."}
	}
	return []string{"The two agree within their errors, " + reachText(g, f) + ".", gapSize(g, f),
		"Nothing needs to be done. Agreement is not correctness: both can be off alike."}
}

// doubted names the readings that are not to be relied on.
func doubted(g agreement.Gap) string {
	var names []string
	for _, s := range []agreement.Single{g.A, g.B} {
		if s.Reliability == "unreliable" {
			names = append(names, singleName(s))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return ", but " + names[0] + " is not to be used"
	}
	return ", but both are not to be used"
}

// reachText is what two readings may differ by through their errors.
func reachText(g agreement.Gap, f figurer) string {
	if g.Relation == agreement.SamePhoto {
		return inSteps(g.Reach)
	}
	return f.amount(g.Reach)
}

// gapSize is who is higher and by how much, in the unit and in swatch steps. It is a
// least difference where one of them lies past an end of its chart.
func gapSize(g agreement.Gap, f figurer) string {
	if g.Difference == 0 {
		return "Both say the same."
	}
	low, high := g.A, g.B
	if g.Difference > 0 {
		low, high = g.B, g.A
	}
	least := ""
	if low.Past == "below" || high.Past == "above" {
		least = "at least "
	}
	text := fmt.Sprintf("%s is higher, by %s%s", singleName(high), least, f.amount(math.Abs(g.Difference)))
	if !math.IsNaN(g.Steps) {
		text += fmt.Sprintf(" or %s", inSteps(math.Abs(g.Steps)))
	}
	return text + "."
}

// inSteps is a distance in swatch steps.
func inSteps(v float64) string {
	if v < 1 {
		return lines.Fixed(v, 2) + " of a step"
	}
	return lines.Fixed(v, 2) + " steps"
}

// singleName is the name of a reading file, short enough for a sentence.
func singleName(s agreement.Single) string {
	name := strings.TrimSuffix(lines.OneLine(s.Name), ".reading.json")
	if r := []rune(name); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return name
}

// singleLine is one of the two with the band that counts.
func singleLine(g agreement.Gap, f figurer, s agreement.Single) string {
	band, name := s.Water, "the water may be"
	if g.Relation == agreement.SamePhoto || g.Relation == agreement.OneStrip {
		band, name = s.Band, "colour read as"
	}
	text := f.num(s.Value)
	switch {
	case math.IsNaN(s.Value):
		text = "no value"
	case s.Past == "above":
		text += " or more"
	case s.Past == "below":
		text += " or less"
	}
	if g.Relation == agreement.ByReference && s.Reliability == "" {
		name = "its own range"
	}
	text += ", " + name + f.inBrackets(agreement.Estimate{Low: band.Low, High: band.High})
	if s.Reliability == "caution" || s.Reliability == "unreliable" {
		text += ", " + words.GradeWithin(calib.Reliability(s.Reliability))
	}
	if s.Unchecked {
		text += ", outlines not looked at"
	}
	return singleName(s) + from(s) + ": " + text
}

// from names the one of several photos that a reading is from; it is empty of one photo.
func from(s agreement.Single) string {
	if s.File == "" {
		return ""
	}
	return ", from " + lines.OneLine(s.File)
}

// gapSum shows the sum that decides: what the two may differ by through their errors,
// and how many times that they do differ.
func gapSum(g agreement.Gap, f figurer) string {
	how := inCommon[g.Relation][1]
	if _, known := g.Differ(); !known {
		return "By errors alone they may differ by " + how + "."
	}
	return fmt.Sprintf("By errors alone they may differ by %s, 95 times in 100: %s. The difference is %.2f times that; at "+
		"1 and more they differ.", reachText(g, f), how, math.Abs(g.Score))
}

// gapJSON is two readings compared as the JSON holds them.
type gapJSON struct {
	Format     int               `json:"format"`
	Readings   [2]singleJSON     `json:"compared"`
	Analyte    string            `json:"analyte"`
	Unit       string            `json:"unit"`
	As         string            `json:"as,omitempty"`
	Relation   string            `json:"relation"`
	Difference reading.Figure    `json:"difference"`
	Steps      reading.Figure    `json:"steps"`
	Reach      reading.Figure    `json:"expanded_uncertainty"`
	ReachUnit  string            `json:"expanded_uncertainty_in"`
	Score      reading.Figure    `json:"score"`
	EN         bool              `json:"is_e_n"`
	Formula    string            `json:"formula"`
	Verdict    string            `json:"verdict"`
	NotDefined map[string]string `json:"not_defined"`
	Program    reading.Program   `json:"program"`
}

// singleJSON is one of the two readings.
type singleJSON struct {
	Name        string            `json:"name"`
	Value       reading.Figure    `json:"value"`
	Range       string            `json:"range,omitempty"`
	Band        [2]reading.Figure `json:"band"`
	WaterBand   [2]reading.Figure `json:"water_band"`
	Reliability string            `json:"reliability,omitempty"`
	Photo       string            `json:"photo,omitempty"` // of several of one strip
	Unchecked   bool              `json:"marks_unchecked,omitempty"`
}

// GapJSON returns two readings compared as one line of JSON without its line
// break. The error means a fault of this program.
func GapJSON(g agreement.Gap, version string) ([]byte, error) {
	out := gapJSON{
		Format: reading.Format, Analyte: g.A.Analyte, Unit: g.A.Unit, As: g.A.As, Relation: string(g.Relation),
		Difference: reading.Figure(g.Difference), Steps: reading.Figure(g.Steps), Reach: reading.Figure(g.Reach),
		ReachUnit: "unit", Score: reading.Figure(g.Score),
		EN: g.Relation == agreement.TwoStrips || g.Relation == agreement.ByReference, Formula: inCommon[g.Relation][1],
		Verdict: gapDecision(g)[0], NotDefined: map[string]string{}, Program: reading.ProgramOf(version),
	}
	if g.Relation == agreement.SamePhoto {
		out.ReachUnit = "steps"
	}
	if g.Why != "" {
		out.NotDefined["score"] = g.Why
	}
	if math.IsNaN(g.Steps) {
		out.NotDefined["steps"] = "not defined: the first reading names no swatches to count steps by, or has no value"
	}
	for k, s := range []agreement.Single{g.A, g.B} {
		out.Readings[k] = singleJSON{s.Name, reading.Figure(s.Value), s.Past,
			[2]reading.Figure{reading.Figure(s.Band.Low), reading.Figure(s.Band.High)},
			[2]reading.Figure{reading.Figure(s.Water.Low), reading.Figure(s.Water.High)}, s.Reliability, s.File, s.Unchecked}
	}
	return json.Marshal(out)
}
