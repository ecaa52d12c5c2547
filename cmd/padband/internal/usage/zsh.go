package usage

import (
	"fmt"
	"strings"
)

// Zsh is a script that completes the program's calls in zsh. It serves as a file
// _NAME in a folder of fpath, and when it is sourced after compinit.
func Zsh(p Program) string {
	var b strings.Builder
	r := strings.NewReplacer("PROGRAM", p.Name)
	b.WriteString(r.Replace(zshHead))
	for _, c := range p.Commands {
		fmt.Fprintf(&b, "\t\t%s\n", zshQuoted(strings.ReplaceAll(c.Name, ":", `\:`)+":"+c.Short))
	}
	b.WriteString("\t)\n\t_arguments -C")
	for _, f := range p.Flags {
		fmt.Fprintf(&b, " \\\n\t\t%s", zshQuoted("(- *)--"+f.Name+"["+zshText(f.Text)+"]"))
	}
	b.WriteString(zshMiddle)
	for _, c := range p.Commands {
		fmt.Fprintf(&b, "\t\t%s)\n\t\t\t_arguments", c.Name)
		for _, f := range c.Flags {
			for _, spec := range zshFlag(p.Name, f) {
				fmt.Fprintf(&b, " \\\n\t\t\t\t%s", zshQuoted(spec))
			}
		}
		fmt.Fprintf(&b, " \\\n\t\t\t\t%s", zshQuoted("(- *)--help[how it is called]"))
		fmt.Fprintf(&b, " \\\n\t\t\t\t%s", zshQuoted("1: :"+zshValues(p.Name, c.First)))
		fmt.Fprintf(&b, " \\\n\t\t\t\t%s ;;\n", zshQuoted("*: :"+zshValues(p.Name, c.Rest)))
	}
	b.WriteString(r.Replace(zshEnd))
	return b.String()
}

// zshFlag is a flag as _arguments takes it, in full and by its letter.
func zshFlag(program string, f Flag) (out []string) {
	many, value, text := "", "", "["+zshText(f.Text)+"]"
	if f.Many {
		many = "*"
	}
	if f.Takes != "" {
		value = ":" + zshText(f.Takes) + ":" + zshValues(program, f.Values)
		if f.Letter != "" {
			out = append(out, many+"-"+f.Letter+"+"+text+value)
		}
		return append(out, many+"--"+f.Name+"="+text+value)
	}
	return []string{many + "--" + f.Name + text}
}

// zshValues is what is offered, as the action of an argument; a single space
// stands for nothing, and a leading one keeps zsh from adding to the call.
func zshValues(program string, v Values) string {
	files := ""
	switch {
	case v.Files:
		files = "*"
	case len(v.Endings) > 0:
		var all []string
		for _, e := range v.Endings {
			all = append(all, strings.TrimPrefix(e, "."))
		}
		files = "(#i)*." + all[0]
		if len(all) > 1 { // one alone in brackets would not be a part of the name
			files = "(#i)*.(" + strings.Join(all, "|") + ")"
		}
	case v.Folders:
		files = "/"
	}
	if files == "" && len(v.Words) == 0 {
		return " "
	}
	return fmt.Sprintf(` _%s_offer "%s" "%s"`, program, strings.Join(v.Words, " "), files)
}

// zshText escapes what _arguments would take as the end of a text.
func zshText(s string) string {
	return strings.NewReplacer(`\`, `\\`, "[", `\[`, "]", `\]`, ":", `\:`).Replace(s)
}

func zshQuoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

const zshHead = `#compdef PROGRAM
# Completion of PROGRAM for zsh, made by: PROGRAM completion zsh
# Put it as the file _PROGRAM into a folder of fpath, or this line into ~/.zshrc,
# behind compinit:
#   source <(PROGRAM completion zsh)

# _PROGRAM_offer offers words, and files that fit a pattern; / stands for folders.
_PROGRAM_offer() {
	local -a offered
	local found=1
	offered=(${(s: :)1})
	(( $#offered )) && compadd -a offered && found=0
	case $2 in
	'') ;;
	/) _files -/ && found=0 ;;
	*) _files -g "$2" && found=0 ;;
	esac
	return found
}

_PROGRAM() {
	local curcontext=$curcontext state line
	local -A opt_args
	local -a commands
	commands=(
`

const zshMiddle = ` \
		'1: :->command' \
		'*:: :->argument' && return
	case $state in
	command) _describe -t commands command commands ;;
	argument)
		case $words[1] in
`

const zshEnd = `		esac ;;
	esac
}

if [[ $funcstack[1] == _PROGRAM ]]; then
	_PROGRAM "$@"
else
	compdef _PROGRAM PROGRAM
fi
`
