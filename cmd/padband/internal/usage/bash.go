package usage

import (
	"fmt"
	"strings"
	"unicode"
)

// Bash is a script that completes the program's calls in bash, from version 3.2
// on. It needs nothing but bash itself.
func Bash(p Program) string {
	var b strings.Builder
	r := strings.NewReplacer("PROGRAM", p.Name, "COMMANDS", strings.Join(p.names(), " "))
	b.WriteString(r.Replace(bashHead))
	for _, c := range p.Commands {
		fmt.Fprintf(&b, "\t%s)\n\t\tflags='%s'\n\t\tvalued=' %s ' ;;\n", c.Name, strings.Join(c.flags(), " "), strings.Join(c.valued(), " "))
	}
	b.WriteString(r.Replace(bashMiddle))
	for _, c := range p.Commands {
		for _, f := range c.Flags {
			if f.Takes == "" {
				continue
			}
			pattern := fmt.Sprintf("'%s --%s'", c.Name, f.Name)
			if f.Letter != "" {
				pattern += fmt.Sprintf(" | '%s -%s'", c.Name, f.Letter)
			}
			bashValues(&b, p.Name, pattern, f.Values)
		}
		bashValues(&b, p.Name, "'"+c.Name+" 0'", c.First)
		bashValues(&b, p.Name, "'"+c.Name+" '[1-9]*", c.Rest)
	}
	b.WriteString(r.Replace(bashEnd))
	return b.String()
}

// bashValues is one case of what is offered; of text of one's own nothing is.
func bashValues(b *strings.Builder, program, pattern string, v Values) {
	var calls []string
	if len(v.Words) > 0 {
		calls = append(calls, "words "+strings.Join(v.Words, " "))
	}
	switch {
	case v.Files:
		calls = append(calls, "files '*'")
	case len(v.Endings) > 0:
		var patterns []string
		for _, e := range v.Endings {
			patterns = append(patterns, "'*"+anyCase(e)+"'")
		}
		calls = append(calls, "files "+strings.Join(patterns, " "))
	case v.Folders:
		calls = append(calls, "folders")
	}
	if len(calls) == 0 {
		return
	}
	prefix := "_" + program + "_"
	fmt.Fprintf(b, "\t%s) %s ;;\n", pattern, prefix+strings.Join(calls, "; "+prefix))
}

// anyCase is a pattern of a shell that an ending fits in capitals too: cameras
// write .JPG.
func anyCase(ending string) string {
	var b strings.Builder
	for _, r := range ending {
		if unicode.IsLetter(r) {
			fmt.Fprintf(&b, "[%c%c]", r, unicode.ToUpper(r))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

const bashHead = `# Completion of PROGRAM for bash, made by: PROGRAM completion bash
# To load it in each shell, put this line into ~/.bashrc:
#   source <(PROGRAM completion bash)

# _PROGRAM_words offers those of its arguments that begin as the word typed.
_PROGRAM_words() {
	local word
	for word in "$@"; do
		[[ $word == "$typed"* ]] && COMPREPLY+=("$word")
	done
}

# _PROGRAM_paths says that names of files are offered, which bash then escapes and
# ends with a slash where they are folders.
_PROGRAM_paths() { compopt -o filenames 2>/dev/null; }

_PROGRAM_folders() {
	local name
	_PROGRAM_paths
	while IFS= read -r name; do COMPREPLY+=("$name"); done < <(compgen -d -- "$typed")
}

# _PROGRAM_files offers the files that fit its arguments, and folders.
_PROGRAM_files() {
	local name pattern
	for pattern in "$@"; do
		while IFS= read -r name; do
			[[ -d $name ]] || COMPREPLY+=("$name")
		done < <(compgen -f -X "!$pattern" -- "$typed")
	done
	_PROGRAM_folders
}

# _PROGRAM_flags finds a command's flags, and those that take a value.
_PROGRAM_flags() {
	flags='' valued=''
	case $1 in
`

const bashMiddle = `	esac
}

# _PROGRAM_offer offers what may stand behind a flag of a command, or in a place
# among its arguments.
_PROGRAM_offer() {
	case "$1 $2" in
`

const bashEnd = `	esac
}

_PROGRAM() {
	local typed=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}
	local flags valued word flag='' place=0 i
	COMPREPLY=()
	if ((COMP_CWORD == 1)); then
		_PROGRAM_words COMMANDS
		return
	fi
	_PROGRAM_flags "$command"
	# Bash parts --flag=value into three words.
	if [[ $typed == '=' ]]; then
		flag=$before typed=''
	elif [[ $before == '=' ]]; then
		flag=${COMP_WORDS[COMP_CWORD-2]}
	else
		flag=$before
	fi
	typed=${typed//\\/} # the word may stand in quotes or with its spaces escaped
	typed=${typed#[\"\']}
	if [[ $valued == *" $flag "* ]]; then
		_PROGRAM_offer "$command" "$flag"
		return
	fi
	if [[ $typed == -* ]]; then
		_PROGRAM_words $flags
		return
	fi
	for ((i = 2; i < COMP_CWORD; i++)); do
		word=${COMP_WORDS[i]}
		if [[ ${COMP_WORDS[i+1]} == '=' ]]; then
			((i += 2))
		elif [[ $valued == *" $word "* ]]; then
			((i += 1))
		elif [[ $word != -?* ]]; then
			((place += 1))
		fi
	done
	_PROGRAM_offer "$command" "$place"
}
if type compopt >/dev/null 2>&1; then
	complete -F _PROGRAM PROGRAM
else # before bash 4 it cannot be said later
	complete -o filenames -F _PROGRAM PROGRAM
fi
`
