package record

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"padband/charts"
	"padband/cmd/padband/internal/record/bag"
)

// ErrUnchecked is the error of marks that nobody has looked at: what they show is no
// evidence yet.
var ErrUnchecked = errors.New("nobody has looked at the outlines that the program found")

// mostMoved is how many moved outlines a fact names; the marks have all of them.
const mostMoved = 6

// lookedFact says, in bag-info.txt, who looked at outlines that the program found, when,
// and which of them that person moved. It is empty of marks that say nothing of it, as
// those that a person drew.
func lookedFact(l *charts.Looked) string {
	if l == nil {
		return ""
	}
	who := l.By
	if who == "" {
		who = "a person who gave no name"
	}
	text := "by " + who + ", " + l.At + "; moved: "
	switch n := len(l.Moved); {
	case n == 0:
		text += "none"
	case n > mostMoved:
		text += strconv.Itoa(n) + " outlines, which the marks name"
	default:
		text += strings.Join(l.Moved, ", ")
	}
	return bag.Cleaned(text)
}

// looked checks what bag-info.txt says of who looked against the record's marks.
func (v *verifying) looked(marks []byte) {
	if m, err := charts.ParseMarks(marks); err == nil { // else the photo could not be read again
		v.said(labelLooked, lookedFact(m.Looked))
	}
}

// looked is what the marks say of who looked at outlines. Of several photos it is said
// once where it is the same of all.
func (r Reread) looked() string {
	if r.Joined == nil {
		return lookedFact(r.Result.Marks.Looked)
	}
	var all, each []string
	for i, p := range r.Joined.Photos {
		text := lookedFact(p.Marks.Looked)
		if all = append(all, text); text != "" {
			each = append(each, bag.SafeName(r.Source.Strip().Files[i], "photo")+" "+text)
		}
	}
	if slices.Equal(all, slices.Repeat(all[:1], len(all))) {
		return all[0]
	}
	return strings.Join(each, "; ")
}
