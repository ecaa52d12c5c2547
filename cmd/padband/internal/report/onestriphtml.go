package report

import (
	"strconv"

	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// OneStripHTML returns the one answer from several photos of a strip as a piece of a
// page, as [HTML] does for one photo. Each section says first which photo it is read
// from, and names its number among the results that were joined (data-photo); crop is
// asked for pictures of that photo.
func OneStripHTML(s OneStripSource, crop func(result int, mark colorimetry.Region) string) (string, error) {
	v := fragment{Sums: words.Together(s.Sums), Unknown: UnknownWarnings(s.Readings), Notes: s.Notes}
	var out markup.Pieces
	add := func(in ...markup.Piece) { out = append(out, markup.OnLines(in...)...) }
	for i, r := range s.Readings {
		p := s.Photos[s.Picks[i].Photo]
		of := Of("", s.ChartSHA256, s.Version, p.Result)
		of.Meanings = s.Meanings
		one := NewSection(i+1, r, of, func(mark colorimetry.Region) string { return crop(p.Index, mark) })
		one.From, one.Photo = words.Picked(s.Joined, i, s.Files), strconv.Itoa(p.Index)
		add(one.piece())
	}
	add(markup.Each(v.Sums, summedPiece))
	for i, p := range s.Photos {
		if s.used(i) {
			of := Of("", s.ChartSHA256, s.Version, p.Result)
			add(photoPiece(lines.UpperFirst(s.Files[i]), LightWarnings(p.Light), FiguresOf(of)).With("data-photo", strconv.Itoa(p.Index)))
		}
	}
	add(v.leftPieces()...)
	for _, text := range []string{words.OneStripMeaning, words.BandMeaning} {
		add(markup.El("p", "reading-meaning", markup.Prose(text)))
	}
	data, err := markup.Written(out)
	return string(data), err
}
