package report

import (
	"encoding/json"
	"strconv"

	"padband/calib"
	"padband/calib/reading"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// fragment is the piece of a page that [HTML] writes.
type fragment struct {
	Readings []Section
	Light    []Warning
	Photo    []Fact
	Unknown  []Warning
	Sums     []words.Sum
	Notes    []charts.Note
	Meaning  string
}

// Section is the part of a page that one analyte gets.
type Section struct {
	Index             int
	Analyte, Bracket  string
	Reliability       string
	Head, Word, Doubt string
	First, Then       []string
	Water, Strip      []string // First in another order: of the water, and of the strip
	Judged            []words.Against
	Next              []string
	From              []string // which photo of several it is read from
	Photo             string   // that photo's number among the results, from 0
	Rule              *rule.Drawing
	Crops             *Crops
	Warnings          []Warning
	Figures           Figures
}

// Warning is a warning as a page shows it: its code, the places that it applies to as
// a reading file writes them, its whole text, and the first sentence of that.
type Warning struct{ Code, Where, Text, Seen string }

// shownWarning is a warning made ready for a page.
func shownWarning(w calib.Warning) Warning {
	return Warning{string(w.Code), placesText(w.Places), w.Text(), w.Seen}
}

// HTML returns the readings of one photo as a piece of a page. Each analyte has a
// section with the words of [Text], the rule as a drawing, the pad and the swatches of
// its bracket from the photo, and the figures folded away. The piece is well-formed
// XML too, and carries no style and no script. crop returns the address of a picture
// of a marked region and its surroundings (see [Around]): one that begins with api/,
// or a data: address of a PNG or JPEG. Without crop there are no pictures. The error
// means a fault of this program.
func HTML(s Source, crop func(colorimetry.Region) string) (string, error) {
	v := fragment{Light: LightWarnings(s.Light), Photo: FiguresOf(s), Notes: s.Notes, Meaning: words.BandMeaning}
	v.Sums = words.Together(s.Sums)
	v.Unknown = UnknownWarnings(s.Readings)
	for i, r := range s.Readings {
		v.Readings = append(v.Readings, NewSection(i+1, r, s, crop))
	}
	data, err := markup.Written(v.pieces())
	return string(data), err
}

// pieces writes the fragment with each section on a line of its own.
func (v fragment) pieces() (out markup.Pieces) {
	add := func(in ...markup.Piece) { out = append(out, markup.OnLines(in...)...) }
	add(markup.Each(v.Readings, Section.piece), markup.Each(v.Sums, summedPiece))
	if len(v.Readings) > 0 {
		add(photoPiece("The photo", v.Light, v.Photo))
	}
	add(v.leftPieces()...)
	if len(v.Readings) > 0 {
		add(markup.El("p", "reading-meaning", markup.Prose(v.Meaning)))
	}
	return out
}

// photoPiece is the section about a photo: the warnings of its light and its figures.
func photoPiece(name string, light []Warning, figures []Fact) markup.Elem {
	return markup.Block("section", "reading reading-photo",
		markup.When(len(light) > 0, markup.El("h3", "", markup.Prose(name)), WarningList(light)),
		folded("Figures of "+lines.LowerFirst(name), factList(figures)),
	).With("aria-label", name)
}

// leftPieces name what is not known, and what was not read.
func (v fragment) leftPieces() (out []markup.Piece) {
	if len(v.Unknown) > 0 {
		out = append(out, left("Not known", WarningList(v.Unknown)))
	}
	if len(v.Notes) > 0 {
		out = append(out, left("Not read", noteList(v.Notes)))
	}
	return out
}

// left is a section that names what is left out.
func left(head string, in markup.Piece) markup.Elem {
	return markup.Block("section", "reading reading-left", markup.El("h3", "", markup.Prose(head)), in).With("aria-label", head)
}

// folded is a part that opens when a person asks for it.
func folded(head string, in ...markup.Piece) markup.Elem {
	return markup.Block("details", "reading-figures", markup.El("summary", "", markup.Prose(head)), markup.Pieces(in))
}

// piece is the section: doubt first, then words, drawing, pictures, warnings, figures.
func (s Section) piece() markup.Piece {
	id := "reading-" + strconv.Itoa(s.Index)
	e := markup.Block("section", "reading",
		markup.El("div", "reading-head", markup.El("h3", "", markup.Prose(s.Head)).With("id", id),
			markup.El("p", "reading-word", markup.Prose(s.Word))),
		markup.Each(s.From, func(t string) markup.Piece { return markup.El("p", "reading-from", markup.SetProse(t)) }),
		markup.Paragraph("reading-doubt", s.Doubt),
		markup.FirstAndFurther(s.First, "reading-says", "reading-water-band"),
		JudgedList(s.Judged), rule.SVG(s.Rule), CropRow(s.Crops),
		markup.Each(s.Then, func(t string) markup.Piece { return markup.El("p", "", markup.SetProse(t)) }),
		WarningList(s.Warnings), NextList(s.Next), s.Figures.piece(),
	).With("data-analyte", s.Analyte, "data-bracket", s.Bracket, "data-reliability", s.Reliability, "aria-labelledby", id)
	if s.Photo != "" {
		e.With("data-photo", s.Photo)
	}
	return e
}

// summedPiece says what several analytes mean together.
func summedPiece(s words.Sum) markup.Piece {
	head := markup.El("div", "reading-head", markup.El("h3", "", markup.Prose(s.Head)))
	return markup.Block("section", "reading reading-sum", head, JudgedList(s.Judged), NextList(s.Next)).With("aria-label", s.Head)
}

// piece is the folded part with the figures.
func (f Figures) piece() markup.Piece {
	return folded("Figures",
		markup.Block("table", "reading-colours",
			markup.El("caption", "", markup.Prose("Colours in this photo (CIELAB), and how far each is from the pad (ΔE, CIEDE2000)")),
			ColourHead(), ColourBody(f.Colours)),
		markup.El("p", "", markup.Prose("The pad is "+f.OffScale+" (ΔE) from the nearest place of the chart's scale.")),
		markup.When(len(f.Budget) > 0,
			markup.El("p", "", markup.Prose("What makes the range of the colour wide, each as a standard deviation in swatch steps:")),
			factList(f.Budget)),
	)
}

// NewSection makes the section of the reading with that number, which counts from 1.
// crop gives pictures of the photo that the reading is from (see [Source.From]).
func NewSection(index int, r calib.Reading, s Source, crop func(colorimetry.Region) string) Section {
	from, m := s.From(index-1), s.meaning(index-1)
	w := words.Say(r, from.Light)
	judged := words.Judged(m.Judgements)
	out := Section{
		Index: index, Analyte: r.Analyte.Name, Bracket: lines.Plain(r.Bracket[0]) + " " + lines.Plain(r.Bracket[1]),
		Reliability: string(r.Reliability),
		Head:        w.Head, Word: words.Headed(w.Word, m.Judgements), Doubt: w.Doubt, First: words.FirstOf(w, r, m), Then: w.Then,
		Water: words.OfWater(w, r, m), Strip: words.OfStrip(w, r, m),
		Judged: judged, Next: words.Next(judged),
		Crops: besides(r, from.Placed, crop), Figures: newFigures(r),
	}
	if s.strip != nil {
		out.Strip = append(words.Picked(s.strip.Joined, index-1, s.strip.Files), out.Strip...)
	}
	if w.Scale {
		d := rule.Draw(index, r)
		out.Rule = &d
	}
	for _, x := range words.Weighty(r) {
		out.Warnings = append(out.Warnings, shownWarning(x))
	}
	return out
}

// LightWarnings are the warnings of the photo's light.
func LightWarnings(l calib.LightReport) (out []Warning) {
	for _, w := range l.Warnings {
		out = append(out, shownWarning(w))
	}
	return out
}

// UnknownWarnings are the warnings of facts about kit and times that nobody gave.
func UnknownWarnings(readings []calib.Reading) (out []Warning) {
	for _, w := range words.Unsaid(readings) {
		out = append(out, shownWarning(w))
	}
	return out
}

// placesText prints the places that a warning applies to, as a reading file writes
// them, for the page, which shows them on the photo. It is empty without a place.
func placesText(places []calib.Place) string {
	if len(places) == 0 {
		return ""
	}
	data, err := json.Marshal(reading.PlacesOf(places))
	if err != nil {
		return "" // this cannot happen: a place holds names and finite values alone
	}
	return string(data)
}
