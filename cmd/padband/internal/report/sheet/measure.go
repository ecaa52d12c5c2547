package sheet

import "strings"

// The lengths of a printed sheet, in millimetres, and its sizes of letter, in
// points. They are those of sheet.css.
const (
	Wide    = 186.0 // A4, the narrower, within the margins
	High    = 263.4 // Letter, the lower, within the margins
	MMPerPt = 25.4 / 72
	Leading = 1.17

	BodyPt   = 8.0
	SmallPt  = 7.5
	FigurePt = 7.5
	titlePt  = 12.0
	PairPt   = 8.0

	SaysLarger = 1.125 // how much larger the first sentence of a reading is
	RowAir     = 1.9   // border and padding of a piece
	ParaAir    = 0.6   // between paragraphs
)

// The heights of a line of two sizes, in millimetres.
var (
	BodyLine  = BodyPt * Leading * MMPerPt
	SmallLine = SmallPt * Leading * MMPerPt
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

// Bolder is how much wider bold letters are.
const Bolder = 1.13

// face is a size of letters, the height of its lines, and the room that a line
// has which begins at a height; all in millimetres.
type face struct {
	em, Line float64
	Wide     func(y float64) float64
}

// Plain are letters of a size in points on lines of a width in millimetres.
func Plain(pt, wide float64) face {
	return face{pt * MMPerPt, pt * Leading * MMPerPt, func(float64) float64 { return wide }}
}

// Bold are [Plain] letters made bold.
func Bold(pt, wide float64) face {
	f := Plain(pt, wide)
	f.em *= Bolder
	return f
}

// Below is where text ends that begins at the height y: words are set one after
// the other as a browser sets them, and one too long for a line is broken.
func (f face) Below(y float64, text string) float64 {
	used, begun := 0.0, false
	for _, word := range strings.Fields(text) {
		w := 0.0
		for _, r := range word {
			w += letter(r) * f.em
		}
		if begun && used+letter(' ')*f.em+w <= f.Wide(y) {
			used += letter(' ')*f.em + w
			continue
		}
		if begun {
			y += f.Line
		}
		for begun = true; w > f.Wide(y); w -= f.Wide(y) {
			y += f.Line
		}
		used = w
	}
	if begun {
		y += f.Line
	}
	return y
}

// High is the height of texts, each a paragraph with so much room after it.
func (f face) High(after float64, texts ...string) float64 {
	y := 0.0
	for _, t := range texts {
		if t != "" {
			y = f.Below(y, t) + after
		}
	}
	return y
}

// Item is a piece of a page that stands whole on one sheet: its height there,
// and what puts it on a sheet.
type Item[S any] struct {
	High float64
	Put  func(*S)
}

// Spread puts items on sheets in order, each on the first that has room for it.
// first and further are what is taken by the heads of the first sheet and of
// those after it.
func Spread[S any](first, further float64, items []Item[S]) []S {
	sheets, left := make([]S, 1), High-first
	begun := false
	for _, it := range items {
		if begun && it.High > left {
			sheets, left = append(sheets, *new(S)), High-further
		}
		it.Put(&sheets[len(sheets)-1])
		left -= it.High
		begun = true
	}
	return sheets
}

// FaultHigh is the height of a fault that stands before all else.
func FaultHigh(text string) float64 {
	return Bold(BodyPt, Wide-5).High(3, text)
}

// TextWide is how wide a text of the body's size is on one line.
func TextWide(text string) (mm float64) {
	for _, r := range text {
		mm += letter(r) * BodyPt * MMPerPt
	}
	return mm
}
