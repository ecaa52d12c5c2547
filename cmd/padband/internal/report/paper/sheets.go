package paper

import (
	"fmt"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
)

// newPaper sets the page out on sheets.
func newPaper(in Input) paper {
	p := paper{Folio: newFolio(in)}
	h := newHead(&p.Folio, in)
	first, further := h.Highs()
	p.Sheets = sheet.Headed(h, sheet.Spread(first, further, paperItems(in)), func(s *paperSheet, h sheet.Head) { s.Head = h })
	return p
}

// newFolio gives the page's title, and when and from what the page was made.
func newFolio(in Input) sheet.Folio {
	chart := in.Chart.Title
	if chart == "" {
		chart = in.Chart.Name
	}
	p := sheet.Folio{Title: "Water-test strip read from a photo", Subject: lines.OneLine(in.Subject)}
	taken := "photo taken "
	if s := in.Strip(); s != nil {
		p.Title, taken = fmt.Sprintf("Water-test strip read from %d photos", len(s.Photos)), "first photo taken "
	}
	if in.Photo.Taken != "" {
		p.Under = append(p.Under, taken+words.Moment(in.Photo.Taken))
	}
	p.Under = append(p.Under, lines.OneLine(in.File)+`, read against "`+lines.OneLine(chart)+`"`, "padband "+lines.OneLine(in.Version))
	return p
}

// newHead says at the head of each sheet which record the sheet is of. It gives the
// record's fingerprint or, where that cannot be known yet, the photo's hash and a line
// to write the fingerprint on.
func newHead(p *sheet.Folio, in Input) sheet.Head {
	h := sheet.Head{Folio: p}
	if in.Seal != nil {
		h.Known = []words.Entry{{Label: "Fingerprint", Value: lines.OneLine(in.Seal.Fingerprint)}}
		return h
	}
	h.Blank = "Fingerprint"
	label := "SHA-256 of the photo begins"
	if in.Strip() != nil {
		label = "SHA-256 of the first photo begins"
	}
	if hash := short(in.SHA256s()[0]); hash != "" {
		h.Known = []words.Entry{{Label: label, Value: hash}}
	}
	return h
}

// paperItems are the pieces of the page, in order.
func paperItems(in Input) (out []sheet.Item[paperSheet]) {
	add := func(high float64, put func(*paperSheet)) {
		out = append(out, sheet.Item[paperSheet]{High: high, Put: put})
	}
	if in.Seal != nil && in.Seal.Faults > 0 {
		n := lines.Count(in.Seal.Faults, "fault")
		add(sheet.FaultHigh(faultText(n)), func(s *paperSheet) { s.Faults = n })
	}
	lights := lightsOf(in)
	sections, numbers := sectionsOf(in, lights)
	for _, s := range sections {
		a := answer{Analyte: s.Analyte, Reliability: s.Reliability, Head: s.Head, Word: s.Word, Doubt: s.Doubt, Water: s.Water,
			Judged: s.Judged, Strip: s.Strip, Further: s.Then, Next: s.Next}
		add(a.high(), func(s *paperSheet) { s.Answers = append(s.Answers, a) })
	}
	for _, one := range words.Together(in.Sums) {
		add(summedHigh(one), func(s *paperSheet) { s.Sums = append(s.Sums, one) })
	}
	for _, a := range aboutsOf(in, lights) {
		add(a.high(), func(s *paperSheet) { s.Abouts = append(s.Abouts, a) })
	}
	if light := lights[0]; in.Strip() == nil && len(light.Warnings) > 0 {
		add(light.high(sheet.Wide), func(s *paperSheet) { s.Light = &light })
	}
	for _, one := range sections {
		add(one.high(), func(s *paperSheet) { s.Sections = append(s.Sections, one) })
	}
	for _, n := range charts.NoteTexts(in.Notes) {
		add(noteHigh(n), func(s *paperSheet) { s.Notes = append(s.Notes, n) })
	}
	for _, some := range rowsTogether(numbers) {
		add(numbersHigh(some), func(s *paperSheet) { s.Numbers = append(s.Numbers, some...) })
	}
	return append(out, closing(in)...)
}

// sectionsOf are the parts and the figures of the analytes. A warning that the photo
// or an earlier analyte has in the same words is shortened.
func sectionsOf(in Input, lights []lightWords) (parts []part, numbers []patches) {
	var before []string
	for _, light := range lights {
		for _, w := range light.Warnings {
			before = append(before, w.Text)
		}
	}
	for i, r := range in.Readings {
		s := report.NewSection(i+1, r, in.Source, in.cropOf(i))
		parts = append(parts, newPart(s, before))
		for _, w := range s.Warnings {
			before = append(before, w.Text)
		}
		numbers = append(numbers, patches{s.Head, in.fileOf(i), s.Figures})
	}
	return parts, numbers
}

// newAbouts sets out the photo and the facts. Facts and names of attached files that
// are too many for one sheet go on in further ones. Without light it is the facts
// alone, for photos that have parts of their own.
func newAbouts(in Input, light *lightWords) (out []about) {
	var now about
	if light != nil {
		now.View = newView(in.Source, in.Preview, numbersOf(in, 0))
	}
	for _, f := range words.Printed(in.Facts) {
		more := now
		more.Facts = append(now.Facts[:len(now.Facts):len(now.Facts)], f)
		if more.high() > factsHigh && len(now.Facts) > 0 {
			out, more = append(out, now), about{On: true, Facts: []words.Entry{f}}
		}
		now = more
	}
	now.Missing, now.Unknown = lines.List(eachLower(in.Missing)), report.UnknownWarnings(in.Readings)
	if light != nil && len(light.Warnings) == 0 {
		now.Light = light
	}
	var names []string
	for _, name := range lines.EachOneLine(in.Attached) {
		more := now
		more.Attached = lines.List(append(names[:len(names):len(names)], name))
		if more.high() > factsHigh && len(names) > 0 {
			out, names = append(out, now), nil
			more = about{On: true, Attached: name}
		}
		now, names = more, append(names, name)
	}
	return append(out, now)
}

// rowsTogether groups the tables that stand side by side in columns.
func rowsTogether(all []patches) (out [][]patches) {
	rows := mostRows + 1
	for _, p := range all {
		if rows += len(p.Colours); rows > mostRows {
			out, rows = append(out, nil), len(p.Colours)
		}
		out[len(out)-1] = append(out[len(out)-1], p)
	}
	return out
}

// closing is the last pieces of the page.
func closing(in Input) (out []sheet.Item[paperSheet]) {
	add := func(high float64, put func(*paperSheet)) {
		out = append(out, sheet.Item[paperSheet]{High: high, Put: put})
	}
	limits := limitWords{shows(in.Readings)}
	add(limits.high(), func(s *paperSheet) { s.Limits = &limits })
	c := check{lines.OneLine(in.Signer), words.Printed(in.Hashes)}
	add(c.high(), func(s *paperSheet) { s.Check = &c })
	if in.Seal != nil {
		for i, f := range in.Seal.Findings {
			add(findingHigh(i, f), func(s *paperSheet) { s.Found = append(s.Found, f) })
		}
	}
	add(dayHigh, func(s *paperSheet) { s.Day = &day{in.Seal} })
	return out
}

// joined puts several sentences on one line.
func joined(texts ...string) string { return strings.Join(texts, " ") }

// digitsShown is how many digits of a hash stand at a sheet's head: as many as a
// record's fingerprint has.
const digitsShown = 20

// short is the beginning of a hash, in groups of four digits as a fingerprint is
// printed.
func short(hash string) string {
	hash = lines.OneLine(hash)
	if len(hash) < digitsShown {
		return hash
	}
	var groups []string
	for i := 0; i < digitsShown; i += 4 {
		groups = append(groups, hash[i:i+4])
	}
	return strings.Join(groups, " ")
}
