package colorimetry

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// row is one line of a published table, by column name.
type row struct {
	t      *testing.T
	fields map[string]string
	name   string
}

// num is the figure in a column; a column that is not there fails the test.
func (r row) num(column string) float64 {
	r.t.Helper()
	v, err := strconv.ParseFloat(r.fields[column], 64)
	require.NoError(r.t, err, "%s: column %s", r.name, column)
	return v
}

func (r row) lab(l, a, b string) Lab { return Lab{r.num(l), r.num(a), r.num(b)} }
func (r row) xyz(x, y, z string) XYZ { return XYZ{r.num(x), r.num(y), r.num(z)} }

// table reads a table of testdata/checks and asserts how many rows it has, so
// that an emptied table cannot pass. Sources stand in the tables' own comments.
func table(t *testing.T, name string, rows int) []row {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "checks", name+".csv"))
	require.NoError(t, err)
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, lines, rows+1, name)
	out := make([]row, rows)
	for i, line := range lines[1:] {
		out[i] = row{t, map[string]string{}, name + " row " + strconv.Itoa(i+1)}
		for c, column := range lines[0] {
			out[i].fields[column] = line[c]
		}
	}
	return out
}

// near fails unless got is within tol of want; NaN is near nothing.
func near(t *testing.T, want, got, tol float64, what string, args ...any) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("want %v, got %v (tolerance %g): "+what, append([]any{want, got, tol}, args...)...)
	}
}

func nearLab(t *testing.T, want, got Lab, tol float64, what string) {
	t.Helper()
	near(t, want.L, got.L, tol, "L of %s", what)
	near(t, want.A, got.A, tol, "a of %s", what)
	near(t, want.B, got.B, tol, "b of %s", what)
}

func nearXYZ(t *testing.T, want, got XYZ, tol float64, what string) {
	t.Helper()
	near(t, want.X, got.X, tol, "X of %s", what)
	near(t, want.Y, got.Y, tol, "Y of %s", what)
	near(t, want.Z, got.Z, tol, "Z of %s", what)
}
