//go:build ignore

// Make writes notices.txt: the licences of all modules in the program,
// on any of the systems that it is released for.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// module is one module of the program's.
type module struct {
	Path, Version, Dir string
	Main               bool
	Replace            *module
}

var systems = []string{"linux/amd64", "linux/arm64", "linux/arm", "windows/amd64", "windows/arm64", "darwin/amd64", "darwin/arm64"}

// inside are parts of modules under another licence than the module's own,
// found by reading them.
var inside = map[string]string{
	"github.com/gen2brain/heic": "It holds libheif and libde265, compiled to WebAssembly, which are under the GNU Lesser " +
		"General Public License, version 3 or later.\nTheir sources: the projects libheif and libde265 of strukturag. The program " +
		"that runs them is this one's own child process;\nanother build of them can be put in by building padband from source with " +
		"another version of the module.",
	"github.com/golang/freetype": "It may be used under the FreeType License or the GNU General Public License, version 2; here " +
		"the FreeType License is chosen.",
}

// wanted are the files that hold licences.
var wanted = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|unlicense|patents|authors|ftl)([-.].*)?$`)

func main() {
	log.SetFlags(0)
	if err := write("notices.txt"); err != nil {
		log.Fatal(err)
	}
}

// write collects the modules of all systems, and writes their licences in the
// order of their paths: the same modules give the same bytes.
func write(name string) error {
	all := map[string]module{}
	for _, s := range systems {
		if err := modulesOf(s, all); err != nil {
			return err
		}
	}
	var paths []string
	for p := range all {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	var b bytes.Buffer
	b.WriteString("padband holds the software listed here, each part under its own licence.\n")
	part(
		&b,
		"Go, its runtime and standard library, "+strings.TrimPrefix(runtime.Version(), "go"),
		"",
		filepath.Join(runtime.GOROOT(), "LICENSE"),
	)
	for _, p := range paths {
		m := all[p]
		files, err := licences(m.Dir)
		if err != nil {
			return err
		}
		if len(files) == 0 {
			return errors.New(p + ": no licence found")
		}
		part(&b, m.Path+" "+m.Version, inside[p], files...)
	}
	return os.WriteFile(name, b.Bytes(), 0o644)
}

// modulesOf adds the modules that are linked in on a system.
func modulesOf(system string, all map[string]module) error {
	goos, arch, _ := strings.Cut(system, "/")
	cmd := exec.Command("go", "list", "-deps", "-json=Module", ".")
	cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+arch, "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("%s: %w", system, err)
	}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct{ Module *module }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		if p.Module != nil && !p.Module.Main {
			all[p.Module.Path] = *p.Module
		}
	}
}

// licences are the licence files of a module, at any depth.
func licences(dir string) (out []string, err error) {
	err = filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || d.Name() == "vendor"):
			return filepath.SkipDir
		case !d.IsDir() && wanted.MatchString(d.Name()) && filepath.Ext(d.Name()) != ".go":
			out = append(out, p)
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// part is one module's entry. A licence that stands in several files of a module
// is printed once.
func part(b *bytes.Buffer, head, more string, files ...string) {
	fmt.Fprintf(b, "\n%s\n%s\n", strings.Repeat("=", 78), head)
	if more != "" {
		fmt.Fprintf(b, "\n%s\n", more)
	}
	seen := map[string]bool{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			log.Fatal(err)
		}
		text := strings.TrimSpace(strings.ReplaceAll(string(data), "\r\n", "\n"))
		if !seen[text] {
			seen[text] = true
			fmt.Fprintf(b, "\n%s\n", text)
		}
	}
}
