package report

import "strings"

// The lengths of a printed sheet, in millimetres, and its sizes of letter, in
// points. They are those of paper.css.
const (
	sheetWide = 186.0 // A4, the narrower, within the margins
	sheetHigh = 263.4 // Letter, the lower, within the margins
	ptMM      = 25.4 / 72
	leading   = 1.17

	bodyPt   = 8.0
	smallPt  = 7.5
	figurePt = 7.5
	titlePt  = 12.0
	pairPt   = 8.0

	saysLarger = 1.125 // how much larger the first sentence of a reading is
	rowAir     = 1.9   // border and padding of a piece
	paraAir    = 0.6   // between paragraphs
)

var (
	bodyLine  = bodyPt * leading * ptMM
	smallLine = smallPt * leading * ptMM
)

// letter is how wide a letter is, in its size: about that of DejaVu Sans, the
// widest of the usual fonts (its advance widths), rounded up.
func letter(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl'|", r):
		return 0.28
	case r == ' ':
		return 0.32
	case strings.ContainsRune(".,:;!I/", r):
		return 0.34
	case strings.ContainsRune(`ftr-()[]"`, r):
		return 0.42
	case strings.ContainsRune("cs", r):
		return 0.55
	case strings.ContainsRune("kvxyz", r):
		return 0.6
	case strings.ContainsRune("mwMWOQ@%&+<=>~", r), r >= 0x1100:
		return 1
	}
	if r >= 'a' && r <= 'z' {
		return 0.635
	}
	return 0.69
}

// bolder is how much wider bold letters are.
const bolder = 1.13

// face is a size of letters, the height of its lines, and the room that a line
// has which begins at a height; all in millimetres.
type face struct {
	em, line float64
	wide     func(y float64) float64
}

func plainFace(pt, wide float64) face {
	return face{pt * ptMM, pt * leading * ptMM, func(float64) float64 { return wide }}
}

func boldFace(pt, wide float64) face {
	f := plainFace(pt, wide)
	f.em *= bolder
	return f
}

// below is where text ends that begins at the height y: words are set one after
// the other as a browser sets them, and one too long for a line is broken.
func (f face) below(y float64, text string) float64 {
	used, begun := 0.0, false
	for _, word := range strings.Fields(text) {
		w := 0.0
		for _, r := range word {
			w += letter(r) * f.em
		}
		if begun && used+letter(' ')*f.em+w <= f.wide(y) {
			used += letter(' ')*f.em + w
			continue
		}
		if begun {
			y += f.line
		}
		for begun = true; w > f.wide(y); w -= f.wide(y) {
			y += f.line
		}
		used = w
	}
	if begun {
		y += f.line
	}
	return y
}

// high is the height of texts, each a paragraph with so much room after it.
func (f face) high(after float64, texts ...string) float64 {
	y := 0.0
	for _, t := range texts {
		if t != "" {
			y = f.below(y, t) + after
		}
	}
	return y
}

// item is a piece of a page that stands whole on one sheet: its height there,
// and what puts it on a sheet.
type item[S any] struct {
	high float64
	put  func(*S)
}

// spread puts items on sheets in order, each on the first that has room for it.
// first and further are what is taken by the heads of the first sheet and of
// those after it.
func spread[S any](first, further float64, items []item[S]) []S {
	sheets, left := make([]S, 1), sheetHigh-first
	begun := false
	for _, it := range items {
		if begun && it.high > left {
			sheets, left = append(sheets, *new(S)), sheetHigh-further
		}
		it.put(&sheets[len(sheets)-1])
		left -= it.high
		begun = true
	}
	return sheets
}

func faultHigh(text string) float64 {
	return boldFace(bodyPt, sheetWide-5).high(3, text)
}

// textWide is how wide a text of the body's size is on one line.
func textWide(text string) (mm float64) {
	for _, r := range text {
		mm += letter(r) * bodyPt * ptMM
	}
	return mm
}
