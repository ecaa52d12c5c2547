package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport is policy: who may import whom within the module. An arrow not
// listed here is a change of the house and needs agreement first.
var mayImport = map[string][]string{
	"colorimetry":                        {},
	"colorimetry/photo":                  {"colorimetry", "colorimetry/photo/heif", "colorimetry/photo/profile"},
	"colorimetry/photo/profile":          {"colorimetry"},
	"colorimetry/patches":                {"colorimetry", "colorimetry/photo"},
	"colorimetry/photo/heif":             {},
	"charts":                             {"charts/strict", "charts/units", "colorimetry"},
	"charts/strict":                      {},
	"charts/units":                       {"charts/strict"},
	"calib":                              {"charts", "colorimetry"},
	"calib/agreement":                    {"calib", "calib/reading", "charts"},
	"calib/judge":                        {"calib", "charts"},
	"calib/reading":                      {"calib", "calib/judge", "calib/strip", "charts", "colorimetry"},
	"calib/scene":                        {"charts", "colorimetry"},
	"calib/strip":                        {"calib", "calib/judge", "charts", "charts/units", "colorimetry", "colorimetry/photo"},
	"cmd/padband/internal/decoder":       {"cmd/padband/internal/lines", "colorimetry/photo"},
	"cmd/padband/internal/lines":         {"calib/reading"},
	"cmd/padband/internal/report":        {"calib", "calib/judge", "calib/reading", "calib/strip", "charts", "cmd/padband/internal/lines", "colorimetry"},
	"cmd/padband/internal/readers":       {"calib/agreement", "calib/reading", "charts", "cmd/padband/internal/input", "cmd/padband/internal/hosted", "cmd/padband/internal/lines"},
	"cmd/padband/internal/history":       {"calib", "calib/judge", "calib/reading", "charts", "cmd/padband/internal/lines", "cmd/padband/internal/record", "cmd/padband/internal/report"},
	"cmd/padband/internal/input":         {"charts"},
	"cmd/padband/internal/batch":         {"calib", "calib/reading", "cmd/padband/internal/input", "cmd/padband/internal/hosted", "cmd/padband/internal/lines", "cmd/padband/internal/report"},
	"cmd/padband/internal/record":        {"calib", "calib/judge", "calib/reading", "calib/strip", "charts", "cmd/padband/internal/hosted", "cmd/padband/internal/input", "cmd/padband/internal/record/bag", "cmd/padband/internal/report", "colorimetry/photo"},
	"cmd/padband/internal/record/bag":    {},
	"cmd/padband/internal/record/stamp":  {},
	"cmd/padband/internal/record/sshsig": {"cmd/padband/internal/input"},
	"cmd/padband/internal/page":          {"calib", "calib/strip", "charts", "cmd/padband/internal/hosted", "cmd/padband/internal/input", "cmd/padband/internal/record", "cmd/padband/internal/record/bag", "cmd/padband/internal/report", "colorimetry", "colorimetry/patches", "colorimetry/photo"},
	"cmd/padband/internal/blind":         {"calib/strip", "charts", "cmd/padband/internal/input", "cmd/padband/internal/hosted", "cmd/padband/internal/lines", "cmd/padband/internal/page", "cmd/padband/internal/report", "colorimetry/photo"},
	"cmd/padband/internal/blind/marked":  {"charts", "cmd/padband/internal/input", "cmd/padband/internal/blind", "cmd/padband/internal/lines", "cmd/padband/internal/record", "cmd/padband/internal/record/bag", "colorimetry/photo"},
	"cmd/padband/internal/hosted":        {"charts", "cmd/padband/internal/input"},
	"cmd/padband/internal/host":          {"cmd/padband/internal/input", "cmd/padband/internal/hosted"},
	"cmd/padband/internal/usage":         {},
	"cmd/padband/guide":                  {"cmd/padband/internal/lines"},
	"cmd/padband":                        {"*"},
}

// outside names standard packages that nothing outside cmd may use: it does
// not print, open files, touch the network or run programs.
var outside = []string{"os", "os/exec", "net", "net/http", "log", "log/slog", "flag", "syscall"}

type listed struct {
	ImportPath string
	Imports    []string
	Dir        string
	GoFiles    []string
}

func listPackages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports,Dir,GoFiles", "padband/...")
	out, err := cmd.Output()
	require.NoError(t, err)
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var p listed
		require.NoError(t, dec.Decode(&p))
		all = append(all, p)
	}
	return all
}

func TestImportsGoOneWay(t *testing.T) {
	packages := listPackages(t)
	assert.GreaterOrEqual(t, len(packages), len(mayImport))
	for _, p := range packages {
		name := strings.TrimPrefix(p.ImportPath, "padband/")
		allowed, known := mayImport[name]
		if !assert.True(t, known, "package %s is not in the house", name) {
			continue
		}
		for _, i := range p.Imports {
			if own, ok := strings.CutPrefix(i, "padband/"); ok {
				assert.True(t, slices.Contains(allowed, own) || slices.Contains(allowed, "*"), "%s may not import %s", name, own)
			}
			if !strings.HasPrefix(name, "cmd/") {
				assert.NotContains(t, outside, i, "%s may not use %s", name, i)
			}
		}
	}
}

// printing finds calls that print, exit or read the clock.
var printing = regexp.MustCompile(`\b(fmt\.Print(ln|f)?|println|time\.(Now|Since|Until|After|Tick|NewTimer))\(`)

func TestLibrariesDoNotPrintOrReadTheClock(t *testing.T) {
	seen := 0
	for _, p := range listPackages(t) {
		if strings.HasPrefix(p.ImportPath, "padband/cmd/") {
			continue
		}
		for _, f := range p.GoFiles {
			data, err := os.ReadFile(filepath.Join(p.Dir, f))
			require.NoError(t, err)
			seen++
			assert.Empty(t, printing.FindString(string(data)), "%s/%s", p.ImportPath, f)
		}
	}
	assert.Greater(t, seen, 10)
}

// A record is made and read in a browser too. What that links there is to be
// small: it neither signs nor checks signatures, and it reaches no network.
func TestRecordLinksNoSSHInTheBrowser(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "padband/cmd/padband/internal/record")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	out, err := cmd.Output()
	require.NoError(t, err)
	linked := strings.Fields(string(out))
	assert.True(t, slices.Contains(linked, "padband/calib/strip"))
	for _, p := range []string{"golang.org/x/crypto/ssh", "crypto/tls", "crypto/x509", "net", "net/http"} {
		assert.False(t, slices.Contains(linked, p), "%s is linked", p)
	}
}

func TestBuildsForTheBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole build for another system; left out with -short")
	}
	var names []string
	for _, p := range listPackages(t) {
		if !strings.HasPrefix(p.ImportPath, "padband/cmd/") {
			names = append(names, p.ImportPath)
		}
	}
	cmd := exec.Command("go", append([]string{"build"}, names...)...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
}
