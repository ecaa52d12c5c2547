package readers

import (
	_ "embed"
	"encoding/base64"
	"html/template"
	"strings"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/lines"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

// page is the page of comparisons; what goes into it is escaped where it stands.
var page = template.Must(template.New("compare").Funcs(template.FuncMap{"set": lines.Set}).Parse(pageHTML))

// view is what the page shows: its style, and each comparison in turn.
type view struct {
	Title, Meaning string
	Style          template.CSS
	All            []section
}

// section is one comparison on the page, with its figures.
type section struct {
	told
	Figures []shown
}

// shown is a drawing on the page, held in its own address.
type shown struct {
	Src          template.URL
	Alt, Caption string
}

// captions say, by the names of the figures, what is drawn in them. The figure itself
// has no text but its axes and the names of its lines.
var captions = map[string]string{
	"difference": "Each ring is a sample; larger where several fall together. Thick: how they differ on average. Dashed: " +
		"where 95 in 100 differences lie.",
	"swatches": "How many samples were called so by each; on the line both say the same.",
}

// HTML returns comparisons as one page that needs nothing else: the
// decision, the figures, and the tables folded. title names what was compared.
// The error means a fault of this program.
func HTML(title string, all []agreement.Comparison) ([]byte, error) {
	v := view{Title: "Two readers compared: " + lines.OneLine(title), Meaning: meaning, Style: template.CSS(pageCSS)}
	for _, c := range all {
		drawings, err := Drawings(c)
		if err != nil {
			return nil, err
		}
		s := section{told: tell(c)}
		for _, d := range drawings {
			s.Figures = append(s.Figures, shown{
				template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(d.SVG)), d.Alt, captions[d.Name],
			})
		}
		v.All = append(v.All, s)
	}
	var b strings.Builder
	if err := page.Execute(&b, v); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}
