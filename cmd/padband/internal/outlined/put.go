package outlined

import (
	"encoding/json"
	"fmt"
	"strings"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Format is the format of [Outlined.JSON].
const Format = 1

// These are what was found as JSON holds it.
type (
	document struct {
		Format    int             `json:"format"`
		Photo     photoJSON       `json:"photo"`
		Chart     string          `json:"chart"`
		Marks     json.RawMessage `json:"marks"` // null where nothing was found
		Questions []questionJSON  `json:"questions"`
		WhyNot    string          `json:"why_not"` // empty where all was found
		Why       *whyJSON        `json:"why,omitempty"`
	}
	photoJSON struct {
		File   string `json:"file"`
		SHA256 string `json:"sha256"`
		Width  int    `json:"width"`
		Height int    `json:"height"`
	}
	questionJSON struct {
		Code     outline.Code `json:"code"`
		Analytes []string     `json:"analytes,omitempty"`
		Text     string       `json:"text"`
		Answers  []answerJSON `json:"answers"`
	}
	answerJSON struct {
		Code  outline.Choice  `json:"code"`
		Text  string          `json:"text"`
		Marks json.RawMessage `json:"marks"`
	}
	whyJSON struct {
		Code       outline.WhyCode `json:"code"`
		Found      int             `json:"found"`
		Wanted     int             `json:"wanted"`
		FoundEach  int             `json:"found_each"`
		WantedEach int             `json:"wanted_each"`
	}
)

// JSON is what was found in the photo of that name, on one line without its line break.
// The marks are whole marks files. The error means a fault of this program.
func (o Outlined) JSON(file string) ([]byte, error) {
	d := document{Format: Format, Photo: photoJSON{file, o.Photo.SHA256, o.Photo.Width, o.Photo.Height}, Chart: o.Chart.Name,
		Questions: []questionJSON{}, WhyNot: o.WhyNot()}
	if w := o.Why; w.Code != "" {
		d.Why = &whyJSON{w.Code, w.Found, w.Wanted, w.FoundEach, w.WantedEach}
	}
	var err error
	if o.Marks != nil {
		if d.Marks, err = o.Marks.Encode(); err != nil {
			return nil, err
		}
	}
	for _, q := range o.Questions {
		asked := questionJSON{Code: q.Code, Analytes: q.Analytes, Text: q.Text, Answers: []answerJSON{}}
		for _, a := range q.Answers {
			marks, err := a.Marks.Encode()
			if err != nil {
				return nil, err
			}
			asked.Answers = append(asked.Answers, answerJSON{a.Choice, a.Text, marks})
		}
		d.Questions = append(d.Questions, asked)
	}
	return json.Marshal(d)
}

// Text tells what was found in the photo of that name, and what is asked, in 80 columns.
// The first answer is the one that the marks are made by.
func (o Outlined) Text(file string) string {
	var b strings.Builder
	title := o.Chart.Title
	if title == "" {
		title = o.Chart.Name
	}
	lines.Paragraph(&b, "", fmt.Sprintf("%s, outlined as %q", file, title))
	if o.Marks != nil {
		lines.Paragraph(&b, "  ", "Found: "+found(o.spread(*o.Marks), o.Chart)+".")
	}
	if why := o.WhyNot(); why != "" {
		lines.Paragraph(&b, "  ", why)
	}
	for _, q := range o.Questions {
		lines.Wrap(&b, "  ? ", "    ", q.Text)
		for i, a := range q.Answers {
			text := a.Text + "."
			if i == 0 {
				text = a.Text + " (marked so now)."
			}
			lines.Wrap(&b, "    - ", "      ", text)
		}
	}
	return b.String()
}

// found counts what is marked, of what the chart has.
func found(m charts.Marks, c charts.Chart) string {
	pads, swatches, whites := 0, 0, 0
	for _, r := range m.Regions {
		switch r.Role {
		case charts.RolePad:
			pads++
		case charts.RoleSwatch:
			swatches++
		default:
			whites++
		}
	}
	allPads, allSwatches := 0, 0
	for _, a := range c.Analytes {
		allPads, allSwatches = allPads+a.Parts, allSwatches+a.Parts*len(a.Swatches)
	}
	return fmt.Sprintf("%d of %s, %d of %d swatches and %s", pads, lines.Count(allPads, "pad"), swatches, allSwatches,
		lines.Count(whites, "white area"))
}
