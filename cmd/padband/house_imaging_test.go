package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const imagingPath = "github.com/disintegration/imaging"

// ofImaging is policy: what of the library for pictures may be used. It cuts,
// scales and turns pictures that people look at. Its decoders and encoders are
// not used: a photo is decoded in one place, with its caps, and upright.
var ofImaging = []string{
	"Crop", "Resize", "Fit", "Rotate", "Rotate90", "Rotate180", "Rotate270", "FlipH", "FlipV",
	"Linear", "CatmullRom", "Box", "NearestNeighbor", "ResampleFilter",
}

// TestPicturesAreNotMeasured: what is measured never went through the library
// for pictures, and no other part of it than the policy names is in use.
func TestPicturesAreNotMeasured(t *testing.T) {
	users := 0
	for _, p := range listPackages(t) {
		name := strings.TrimPrefix(p.ImportPath, "padband/")
		for _, f := range p.GoFiles {
			used := selected(t, filepath.Join(p.Dir, f), imagingPath)
			if used == nil {
				continue
			}
			users++
			assert.True(t, strings.HasPrefix(name, "cmd/"), "%s measures, and may not use %s", name, imagingPath)
			for _, u := range used {
				assert.Contains(t, ofImaging, u, "%s/%s", name, f)
			}
		}
	}
	assert.Positive(t, users)
}

// selected are the names that a file takes from a package; nil when it does not
// import it. A name of another thing that is called like the package counts too.
func selected(t *testing.T, file, path string) (out []string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
	require.NoError(t, err)
	called := ""
	for _, i := range f.Imports {
		if p, err := strconv.Unquote(i.Path.Value); err == nil && p == path {
			called = filepath.Base(path)
			if i.Name != nil {
				called = i.Name.Name
			}
		}
	}
	if called == "" {
		return nil
	}
	require.NotContains(t, []string{".", "_"}, called, "%s imports %s without a name", file, path)
	out = []string{}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := s.X.(*ast.Ident); ok && x.Name == called {
				out = append(out, s.Sel.Name)
			}
		}
		return true
	})
	return out
}
