package report

import (
	_ "embed"
	"html/template"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/colorimetry"
)

//go:embed reading.html
var readingHTML string

var fragment = template.Must(template.New("reading").Funcs(template.FuncMap{"set": lines.Set, "words": fixedWords}).Parse(readingHTML))

// sheet is what the fragment shows.
type sheet struct {
	Readings []section
	Light    []warning
	Photo    []fact
	Unknown  []warning
	Sums     []summed
	Notes    []charts.Note
	Meaning  string
}

// section is one analyte's part of the sheet.
type section struct {
	Index             int
	Analyte, Bracket  string
	Reliability       string
	Head, Word, Doubt string
	First, Then       []string
	Judged            []against
	Next              []string
	Rule              *drawing
	Crops             *crops
	Warnings          []warning
	Figures           figures
}

// warning is a warning as it is shown: its code, the places that it applies to as
// a reading file has them, all of its text and the first sentence of that.
type warning struct{ Code, Where, Text, Seen string }

func shownWarning(w calib.Warning) warning {
	return warning{string(w.Code), placesText(w.Places), w.Text(), w.Seen}
}

// HTML returns the readings of one photo as a piece of a page: for each analyte
// a section with the words of [Text], the rule as a drawing, the pad and the
// swatches of its bracket from the photo, and the figures folded away. It is
// well-formed XML too, and carries no style and no script. crop returns the
// address of a picture of a marked region and what lies about it (see [Around]):
// one that begins with api/, or a data: address of a PNG or JPEG; without crop
// there are no pictures. The error means a fault of this program.
func HTML(s Source, crop func(colorimetry.Region) string) (string, error) {
	v := sheet{Light: lightWarnings(s.Light), Photo: photoFacts(s), Notes: s.Notes, Meaning: meaning}
	v.Sums = sumsOf(s)
	v.Unknown = unknownWarnings(s.Readings)
	for i, r := range s.Readings {
		v.Readings = append(v.Readings, newSection(i+1, r, s, crop))
	}
	var b strings.Builder
	if err := fragment.Execute(&b, v); err != nil {
		return "", err
	}
	return b.String(), nil
}

func newSection(index int, r calib.Reading, s Source, crop func(colorimetry.Region) string) section {
	w, m := say(r, s.Light), s.meaning(index-1)
	judged := judgedWords(m.Judgements)
	out := section{
		Index: index, Analyte: r.Analyte.Name, Bracket: lines.Plain(r.Bracket[0]) + " " + lines.Plain(r.Bracket[1]), Reliability: string(r.Reliability),
		Head: w.head, Word: w.word, Doubt: w.doubt, First: firstOf(w, r, m), Then: w.then, Judged: judged, Next: nextOf(judged),
		Crops: besides(r, s.Placed, crop), Figures: newFigures(r),
	}
	if w.scale {
		d := draw(index, r)
		out.Rule = &d
	}
	for _, x := range weighty(r) {
		out.Warnings = append(out.Warnings, shownWarning(x))
	}
	return out
}

func lightWarnings(l calib.LightReport) (out []warning) {
	for _, w := range l.Warnings {
		out = append(out, shownWarning(w))
	}
	return out
}

func unknownWarnings(readings []calib.Reading) (out []warning) {
	for _, w := range unknown(readings) {
		out = append(out, shownWarning(w))
	}
	return out
}
