package usage

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// odd is a program whose texts hold what shells and roff would take as theirs.
var odd = Program{Name: "odd", Version: "1", Short: "it's odd", About: []string{".TH is not a request\\here"}, Commands: []Command{{
	Name: "try", Short: "try: it's [odd]", Use: []string{"try FILE"}, More: "\n'quoted' first\n\n  as it is\n",
	Flags: []Flag{{Name: "file", Letter: "f", Takes: "FILE", Text: "a 'file' [of: \\yours]", Values: Values{Endings: []string{".a.json"}}}, {Name: "on", Text: "on"}},
	First: Values{Words: []string{"one", "two"}}, Rest: Values{Folders: true},
}}}

func TestBash(t *testing.T) {
	text := Bash(odd)
	assert.Contains(t, text, "\ttry)\n\t\tflags='--file --on --help'\n\t\tvalued=' --file -f ' ;;\n")
	assert.Contains(t, text, "\t'try --file' | 'try -f') _odd_files '*.[aA].[jJ][sS][oO][nN]' ;;\n")
	assert.Contains(t, text, "\t'try 0') _odd_words one two ;;\n\t'try '[1-9]*) _odd_folders ;;\n")
	assert.NotContains(t, text, "PROGRAM")
}

func TestZsh(t *testing.T) {
	text := Zsh(odd)
	assert.Contains(t, text, `'--file=[a '\''file'\'' \[of\: \\yours\]]:FILE: _odd_offer "" "(#i)*.a.json"'`)
	assert.Contains(t, text, `'-f+[a '\''file'\''`)
	assert.Contains(t, text, `'1: : _odd_offer "one two" ""'`)
	assert.Contains(t, text, `'*: : _odd_offer "" "/"' ;;`)
	assert.NotContains(t, text, "PROGRAM")
}

func TestFish(t *testing.T) {
	text := Fish(odd)
	assert.Contains(t, text, `complete -c odd -n '__odd_is try' -l file -s f -x -a '(__odd_files .a.json)' -d 'a \'file\' [of: \\yours]'`)
	assert.Contains(t, text, "complete -c odd -n '__odd_at try first' -a 'one two'\n")
	assert.NotContains(t, text, "PROGRAM")
}

func TestMan(t *testing.T) {
	text := Man(odd)
	assert.Contains(t, text, "\n\\&.TH is not a request\\ehere\n")
	assert.Contains(t, text, "\n.PP\n\\(aqquoted\\(aq first\n.PP\n.nf\n  as it is\n.fi\n")
	assert.Contains(t, text, "\n.TP\n\\fB\\-f\\fR, \\fB\\-\\-file\\fR \\fIFILE\\fR\n")
	assert.Equal(t, `\[u00B1]\(ti\-\(ha`, roff("±~-^"))
}
