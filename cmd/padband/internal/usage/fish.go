package usage

import (
	"fmt"
	"strings"
)

// Fish is a script that completes the program's calls in fish, from version 3 on.
func Fish(p Program) string {
	var b strings.Builder
	r := strings.NewReplacer("PROGRAM", p.Name)
	b.WriteString(r.Replace(fishHead))
	for _, f := range p.Flags {
		fmt.Fprintf(&b, "complete -c %s -n __%[1]s_begins -l %s -d %s\n", p.Name, f.Name, fishQuoted(f.Text))
	}
	for _, c := range p.Commands {
		fmt.Fprintf(&b, "\ncomplete -c %s -n __%[1]s_begins -a %s -d %s\n", p.Name, c.Name, fishQuoted(c.Short))
		for _, f := range c.Flags {
			fishFlag(&b, p.Name, c.Name, f)
		}
		fishFlag(&b, p.Name, c.Name, Flag{Name: "help", Text: "how it is called"})
		for _, at := range []struct {
			place string
			v     Values
		}{{"first", c.First}, {"rest", c.Rest}} {
			if offer := fishValues(p.Name, at.v); offer != "" {
				fmt.Fprintf(&b, "complete -c %s -n '__%[1]s_at %s %s' -a %s\n", p.Name, c.Name, at.place, fishQuoted(offer))
			}
		}
	}
	return b.String()
}

// fishFlag is a line for a flag of a command; its files are offered by ourselves,
// since fish would offer all.
func fishFlag(b *strings.Builder, program, command string, f Flag) {
	fmt.Fprintf(b, "complete -c %s -n '__%[1]s_is %s' -l %s", program, command, f.Name)
	if f.Letter != "" {
		fmt.Fprintf(b, " -s %s", f.Letter)
	}
	if f.Takes != "" {
		b.WriteString(" -x")
	}
	if offer := fishValues(program, f.Values); offer != "" {
		fmt.Fprintf(b, " -a %s", fishQuoted(offer))
	}
	fmt.Fprintf(b, " -d %s\n", fishQuoted(f.Text))
}

// fishValues is what is offered: words, and a call that finds files.
func fishValues(program string, v Values) string {
	all := append([]string{}, v.Words...)
	call := "(__" + program + "_files"
	switch {
	case v.Files:
		all = append(all, call+" .)")
	case len(v.Endings) > 0:
		all = append(all, call+" "+strings.Join(v.Endings, " ")+")")
	case v.Folders:
		all = append(all, call+")")
	}
	return strings.Join(all, " ")
}

func fishQuoted(s string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
}

const fishHead = `# Completion of PROGRAM for fish, made by: PROGRAM completion fish
# Put it as the file PROGRAM.fish into ~/.config/fish/completions.

# __PROGRAM_begins is true where the command stands.
function __PROGRAM_begins
	test (count (commandline -opc)) -eq 1
end

# __PROGRAM_is is true behind that command.
function __PROGRAM_is
	set -l typed (commandline -opc)
	test (count $typed) -ge 2; and test "$typed[2]" = $argv[1]
end

# __PROGRAM_at is true behind that command at its first argument, or at the rest.
# The value of a flag counts as an argument.
function __PROGRAM_at
	__PROGRAM_is $argv[1]; or return 1
	set -l arguments (commandline -opc | string match -v -- '-?*')
	if test $argv[2] = first
		test (count $arguments) -eq 2
	else
		test (count $arguments) -gt 2
	end
end

# __PROGRAM_files finds folders, and files whose names end as one of its arguments;
# . stands for all files.
function __PROGRAM_files
	set -l typed (commandline -ct | string replace -r '^--[^=]*=' '')
	for found in (complete -C "'' $typed")
		set -l name (string split -f 1 \t -- $found)
		if string match -q '*/' -- $name; or contains -- . $argv
			echo $name
			continue
		end
		for ending in $argv
			string match -qi "*$ending" -- $name; and echo $name
		end
	end
end

complete -c PROGRAM -f
`
