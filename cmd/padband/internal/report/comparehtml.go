package report

import (
	_ "embed"
	"encoding/base64"
	"html/template"
	"strings"

	"padband/calib/agreement"
)

//go:embed compare.html
var compareHTML string

//go:embed compare.css
var compareCSS string

var comparePage = template.Must(template.New("compare").Funcs(template.FuncMap{"set": set}).Parse(compareHTML))

// compareView is what the page shows.
type compareView struct {
	Title, Meaning string
	Style          template.CSS
	All            []compareSection
}

type compareSection struct {
	told
	Figures []compareFigure
}

type compareFigure struct {
	Src          template.URL
	Alt, Caption string
}

// captions of the figures, by their names.
var captions = map[string]string{
	"difference": "Each ring is a sample; larger where several fall together. Thick: how they differ on average. Dashed: where 95 in 100 differences lie.",
	"swatches":   "How many samples were called so by each; on the line both say the same.",
}

// CompareHTML returns comparisons as one page that needs nothing else: the
// decision, the figures, and the tables folded. title names what was compared.
// The error means a fault of this program.
func CompareHTML(title string, all []agreement.Comparison) ([]byte, error) {
	v := compareView{Title: "Two readers compared: " + oneLine(title), Meaning: compareMeaning, Style: template.CSS(compareCSS)}
	for _, c := range all {
		drawings, err := CompareDrawings(c)
		if err != nil {
			return nil, err
		}
		s := compareSection{told: tell(c)}
		for _, d := range drawings {
			s.Figures = append(s.Figures, compareFigure{
				template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(d.SVG)), d.Alt, captions[d.Name],
			})
		}
		v.All = append(v.All, s)
	}
	var b strings.Builder
	if err := comparePage.Execute(&b, v); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}
