package report

import (
	"encoding/json"
	"strconv"

	"padband/calib"
	"padband/calib/reading"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/colorimetry"
)

// fragment is what the fragment shows.
type fragment struct {
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
	v := fragment{Light: lightWarnings(s.Light), Photo: photoFacts(s), Notes: s.Notes, Meaning: meaning}
	v.Sums = sumsOf(s.Sums)
	v.Unknown = unknownWarnings(s.Readings)
	for i, r := range s.Readings {
		v.Readings = append(v.Readings, newSection(i+1, r, s, crop))
	}
	data, err := written(v.pieces())
	return string(data), err
}

// pieces are the fragment: each section on a line of its own.
func (v fragment) pieces() (out pieces) {
	add := func(in ...piece) { out = append(out, onLines(in...)...) }
	add(each(v.Readings, section.piece), each(v.Sums, summedPiece))
	if len(v.Readings) > 0 {
		add(block("section", "reading reading-photo",
			when(len(v.Light) > 0, el("h3", "", prose("The photo")), warningList(v.Light)),
			folded("Figures of the photo", factList(v.Photo)),
		).with("aria-label", "The photo"))
	}
	if len(v.Unknown) > 0 {
		add(left("Not known", warningList(v.Unknown)))
	}
	if len(v.Notes) > 0 {
		add(left("Not read", noteList(v.Notes)))
	}
	if len(v.Readings) > 0 {
		add(el("p", "reading-meaning", prose(v.Meaning)))
	}
	return out
}

// left is a section of what is left out.
func left(head string, in piece) elem {
	return block("section", "reading reading-left", el("h3", "", prose(head)), in).with("aria-label", head)
}

// folded is a part that opens when it is asked for.
func folded(head string, in ...piece) elem {
	return block("details", "reading-figures", el("summary", "", prose(head)), pieces(in))
}

func (s section) piece() piece {
	id := "reading-" + strconv.Itoa(s.Index)
	return block("section", "reading",
		el("div", "reading-head", el("h3", "", prose(s.Head)).with("id", id), el("p", "reading-word", prose(s.Word))),
		paragraph("reading-doubt", s.Doubt),
		firstAndFurther(s.First, "reading-says", "reading-water-band"),
		judgedList(s.Judged), drawnRule(s.Rule), cropRow(s.Crops),
		each(s.Then, func(t string) piece { return el("p", "", setProse(t)) }),
		warningList(s.Warnings), nextList(s.Next), s.Figures.piece(),
	).with("data-analyte", s.Analyte, "data-bracket", s.Bracket, "data-reliability", s.Reliability, "aria-labelledby", id)
}

func summedPiece(s summed) piece {
	head := el("div", "reading-head", el("h3", "", prose(s.Head)))
	return block("section", "reading reading-sum", head, judgedList(s.Judged), nextList(s.Next)).with("aria-label", s.Head)
}

// piece is the part that is folded away.
func (f figures) piece() piece {
	return folded("Figures",
		block("table", "reading-colours",
			el("caption", "", prose("Colours in this photo (CIELAB), and how far each is from the pad (ΔE, CIEDE2000)")),
			colourHead(), colourBody(f.Colours)),
		el("p", "", prose("The pad is "+f.OffScale+" (ΔE) from the nearest place of the chart's scale.")),
		when(len(f.Budget) > 0,
			el("p", "", prose("What makes the band wide, each as a standard deviation in swatch steps:")), factList(f.Budget)),
	)
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

// placesText are the places that a warning applies to, as a reading file has
// them: for the page, which shows them on the photo. It is empty without one.
func placesText(places []calib.Place) string {
	if len(places) == 0 {
		return ""
	}
	data, err := json.Marshal(reading.PlacesOf(places))
	if err != nil {
		return "" // names and finite values alone: this cannot be
	}
	return string(data)
}
