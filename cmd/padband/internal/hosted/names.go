package hosted

import (
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
)

// reserved are names that some systems keep for devices (Microsoft, Naming Files,
// Paths, and Namespaces; from memory).
var reserved = regexp.MustCompile(`(?i)^(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])[ .]*(\.|$)`)

// Reserved reports whether some system keeps a name, with any ending, for a device.
func Reserved(name string) bool { return reserved.MatchString(name) }

// CheckName says why a store takes no such name: it leads elsewhere, or on some
// system it is none.
func CheckName(name string) error {
	switch {
	case name == "" || name == ".":
		return errors.New("the name is empty; give the file one")
	case strings.ContainsAny(name, "\\\x00"):
		return fmt.Errorf(`the name %q has a \ or a zero byte in it; rename the file`, name)
	case !fs.ValidPath(name): // rooted, or with an empty part, . or ..
		return fmt.Errorf("the name %q leads elsewhere; rename the file", name)
	}
	for part := range strings.SplitSeq(name, "/") {
		if Reserved(part) {
			return fmt.Errorf("the name %q is a device's on some systems; rename the file", name)
		}
	}
	return nil
}

// Unit is what appears at once: a file, or a new folder with its files.
type Unit struct {
	Name  string // of the file or the folder, without a slash
	Files []File // of a folder, named from it; of a file, that one
	Tree  bool   // it is a folder
}

// UnitsOf sorts files to be written into units, in their order. Each name must
// be one that a store takes, stand once, and not be another's folder.
func UnitsOf(files []File) (out []Unit, err error) {
	names := map[string]bool{}
	for _, f := range files {
		if err := CheckName(f.Name); err != nil {
			return nil, err
		}
		if names[f.Name] || strings.HasPrefix(f.Name, Passing) {
			return nil, fmt.Errorf("the name %q is taken by what is being written; rename the file", f.Name)
		}
		names[f.Name] = true
	}
	for _, f := range files {
		for at := strings.LastIndexByte(f.Name, '/'); at > 0; at = strings.LastIndexByte(f.Name[:at], '/') {
			if names[f.Name[:at]] {
				return nil, fmt.Errorf("%q is to be both a file and a folder; rename one", f.Name[:at])
			}
		}
		top, inner, tree := strings.Cut(f.Name, "/")
		if !tree {
			out = append(out, Unit{Name: top, Files: []File{f}})
			continue
		}
		f.Name = inner
		i := slices.IndexFunc(out, func(u Unit) bool { return u.Tree && u.Name == top })
		if i < 0 {
			out, i = append(out, Unit{Name: top, Tree: true}), len(out)
		}
		out[i].Files = append(out[i].Files, f)
	}
	return out, nil
}
