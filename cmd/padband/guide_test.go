package main

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each page of the guide prints in 80 columns, under its title, and none hides
// behind a command of the same name.
func TestTopicsPrint(t *testing.T) {
	code, overview, errOut := call("help")
	require.Zero(t, code, errOut)
	var printed []string
	for _, topic := range topics() {
		code, out, errOut := call("help", topic.Name)
		require.Zero(t, code, errOut)
		for _, l := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80, "%s: %s", topic.Name, l)
		}
		assert.Greater(t, strings.Count(out, "\n"), 20, topic.Name)
		assert.NotContains(t, out, "`", topic.Name)
		assert.NotContains(t, commandNames(t), topic.Name)
		printed = append(printed, topic.Name)
		if topic.Name != "codes" {
			assert.True(t, strings.HasPrefix(out, topic.Title+"\n\n"), topic.Name)
			assert.Contains(t, guidePages(t), "cmd/padband/guide/"+topic.Name+".md")
		}
	}
	assert.Len(t, printed, len(guidePages(t))+1, "a page that no topic prints")
	assert.Contains(t, overview, "\n"+strings.Join(printed, ", ")+"\n")
}

// The README is for a first reading. It lists the guide's pages by their titles.
func TestReadmeIsShort(t *testing.T) {
	readme := readText(t, root+"README.md")
	assert.LessOrEqual(t, strings.Count(readme, "\n"), 120)
	var rows []string
	for _, m := range regexp.MustCompile(`(?m)^\| \[?(\w+)\]?(?:\((.*)\))? \| (.*) \|$`).FindAllStringSubmatch(readme, -1) {
		if rows = append(rows, m[1]+": "+m[3]); m[2] != "" {
			assert.FileExists(t, root+m[2])
			assert.Equal(t, m[1]+".md", path.Base(m[2]))
		}
	}
	want := []string{"topic: what it tells"}
	for _, topic := range topics() {
		want = append(want, topic.Name+": "+topic.Title)
	}
	assert.Equal(t, want, rows)
}

// commandNames are the commands that padband help lists.
func commandNames(t *testing.T) (out []string) {
	t.Helper()
	_, text, _ := call("help")
	for _, m := range regexp.MustCompile(`(?m)^  padband (\w+) `).FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	require.Greater(t, len(out), 10)
	return out
}

// flagNames matches the flags in a text.
var flagNames = regexp.MustCompile(`--[a-z][a-z-]*`)

// flagsOf are the flags that padband help tells of a command.
func flagsOf(t *testing.T, command string) []string {
	t.Helper()
	code, text, errOut := call("help", command)
	require.Zero(t, code, errOut)
	var out []string
	for _, m := range regexp.MustCompile(`(?m)^ +(?:-\w, )?(--[a-z-]+)`).FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	return out
}

// toldToType returns what a document tells a person to type: its spans of code,
// and the calls of padband in its blocks, each with the lines it goes on in.
func toldToType(markdown string) (out []string) {
	markdown = strings.ReplaceAll(markdown, "\\\n", " ")
	fenced := regexp.MustCompile("(?ms)^```\\w+\n(.*?)^```$")
	for _, block := range fenced.FindAllStringSubmatch(markdown, -1) {
		for _, m := range regexp.MustCompile(`(?m)^[^#|\n]*?(padband [a-z]+[^|\n]*)`).FindAllStringSubmatch(block[1], -1) {
			out = append(out, m[1])
		}
	}
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(fenced.ReplaceAllString(markdown, ""), -1) {
		out = append(out, strings.Join(strings.Fields(m[1]), " "))
	}
	return out
}

// wrongIn says what a text tells to type that does not exist, if anything.
func wrongIn(t *testing.T, typed string) string {
	t.Helper()
	commands := commandNames(t)
	words := strings.Fields(strings.TrimPrefix(typed, "padband "))
	var known []string
	switch name := words[0]; {
	case name == "help" && len(words) > 1 && strings.HasPrefix(words[1], "-"):
		known = flagsOf(t, name)
	case name == "help" && len(words) > 1 && words[1] != "TOPIC":
		if code, _, errOut := call(words...); code != 0 {
			return errOut
		}
	case slices.Contains(commands, name):
		known = flagsOf(t, name)
	case strings.HasPrefix(typed, "padband "):
		return "there is no command " + name
	case strings.HasPrefix(name, "-"):
		for _, c := range commands {
			known = append(known, flagsOf(t, c)...)
		}
	default:
		return "" // a file, a word or another program
	}
	for _, f := range flagNames.FindAllString(typed, -1) {
		if !slices.Contains(known, f) {
			return f + " is no flag of it"
		}
	}
	return ""
}

// What the README and the guide tell to type are commands and flags that exist.
func TestReadmeAndGuideNameCommandsAndFlags(t *testing.T) {
	assert.NotEmpty(t, wrongIn(t, "padband raed kitchen.jpg"))
	assert.NotEmpty(t, wrongIn(t, "keep --undiluted"))
	assert.NotEmpty(t, wrongIn(t, "--undilute PHOTO"))
	assert.NotEmpty(t, wrongIn(t, "padband help limitz"))
	flags := 0
	for _, name := range append(guidePages(t), "README.md") {
		for _, typed := range toldToType(readText(t, root+name)) {
			assert.Empty(t, wrongIn(t, typed), "%s: %s", name, typed)
			flags += len(flagNames.FindAllString(typed, -1))
		}
	}
	assert.Greater(t, flags, 40)
}
