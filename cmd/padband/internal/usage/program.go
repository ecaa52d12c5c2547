package usage

// Program is what is to be known of a program to complete and describe its calls.
type Program struct {
	Name, Version string
	Short         string   // what it is, after "padband - "
	About         []string // what it is, in paragraphs
	Flags         []Flag   // that stand in the place of a command
	Commands      []Command
	Topics        []Topic
	Codes         []Topic // exit codes, and what they mean
	Examples      []Topic // calls, and what they do
}

// Command is one of the words that a call begins with.
type Command struct {
	Name, Short string
	Use         []string // one line for each way to call it, without the program's name
	More        string   // what else is said of it, in lines of text
	Codes       string   // exit codes of its own, as ", 3 unreliable"
	Flags       []Flag
	First, Rest Values // what may stand as its first argument, and as the others
}

// Flag is a flag of a command.
type Flag struct {
	Name, Letter string // without dashes; the letter may be empty
	Takes        string // what its value is called; empty for a flag without a value
	Text         string
	Many         bool // may be repeated
	Values       Values
}

// Topic is a word or a call, and what it tells or does.
type Topic struct{ Name, Title string }

// Values are what may be typed in one place. The zero value is text of one's own.
type Values struct {
	Words   []string
	Endings []string // of files, such as .jpg; capitals or not
	Files   bool     // any file
	Folders bool     // folders alone; with the others they are on the way to a file
}

// valued are the flags with a value, as they are typed.
func (c Command) valued() (out []string) {
	for _, f := range c.Flags {
		if f.Takes == "" {
			continue
		}
		if out = append(out, "--"+f.Name); f.Letter != "" {
			out = append(out, "-"+f.Letter)
		}
	}
	return out
}

// flags are all flags in full, as they are typed.
func (c Command) flags() (out []string) {
	for _, f := range c.Flags {
		out = append(out, "--"+f.Name)
	}
	return append(out, "--help")
}

// names are what may stand as a call's first word.
func (p Program) names() (out []string) {
	for _, c := range p.Commands {
		out = append(out, c.Name)
	}
	for _, f := range p.Flags {
		out = append(out, "--"+f.Name)
	}
	return out
}
