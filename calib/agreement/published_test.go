package agreement

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// checkTable reads a published table from testdata/checks: rows by column name.
// Its source stands in its own comment lines.
func checkTable(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/checks/" + name + ".csv")
	require.NoError(t, err)
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comment = '#'
	all, err := r.ReadAll()
	require.NoError(t, err)
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, f := range line {
			row[all[0][i]] = f
		}
		rows = append(rows, row)
	}
	require.NotEmpty(t, rows)
	return rows
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// near fails for NaN too.
func near(t *testing.T, want, got, tol float64, what string) {
	t.Helper()
	assert.True(t, math.Abs(want-got) <= tol, "%s: want %v, got %v", what, want, got)
}

// pefr are the columns of Bland and Altman's data: two readings of each of two meters.
func pefr(t *testing.T) map[string][]float64 {
	out := map[string][]float64{}
	for _, row := range checkTable(t, "bland_altman_1986_pefr_data") {
		for _, k := range []string{"wright1", "wright2", "mini1", "mini2"} {
			out[k] = append(out[k], float(t, row[k]))
		}
	}
	require.Len(t, out["mini1"], 17)
	return out
}

// pefrResult is one of their results: as published where it is, else recomputed.
func pefrResults(t *testing.T) (published, recomputed map[string]float64) {
	published, recomputed = map[string]float64{}, map[string]float64{}
	for _, row := range checkTable(t, "bland_altman_1986_pefr_results") {
		if row["published"] != "" {
			published[row["quantity"]] = float(t, row["published"])
		}
		recomputed[row["quantity"]] = float(t, row["recomputed"])
	}
	return published, recomputed
}

func minus(a, b []float64) (d []float64) {
	for i := range a {
		d = append(d, a[i]-b[i])
	}
	return d
}

func TestBlandAndAltmanFirstReadings(t *testing.T) {
	data := pefr(t)
	published, recomputed := pefrResults(t)
	l := normalLimits(minus(data["wright1"], data["mini1"]), repeats{})
	require.Equal(t, 17, l.N)
	near(t, published["bias"], l.Bias.Value, 0.05, "bias as printed")
	near(t, published["sd_diff"], l.Spread, 0.05, "spread as printed")
	near(t, published["bias_ci_low"], l.Bias.Low, 0.05, "bias low as printed")
	near(t, published["bias_ci_high"], l.Bias.High, 0.05, "bias high as printed")
	for what, got := range map[string]float64{
		"bias": l.Bias.Value, "sd_diff": l.Spread, "bias_ci_low": l.Bias.Low, "bias_ci_high": l.Bias.High,
		"loa_low_1.96sd": l.Low.Value, "loa_high_1.96sd": l.High.Value,
		"se_loa_exact": l.Low.Error, "t_0.975_16": student(16), "se_loa": l.Spread * math.Sqrt(3.0/17),
	} {
		near(t, recomputed[what], got, 1e-6*math.Abs(recomputed[what]), what)
	}
	near(t, symmetricError(l.Spread, 17), l.High.Error, 1e-9, "the standard error that sizes samples")
	// Their interval of 1986, symmetric about bias - 2 SD, and ours, which is wider outwards.
	half := student(16) * l.Spread * math.Sqrt(3.0/17)
	near(t, recomputed["loa_low_ci_low"], l.Bias.Value-2*l.Spread-half, 1e-6*114, "lower limit's low end of 1986")
	near(t, recomputed["loa_high_ci_high"], l.Bias.Value+2*l.Spread+half, 1e-6*110, "upper limit's high end of 1986")
	assert.Greater(t, l.High.High-l.High.Value, l.High.Value-l.High.Low)
}

// With both readings of each meter: repeatability, and the limits for single
// readings from the means of two.
func TestBlandAndAltmanRepeatedReadings(t *testing.T) {
	data := pefr(t)
	published, recomputed := pefrResults(t)
	var o []observed
	for i := range 17 {
		o = append(o, observed{{data["wright1"][i], data["wright2"][i]}, {data["mini1"][i], data["mini2"][i]}})
	}
	d, _, r := summed(o)
	l := normalLimits(d, r)
	near(t, recomputed["bias_of_means_of_two"], l.Bias.Value, 1e-8, "bias of means")
	near(t, recomputed["corrected_sd"], l.Spread, 1e-8, "corrected spread")
	near(t, published["corrected_sd"], l.Spread, 0.05, "corrected spread as printed")
	for k, name := range []string{"repeat_sd_wright", "repeat_sd_mini"} {
		of := math.Sqrt2 * math.Sqrt(r.variance[k]) // theirs is of the difference of two
		near(t, recomputed[name], of, 1e-8, name)
		near(t, published[name], of, 0.05, name+" as printed")
		near(t, Factor*of, repeatInterval(math.Sqrt(r.variance[k]), r.freedom[k]).Value, 1e-8, name+" coefficient")
	}
}

// tables are the published square tables by name.
func tables(t *testing.T) map[string]Table {
	out := map[string]Table{}
	for _, row := range checkTable(t, "kappa_tables") {
		name := row["table"]
		i, j, n := int(float(t, row["row"])), int(float(t, row["col"])), int(float(t, row["count"]))
		tb := out[name]
		for len(tb.Counts) < max(i, j) {
			tb.Places = append(tb.Places, float64(len(tb.Counts)))
			tb.Labels = append(tb.Labels, strconv.Itoa(len(tb.Labels)+1))
			tb.Counts = append(tb.Counts, make([]int, 3+boolInt(name != "cohen1968_x200" && name != "fleiss_cohen_everitt1969" &&
				name != "sas_doc19")))
		}
		tb.Counts[i-1][j-1] = n
		out[name] = tb
	}
	return out
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// weightsOf are the weights that the published results name; those for which
// the table of weights itself is given are written out here.
func weightsOf(name string) Weight {
	given := func(w [3][3]float64) Weight { return func(_ Table, i, j int) float64 { return w[i][j] } }
	switch name {
	case "unweighted":
		return Unweighted
	case "linear":
		return Linear
	case "quadratic":
		return Quadratic
	case "cohen_v_0_1_3_6": // w = 1 - v/6, with v 1 between the first two, 3 and 6 to the third
		return given([3][3]float64{{1, 1 - 1.0/6, 1 - 3.0/6}, {1 - 1.0/6, 1, 0}, {1 - 3.0/6, 0, 1}})
	case "w_1_0_.4444/0_1_.6667/.4444_.6667_1":
		return given([3][3]float64{{1, 0, 0.4444}, {0, 1, 0.6667}, {0.4444, 0.6667, 1}})
	}
	return nil
}

func TestPublishedKappas(t *testing.T) {
	all := tables(t)
	checked := 0
	for _, row := range checkTable(t, "kappa_results") {
		w := weightsOf(row["weights"])
		if w == nil {
			continue // asymmetric weights, which calls do not have
		}
		what := row["table"] + " " + row["weights"]
		tb := all[row["table"]]
		assert.Equal(t, row["n"], strconv.Itoa(tb.Total()), what)
		k, se := tb.kappa(w)
		near(t, float(t, row["kappa"]), k.Value, 1e-7, what)
		near(t, float(t, row["ase"]), se, 1e-7, what+" standard error")
		e := tb.Kappa(w)
		const normal = 1.959964 // theirs is the interval of a normal kappa
		near(t, float(t, row["ci_low"]), e.Value-normal*e.Error, 1e-6, what+" low")
		near(t, float(t, row["ci_high"]), e.Value+normal*e.Error, 1e-6, what+" high")
		assert.True(t, -1 <= e.Low && e.Low < e.Value && e.Value < e.High && e.High <= 1, what)
		checked++
	}
	assert.Equal(t, 19, checked)
}
