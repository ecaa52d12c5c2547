package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a command says is wrong names only flags that the command has.
func TestErrorsNameFlagsOfTheirCommand(t *testing.T) {
	dir := folder(t, "nowhere")
	bare := filepath.Join(dir, "bare.jpg")
	photo, err := os.ReadFile(filepath.Join(dir, "p.jpg"))
	require.NoError(t, err)
	write(t, bare, photo)
	write(t, filepath.Join(dir, "list"), []byte(bare+"\n"+filepath.Join(dir, "p.jpg")+"\n"))
	named := 0
	for _, args := range [][]string{
		{"read", bare}, {"read", filepath.Join(dir, "p.jpg")}, {"read", demoKitchen, "--dilution", "1+1", "--undiluted", bare},
		{"outline", bare}, {"outline", bare, "--chart", "nothing"}, {"outline", demoKitchen}, {"outline", demoKitchen, "--max-megapixels", "0"},
		{"keep", bare, "--into", dir}, {"keep", filepath.Join(dir, "p.jpg"), "--into", dir}, {"keep", demoKitchen, "--into", bare},
		{"batch", filepath.Join(dir, "list")}, {"batch", dir}, {"batch", dir, "--resume"}, {"blind", dir, "--reader", "A"}, {"blind", dir},
		{"mark", "-"}, {"mark", demoKitchen, "--into", "nowhere"}, {"verify", bare}, {"report", bare}, {"find", dir}, {"trend", dir, "--plot", "x"},
		{"chart", "show", "nothing"}, {"plan", "nothing"}, {"limits", "nothing"}, {"stamp", dir, bare}, {"compare", bare},
	} {
		code, out, errOut := call(args...)
		assert.NotZero(t, code, args)
		lines := strings.Split(strings.TrimSpace(out+errOut), "\n")
		for _, l := range lines {
			if strings.HasPrefix(l, "usage:") || strings.HasPrefix(l, "       padband ") {
				continue
			}
			for _, f := range flagNames.FindAllString(l, -1) {
				assert.Contains(t, flagsOf(t, args[0]), f, "%v: %s", args, l)
				named++
			}
		}
	}
	assert.Greater(t, named, 6)
}

// No command is made of another's flags, whose errors would name them: batch
// alone has those of read.
func TestOptionsStayInTheirFile(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	options := regexp.MustCompile(`\b([a-z]+)Options\b`)
	names, seen := commandNames(t), 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		for _, m := range options.FindAllStringSubmatch(readText(t, f), -1) {
			if slices.Contains(names, m[1]) {
				assert.True(t, f == m[1]+".go" || f == "batch.go" && m[1] == "read", "%s uses %sOptions", f, m[1])
				seen++
			}
		}
	}
	assert.Greater(t, seen, 20)
}

// The commands' files are explained: a line of comment for each eight of code.
func TestCommandsAreExplained(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	comments, code := 0, 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		for l := range strings.Lines(readText(t, f)) {
			switch l = strings.TrimSpace(l); {
			case strings.HasPrefix(l, "//"):
				comments++
			case l != "":
				code++
			}
		}
	}
	assert.GreaterOrEqual(t, float64(comments), 0.12*float64(code))
}
