package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// needed is a program that a test asks; where it is missing the test is left out,
// but not in CI.
func needed(t *testing.T, program, why string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		require.NotEqual(t, "true", os.Getenv("CI"), "%s is needed", program)
		t.Skipf("%s is not on this machine; %s", program, why)
	}
	return path
}

// completionOf writes the script of a shell into a file of a folder of its own
// with files to complete, and returns the script's path.
func completionOf(t *testing.T, shell string) (script string) {
	t.Helper()
	code, text, errOut := call("completion", shell)
	require.Zero(t, code, errOut)
	t.Chdir(t.TempDir())
	for _, name := range []string{"kitchen.jpg", "CELLAR.JPG", "my photo.jpeg", "st*r.jpg", "kitchen.marks.json", "own.chart.json", "notes.txt", "rec.zip", "calls.csv"} {
		write(t, name, []byte("x"))
	}
	for _, name := range []string{"sub", "list"} {
		require.NoError(t, os.Mkdir(name, 0o777))
	}
	script = filepath.Join(t.TempDir(), "script")
	write(t, script, []byte(text))
	return script
}

// completed are calls that are begun, up to the word to complete, and what each
// shell is to offer, in any order.
var completed = []struct{ typed, offered string }{
	{"padband rea", "read"},
	{"padband ver", "verify version"},
	{"padband read k", "kitchen.jpg"},
	{"padband read --ma", "--marks --max-megapixels"},
	{"padband read --marks k", "kitchen.marks.json"},
	{"padband read kitchen.jpg --marks=k", "kitchen.marks.json"},
	{"padband read kitchen.jpg --chart o", "orchard-well own.chart.json"},
	{"padband read --json k", "kitchen.jpg"},
	{"padband read --analyte ", ""},
	{"padband chart l", "list"},
	{"padband chart show m", "mill-spring"},
	{"padband chart show --json o", "orchard-well own.chart.json"},
	{"padband limits u", "us-epa usgs-hardness"},
	{"padband help ver", "verify version verdict"},
	{"padband completion ", "bash zsh fish"},
	{"padband compare --strips ", "one two"},
	{"padband stamp sub n", "notes.txt"},
	{"padband report -o ca", "calls.csv"},
	{"padband verify r", "rec.zip"},
	{"padband find sub --reliability c", "caution"},
}

func TestBashCompletes(t *testing.T) {
	bash := needed(t, "bash", "it tries the completion")
	script := completionOf(t, "bash")
	out, err := exec.Command(bash, "-n", script).CombinedOutput()
	require.NoError(t, err, "%s", out)
	const drive = `source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($#-1)); _padband; printf '%s\n' "${COMPREPLY[@]}"`
	try := func(words ...string) []string {
		out, err := exec.Command(bash, append([]string{"--norc", "-c", drive, "bash", script}, words...)...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		return strings.FieldsFunc(string(out), func(r rune) bool { return r == '\n' })
	}
	for _, c := range completed {
		words := strings.Split(strings.ReplaceAll(c.typed, "=", " = "), " ") // bash parts words at "="
		assert.ElementsMatch(t, strings.Fields(c.offered), try(words...), c.typed)
	}
	photos := []string{"kitchen.jpg", "CELLAR.JPG", "my photo.jpeg", "st*r.jpg", "sub", "list"}
	assert.ElementsMatch(t, photos, try("padband", "read", ""))
	assert.Equal(t, photos[2:3], try("padband", "read", `my\ ph`))
	assert.Equal(t, photos[2:3], try("padband", "read", `"my ph`))
	assert.Empty(t, try("padband", "raed", ""))
	assert.Empty(t, try("padband", "read", "$(touch made)"))
	assert.NoFileExists(t, "made", "what is typed is never run")
}

func TestFishCompletes(t *testing.T) {
	fish := needed(t, "fish", "it tries the completion")
	script := completionOf(t, "fish")
	t.Setenv("HOME", t.TempDir())
	const drive = `source $argv[1]; for typed in $argv[2..]; echo $typed; complete -C $typed | string replace -r '\t.*' ''; echo; end`
	args := []string{"--no-config", "-c", drive, script}
	for _, c := range completed {
		args = append(args, c.typed)
	}
	out, err := exec.Command(fish, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	blocks := strings.Split(strings.TrimSuffix(string(out), "\n\n"), "\n\n")
	require.Len(t, blocks, len(completed), "%s", out)
	for i, c := range completed {
		lines := strings.Split(blocks[i], "\n")
		require.Equal(t, c.typed, lines[0])
		var got []string
		for _, l := range lines[1:] {
			got = append(got, strings.TrimPrefix(l, "--marks="))
		}
		assert.ElementsMatch(t, strings.Fields(c.offered), got, c.typed)
	}
}

// zsh completes at a terminal alone; here its script is checked and loaded both
// ways.
func TestZshLoads(t *testing.T) {
	zsh := needed(t, "zsh", "it loads the completion")
	script := completionOf(t, "zsh")
	out, err := exec.Command(zsh, "-n", script).CombinedOutput()
	require.NoError(t, err, "%s", out)
	const sourced = `autoload -U compinit; compinit -D -u; source $1; print $_comps[padband] $+functions[_padband_offer]`
	out, err = exec.Command(zsh, "-f", "-c", sourced, "zsh", script).CombinedOutput()
	require.NoError(t, err, "%s", out)
	assert.Equal(t, "_padband 1\n", string(out))
	folder := filepath.Dir(script)
	require.NoError(t, os.Rename(script, filepath.Join(folder, "_padband")))
	const found = `fpath=($1 $fpath); autoload -U compinit; compinit -D -u; print $_comps[padband]`
	out, err = exec.Command(zsh, "-f", "-c", found, "zsh", folder).CombinedOutput()
	require.NoError(t, err, "%s", out)
	assert.Equal(t, "_padband\n", string(out))
}

// Whatever the table says of flags is true: each has a value, in some command.
func TestFlagValuesAreOfFlags(t *testing.T) {
	takes := map[string]bool{}
	for _, c := range described().Commands {
		for _, f := range c.Flags {
			takes[f.Name] = takes[f.Name] || f.Takes != ""
			if file := strings.Contains(f.Takes, "FILE") || f.Takes == "DIR" || f.Takes == "FOLDER" || f.Takes == "PHOTO"; file {
				v := f.Values
				assert.True(t, v.Files || v.Folders || len(v.Endings) > 0, "%s --%s takes a file, and none is offered", c.Name, f.Name)
			}
		}
	}
	for name := range flagValues() {
		assert.True(t, takes[name], name)
	}
}

// The manual page is sound roff, tells of every command, flag and topic, and
// reads in 80 columns.
func TestManualPage(t *testing.T) {
	code, page, errOut := call("help", "--man")
	require.Zero(t, code, errOut)
	again := described()
	mandoc := needed(t, "mandoc", "it checks and shows the manual page")
	name := filepath.Join(t.TempDir(), "padband.1")
	write(t, name, []byte(page))
	out, _ := exec.Command(mandoc, "-T", "lint", name).CombinedOutput() // it fails for the missing date, on purpose
	assert.Equal(t, "mandoc: "+name+":1:15: WARNING: missing date, using \"\": TH\n", string(out))
	out, err := exec.Command(mandoc, "-T", "ascii", "-O", "width=80", name).CombinedOutput()
	require.NoError(t, err, "%s", out)
	var plain []rune // without what is struck over for bold and underlined
	for _, r := range string(out) {
		if r == '\b' {
			plain = plain[:len(plain)-1]
			continue
		}
		plain = append(plain, r)
	}
	text := string(plain)
	for l := range strings.SplitSeq(text, "\n") {
		assert.LessOrEqual(t, len(l), 80, l)
	}
	for _, c := range again.Commands {
		assert.Contains(t, text, "\n   "+c.Name+"\n")
		assert.Contains(t, text, "     padband "+c.Use[0]+"\n")
		for _, f := range c.Flags {
			assert.Contains(t, text, "--"+f.Name, c.Name)
		}
	}
	for _, topic := range again.Topics {
		assert.Contains(t, text, "padband help "+topic.Name+"\n")
	}
	assert.Contains(t, text, `such as "10 mg/L as N"`)
	assert.Contains(t, text, "the photo's folder")
}
