package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport is policy: who may import whom within the module. An arrow not
// listed here is a change of the house and needs agreement first.
var mayImport = map[string][]string{
	"calib":           {"charts", "charts/units", "colorimetry"},
	"calib/agreement": {"calib", "calib/reading", "charts", "charts/units"},
	"calib/judge":     {"calib", "charts", "charts/limits", "charts/units"},
	"calib/reading":   {"calib", "calib/judge", "calib/strip", "charts", "charts/limits", "colorimetry"},
	"calib/scene":     {"charts", "colorimetry"},
	"calib/scene/table": {
		"charts", "colorimetry",
	},
	"calib/strip": {
		"calib", "calib/judge", "calib/strip/bare", "calib/witness", "charts", "charts/limits", "charts/strict", "charts/units",
		"colorimetry", "colorimetry/photo",
	},
	"calib/strip/bare":    {"calib", "charts", "colorimetry"},
	"calib/witness":       {"colorimetry"},
	"calib/strip/outline": {"charts", "colorimetry", "colorimetry/patches"},
	"charts":              {"charts/figures", "charts/strict", "charts/units", "colorimetry"},
	"charts/figures":      {"charts/strict"},
	"charts/limits":       {"charts", "charts/strict", "charts/units"},
	"charts/strict":       {},
	"charts/units":        {"charts/strict"},
	"cmd/padband":         {"*"},
	"cmd/padband/guide":   {"cmd/padband/internal/lines"},
	"cmd/padband/internal/batch": {
		"calib", "calib/reading", "cmd/padband/internal/hosted", "cmd/padband/internal/input",
		"cmd/padband/internal/lines", "cmd/padband/internal/report",
	},
	"cmd/padband/internal/blind": {
		"calib/strip", "charts", "cmd/padband/internal/hosted", "cmd/padband/internal/input",
		"cmd/padband/internal/lines", "cmd/padband/internal/page", "cmd/padband/internal/report",
		"colorimetry", "colorimetry/photo",
	},
	"cmd/padband/internal/blind/marked": {
		"charts", "cmd/padband/internal/blind", "cmd/padband/internal/input", "cmd/padband/internal/lines",
		"cmd/padband/internal/record", "cmd/padband/internal/record/bag", "colorimetry/photo",
	},
	"cmd/padband/internal/decoder": {"cmd/padband/internal/lines", "colorimetry/photo"},
	"cmd/padband/internal/figure":  {"cmd/padband/internal/lines"},
	"cmd/padband/internal/history": {
		"cmd/padband/internal/figure",
		"calib", "calib/judge", "calib/reading", "charts", "charts/limits", "charts/units",
		"cmd/padband/internal/lines", "cmd/padband/internal/record", "cmd/padband/internal/words",
	},
	"cmd/padband/internal/history/difference": {
		"calib", "calib/judge", "cmd/padband/internal/lines", "cmd/padband/internal/record",
		"cmd/padband/internal/report", "cmd/padband/internal/report/markup",
		"cmd/padband/internal/report/rule", "cmd/padband/internal/report/sheet",
		"cmd/padband/internal/words",
	},
	"cmd/padband/internal/host":   {"cmd/padband/internal/hosted", "cmd/padband/internal/input"},
	"cmd/padband/internal/hosted": {"charts", "cmd/padband/internal/input"},
	"cmd/padband/internal/input":  {"charts"},
	"cmd/padband/internal/lines":  {"calib/reading"},
	"cmd/padband/internal/outlined": {
		"calib/strip/outline", "charts", "cmd/padband/internal/lines", "cmd/padband/internal/words", "colorimetry", "colorimetry/photo",
	},
	"cmd/padband/internal/page": {
		"calib/strip", "calib/strip/outline", "charts", "charts/limits", "charts/units",
		"cmd/padband/internal/hosted", "cmd/padband/internal/input", "cmd/padband/internal/lines", "cmd/padband/internal/outlined",
		"cmd/padband/internal/record", "cmd/padband/internal/record/bag",
		"cmd/padband/internal/report", "cmd/padband/internal/report/paper", "cmd/padband/internal/words",
		"colorimetry", "colorimetry/patches", "colorimetry/photo",
	},
	"cmd/padband/internal/readers": {
		"cmd/padband/internal/figure",
		"calib/agreement", "calib/reading", "charts", "charts/limits", "charts/units",
		"cmd/padband/internal/hosted", "cmd/padband/internal/input", "cmd/padband/internal/lines",
		"calib", "cmd/padband/internal/words",
	},
	"cmd/padband/internal/record": {
		"calib/judge", "calib/reading", "calib/strip", "charts", "charts/limits", "charts/units",
		"cmd/padband/internal/hosted", "cmd/padband/internal/input", "cmd/padband/internal/record/bag",
		"cmd/padband/internal/report", "cmd/padband/internal/report/paper", "cmd/padband/internal/words",
		"colorimetry/photo",
	},
	"cmd/padband/internal/record/bag":    {},
	"cmd/padband/internal/record/sshsig": {"cmd/padband/internal/input"},
	"cmd/padband/internal/record/stamp":  {},
	"cmd/padband/internal/report": {
		"calib", "calib/judge", "calib/reading", "calib/strip", "charts", "charts/limits", "charts/units",
		"cmd/padband/internal/lines", "cmd/padband/internal/report/markup",
		"cmd/padband/internal/report/rule", "cmd/padband/internal/report/sheet",
		"cmd/padband/internal/words", "colorimetry",
	},
	"cmd/padband/internal/report/markup": {"cmd/padband/internal/lines"},
	"cmd/padband/internal/report/paper": {
		"calib", "calib/strip", "charts", "cmd/padband/internal/lines", "cmd/padband/internal/report",
		"cmd/padband/internal/report/markup", "cmd/padband/internal/report/rule",
		"cmd/padband/internal/report/sheet", "cmd/padband/internal/words", "colorimetry",
	},
	"cmd/padband/internal/report/reporttest": {"calib", "calib/judge", "calib/strip", "charts", "colorimetry"},
	"cmd/padband/internal/report/rule": {
		"calib", "calib/judge", "cmd/padband/internal/lines", "cmd/padband/internal/report/markup",
		"cmd/padband/internal/words",
	},
	"cmd/padband/internal/report/sheet": {"cmd/padband/internal/report/markup", "cmd/padband/internal/words"},
	"cmd/padband/internal/usage":        {},
	"cmd/padband/internal/words": {
		"calib", "calib/judge", "calib/reading", "calib/strip", "calib/strip/outline", "charts",
		"cmd/padband/internal/lines",
	},
	"colorimetry":         {},
	"colorimetry/patches": {"colorimetry", "colorimetry/photo"},
	"colorimetry/photo": {
		"colorimetry", "colorimetry/photo/baseline", "colorimetry/photo/heif", "colorimetry/photo/profile",
		"colorimetry/photo/rows",
	},
	"colorimetry/photo/baseline": {},
	"colorimetry/photo/heif":     {},
	"colorimetry/photo/profile":  {"colorimetry"},
	"colorimetry/photo/rows":     {},
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

// flagged finds a flag of a command.
var flagged = regexp.MustCompile(`(^|[^-[:alnum:]])--[a-z]`)

// A library names the fault; which flag helps, only the command knows. The scripts
// that shells complete by are about flags, and are made from the command's own table.
func TestLibrariesNameNoFlag(t *testing.T) {
	var said []string
	for _, f := range libraryFiles(t) {
		if path.Dir(f.name) == "cmd/padband/internal/usage" {
			continue
		}
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING && flagged.MatchString(l.Value) {
				said = append(said, f.at(l.Pos())+" "+l.Value)
			}
			return true
		})
	}
	assert.Empty(t, strings.Join(said, "\n"), "the command adds the flag")
}

// firstLines are what files begin with that a command wrote; they stay as they are.
var firstLines = []string{"# padband blind calls, format ", "^# padband blind calls, format ", "padband batch 1 "}

// Nor does a library send a person to a command: its caller does.
func TestLibrariesNameNoCommand(t *testing.T) {
	var names, said []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	named := regexp.MustCompile(`padband (` + strings.Join(names, "|") + `)\b`)
	for _, f := range libraryFiles(t) {
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			l, ok := n.(*ast.BasicLit)
			first := func(text string) bool { return strings.HasPrefix(l.Value[1:], text) }
			if ok && l.Kind == token.STRING && named.MatchString(l.Value) && !slices.ContainsFunc(firstLines, first) {
				said = append(said, f.at(l.Pos())+" "+l.Value)
			}
			return true
		})
	}
	assert.Empty(t, strings.Join(said, "\n"), "the command adds its own name")
}

// goFile is a Go file that is no test.
type goFile struct {
	name   string // from the module's folder
	text   string
	set    *token.FileSet
	syntax *ast.File
}

func (f goFile) at(p token.Pos) string { return fmt.Sprintf("%s:%d", f.name, f.set.Position(p).Line) }

// goFiles are all Go files of the module but its tests, whatever system they are for.
func goFiles(t *testing.T) (out []goFile) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != root:
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f := goFile{text: string(data), set: token.NewFileSet()}
		if f.syntax, err = parser.ParseFile(f.set, path, data, parser.SkipObjectResolution); err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		f.name = filepath.ToSlash(name)
		out = append(out, f)
		return err
	})
	require.NoError(t, err)
	require.Greater(t, len(out), 200)
	return out
}

// libraryFiles are those of [goFiles] that are not the command's own.
func libraryFiles(t *testing.T) []goFile {
	t.Helper()
	return slices.DeleteFunc(goFiles(t), func(f goFile) bool { return filepath.ToSlash(filepath.Dir(f.name)) == "cmd/padband" })
}

// The house's measures of a Go file that is no test.
const (
	mostFilesOfAFolder = 25
	mostLinesOfAFile   = 400
	mostLinesOfAFunc   = 60
	widestLine         = 140 // letters; a tab counts as one
	fewestOfAPrefix    = 3   // files of a folder with one prefix and an underscore: a room is missing
)

// What is too large to be read at a glance, or lies where too much lies, is named.
func TestFilesAndFunctionsAreSmall(t *testing.T) {
	var over []string
	for _, f := range goFiles(t) {
		rows := strings.Split(strings.TrimSuffix(f.text, "\n"), "\n")
		if n := len(rows); n > mostLinesOfAFile {
			over = append(over, fmt.Sprintf("%s has %d lines", f.name, n))
		}
		for i, row := range rows {
			if n := utf8.RuneCountInString(row); n > widestLine {
				over = append(over, fmt.Sprintf("%s:%d is %d letters wide", f.name, i+1, n))
			}
		}
		for _, d := range f.syntax.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := f.set.Position(fn.End()).Line - f.set.Position(fn.Pos()).Line + 1; n > mostLinesOfAFunc {
				over = append(over, fmt.Sprintf("%s: %s has %d lines", f.at(fn.Pos()), fn.Name.Name, n))
			}
		}
	}
	assert.Empty(t, strings.Join(over, "\n"))
}

// A folder holds few files, and a prefix that several of them share would be a folder.
func TestFoldersAreSmall(t *testing.T) {
	folders, prefixes := map[string]int{}, map[string]int{}
	for _, f := range goFiles(t) {
		folders[path.Dir(f.name)]++
		if prefix, _, ok := strings.Cut(path.Base(f.name), "_"); ok {
			prefixes[path.Join(path.Dir(f.name), prefix)+"_"]++
		}
	}
	var over []string
	for folder, n := range folders {
		if n > mostFilesOfAFolder {
			over = append(over, fmt.Sprintf("%s holds %d files", folder, n))
		}
	}
	for prefix, n := range prefixes {
		if n >= fewestOfAPrefix {
			over = append(over, fmt.Sprintf("%s begins the names of %d files", prefix, n))
		}
	}
	slices.Sort(over)
	assert.Empty(t, strings.Join(over, "\n"))
}
