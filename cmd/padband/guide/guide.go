// Package guide holds the topics that padband help TOPIC prints, one Markdown file
// each. [Topics] lists them.
package guide

import _ "embed"

// Topic is one page of the guide.
type Topic struct {
	Name  string // the word that a person types
	Title string // what the page is about, in one line
	Text  string // the whole page as a terminal shows it, in 80 columns
}

var (
	//go:embed photo.md
	photo string
	//go:embed marks.md
	marks string
	//go:embed charts.md
	charts string
	//go:embed verdict.md
	verdict string
	//go:embed evidence.md
	evidence string
	//go:embed history.md
	history string
	//go:embed readers.md
	readers string
	//go:embed many.md
	many string
	//go:embed trust.md
	trust string
)

// Topics are the pages of the guide, in the order in which a newcomer needs
// them. No topic has the name of a command, for padband help prints both.
func Topics() []Topic {
	return []Topic{
		page("photo", photo), page("marks", marks), page("charts", charts), page("verdict", verdict),
		page("evidence", evidence), page("history", history), page("readers", readers), page("many", many),
		page("trust", trust),
	}
}

func page(name, markdown string) Topic { return Topic{name, title(markdown), printed(markdown)} }
