package words

import (
	"fmt"
	"strings"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Lie is where an answer's outlines lie in the photo, as it takes to tell the answer from
// the others. Sides are "left", "right", "top" and "bottom"; what is not there is empty.
type Lie struct {
	Low   string   // side of the row's lowest swatch
	Tip   string   // side of the strip's first pad
	Rows  []string // analytes in the order of their rows
	From  string   // side that this order begins at
	Pads  []string // analytes in the order of their pads
	First string   // side that this order begins at
	Row   bool     // whether more than that patch lies elsewhere
	Spot  bool     // whether the next two are known
	X, Y  float64  // middle of the chart, of the strip or of the patch that is asked about
}

// OutlineQuestion asks about outlines that the program found, as a person reads it who
// sees the photo. Patch is the mark that a question about one patch is about, nil where
// it is not known which; row says that more than that patch may lie elsewhere.
func OutlineQuestion(q outline.Question, c charts.Chart, patch *charts.Mark, row bool) string {
	switch q.Code {
	case outline.AskDirection:
		return "Which end of " + rowsOf(q.Analytes) + " is " + lowest(q.Analytes, c) + "?"
	case outline.AskRows:
		return "Which row of the chart, and which pad, is of what?"
	case outline.AskStripEnd:
		return "Which end of the strip is its tip, the end that was dipped?"
	case outline.AskStrip:
		return "No strip was found. Is there one in the photo?"
	case outline.AskPatch:
		if row && patch != nil {
			return "Not all patches of " + rowsOf(q.Analytes) + " were seen. Where is " + patchName(nil, patch, c) + "?"
		}
		return lines.UpperFirst(patchName(q.Analytes, patch, c)) + " was not seen: it may be nearly white. Is it where it is marked?"
	case outline.AskPlace:
		return "More than one group of patches could be the chart. Which one is it?"
	}
	return "Is this right?"
}

// patchName names the patch that a question is about.
func patchName(analytes []string, patch *charts.Mark, c charts.Chart) string {
	of := ""
	if len(analytes) > 0 {
		of = " of " + lines.List(lines.EachOneLine(analytes))
	}
	switch {
	case patch == nil:
		return "one patch" + of
	case patch.Role == charts.RolePad:
		return "the pad of " + lines.OneLine(patch.Analyte)
	}
	return "the swatch for " + swatchName(patch, c) + " of " + lines.OneLine(patch.Analyte)
}

// swatchName is what is printed beside a swatch.
func swatchName(m *charts.Mark, c charts.Chart) string {
	a, _ := c.Analyte(m.Analyte)
	for _, s := range a.Swatches {
		if s.Value == m.Value && s.Label != "" {
			return lines.OneLine(s.Label)
		}
	}
	return lines.Plain(m.Value)
}

// OutlinePatch tells where an answer puts a patch, behind the answer's words, where these
// alone are those of another answer.
func OutlinePatch(m charts.Mark, c charts.Chart, x, y float64) string {
	return fmt.Sprintf(", with %s at x %.0f, y %.0f", patchName(nil, &m, c), x, y)
}

// rowsOf names rows within a sentence.
func rowsOf(analytes []string) string {
	switch len(analytes) {
	case 0:
		return "all rows"
	case 1:
		return "the row of " + lines.OneLine(analytes[0])
	}
	return "the rows of " + lines.List(lines.EachOneLine(analytes))
}

// lowest names the lowest swatch as the chart prints it, or what all rows have.
func lowest(analytes []string, c charts.Chart) string {
	if len(analytes) != 1 {
		return "the lowest value"
	}
	a, ok := c.Analyte(analytes[0])
	if !ok || len(a.Swatches) == 0 {
		return "the lowest value"
	}
	return swatchName(&charts.Mark{Analyte: a.Name, Value: a.Swatches[0].Value}, c)
}

// OutlineAnswer is one answer to such a question, told by where its outlines lie.
func OutlineAnswer(code outline.Code, choice outline.Choice, at Lie) string {
	if choice == outline.ChoiceNone {
		return "None of these: it is to be marked by hand"
	}
	switch code {
	case outline.AskDirection:
		if at.Low != "" {
			return "The " + at.Low + " end"
		}
	case outline.AskRows:
		return orders(at)
	case outline.AskStripEnd:
		if at.Tip != "" {
			return "The " + at.Tip + " end: from there come " + lines.List(lines.EachOneLine(at.Pads))
		}
	case outline.AskStrip:
		return stripAnswer(choice, at)
	case outline.AskPatch:
		return patchAnswer(choice, at)
	case outline.AskPlace:
		return "The one" + spot(at)
	}
	switch choice {
	case outline.ChoiceAsShown:
		return "Yes, as it is marked"
	case outline.ChoiceTurned:
		return "The other way round"
	case outline.ChoiceWithout:
		return "Without it"
	}
	return "Another way"
}

// orders tells the order of rows and of pads, each from a side of the photo.
func orders(at Lie) string {
	text := ""
	if at.From != "" {
		text = "The rows from the " + at.From + " are of " + lines.List(lines.EachOneLine(at.Rows))
	}
	if at.First == "" {
		return text
	}
	if text == "" {
		text = "The pads from the "
	} else {
		text += "; the pads from the "
	}
	return text + at.First + " are of " + lines.List(lines.EachOneLine(at.Pads))
}

// stripAnswer says whether there is a strip, and where.
func stripAnswer(choice outline.Choice, at Lie) string {
	if choice == outline.ChoiceWithout || len(at.Pads) == 0 {
		return "No, the photo shows the chart alone"
	}
	return "Yes" + spot(at)
}

// spot tells a place of the photo, in pixels from its top left corner.
func spot(at Lie) string {
	if !at.Spot {
		return ", as it is marked"
	}
	return fmt.Sprintf(" at x %.0f, y %.0f", at.X, at.Y)
}

// patchAnswer says where a patch is that was not seen.
func patchAnswer(choice outline.Choice, at Lie) string {
	switch {
	case choice == outline.ChoiceWithout:
		return "No, the photo does not show it"
	case at.Row && at.Spot:
		return "At" + strings.TrimPrefix(spot(at), " at")
	case choice == outline.ChoiceAsShown:
		return "Yes" + spot(at)
	case !at.Spot:
		return "No, it is elsewhere"
	}
	return "No, it is" + spot(at)
}

// NotOutlined says why nothing was found, or which part was not; it is empty where all
// was found.
func NotOutlined(w outline.Why) string {
	switch w.Code {
	case outline.WhyNoPatches:
		return "No flat patches that could be the chart were found."
	case outline.WhyNoStrip:
		return "The chart was found, and no strip."
	case outline.WhyRows:
		seen := fmt.Sprintf("%s found, and the chart has %d", were(w.Found, "row"), w.Wanted)
		switch {
		case w.Found == w.Wanted:
			seen = were(w.Found, "row") + " found"
		case w.Found > w.Wanted: // things on the table, too
			seen = fmt.Sprintf("%s seen, and they do not fit the chart's %d", were(w.Found, "row"), w.Wanted)
		}
		if w.FoundEach > 0 && w.FoundEach != w.WantedEach {
			seen += fmt.Sprintf("; the longest has %s, and the chart's longest %d",
				patchCount(w.FoundEach), w.WantedEach)
		}
		return seen + "."
	}
	return ""
}

// patchCount counts patches.
func patchCount(n int) string {
	if n == 1 {
		return "1 patch"
	}
	return fmt.Sprintf("%d patches", n)
}

// were is a number of things that were found or seen.
func were(n int, what string) string {
	if n == 1 {
		return "1 " + what + " was"
	}
	return fmt.Sprintf("%d %ss were", n, what)
}
