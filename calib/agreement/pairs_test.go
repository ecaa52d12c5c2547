package agreement

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts/units"
)

// Open-ended calls are in the table and on their side of the limit, and not in
// the differences.
func TestOpenEndedCalls(t *testing.T) {
	c := compare(t, calls([]string{">25", "<1", "<1", ">25", "7", ">7"}, []string{"25", "0", "3", ">25", "7", "12"}), Options{Chart: one(), LimitFor: limited(10)})
	assert.Equal(t, 3, c.Open, ">25 twice and >7: with a swatch at 0, <1 is from 0 to 1")
	assert.Equal(t, 3, c.Differences.N)
	assert.Equal(t, Share{0, 5, c.Opposite.Low, c.Opposite.High, ""}, c.Opposite)
	assert.Equal(t, 1, c.Undecided, ">7 may be under or over 10")
	assert.Equal(t, [3]int{4, 1, 0}, c.Apart, ">7 has no place")
	assert.Equal(t, 5, c.Table.Total())
	assert.Contains(t, c.Table.Labels, "0-1")
	assert.Equal(t, StepsApart, c.Verdict)
}

func TestSides(t *testing.T) {
	l := Limit{Low: 6.5, High: 8.5}
	for s, want := range map[string]Side{
		"6.4": Under, "6.5": Inside, "8.5": Inside, "8.51": Over, "6-7": Unknown, "7-8": Inside, "8-9": Unknown, "9-10": Over, "5-6": Under,
		"<6.5": Under, "≤6.5": Unknown, "<7": Unknown, ">8.5": Over, ">=8.5": Unknown, ">7": Unknown, ">9": Over,
	} {
		v, err := ParseValue(s, false)
		require.NoError(t, err)
		assert.Equal(t, want, l.Side(v), s)
	}
	v, _ := ParseValue("<10", false)
	assert.Equal(t, Inside, upTo(10).Side(v))
	v, _ = ParseValue("≤10", false)
	assert.Equal(t, Inside, upTo(10).Side(v))
}

func TestLeftOutRowsHaveTheirReason(t *testing.T) {
	c := compare(t, `sample,reader,value,analyte,unit,as,strip
s1,Ann,7,nitrate,mg/L,N,
s1,Bob,7,Nitrate,mg/l,N,
s2,Ann,7,nitrate,mg/L,N,
s3,Bob,12,nitrate,mg/L,NO3,
s3,Ann,12,nitrate,mg/L,N,
s4,Ann,1,,mg/L,N,
s5,Ann,7,nitrate,mg/L,N,1
s5,Ann,12,nitrate,mg/L,N,2
s5,Bob,7,nitrate,mg/L,N,1
s6,Bob,,nitrate,mg/L,N,
`, Options{})
	assert.Len(t, c.Pairs, 2)
	assert.Equal(t, []LeftOut{
		{4, "sample s2, Ann: no call by Bob"},
		{5, "sample s3, Bob: is in mg/L as NO3 where the rows before are in mg/L as N"},
		{6, "sample s3, Ann: no call by Bob"},
		{7, "sample s4, Ann: names no analyte, while other rows do"},
		{9, "sample s5, Ann: no call of strip 2 by Bob"},
		{11, "sample s6, Bob: no value"},
	}, c.Left)
	assert.Equal(t, 6, c.LeftCount)
}

// Pairs read from other strips or at other times are counted, and the rest is
// summed up alone.
func TestOtherStripsAndTimesAreSaid(t *testing.T) {
	text := `sample,reader,value,unit,as,strip,seconds
s1,Ann,7,mg/L,N,a,60
s1,Bob,12,mg/L,N,b,60
s2,Ann,7,mg/L,N,c,60
s2,Bob,12,mg/L,N,c,71
s3,Ann,7,mg/L,N,d,60
s3,Bob,7,mg/L,N,d,70
s4,Ann,7,mg/L,N,,
s4,Bob,7,mg/L,N,,90
s5,Ann,7,mg/L,N,,74
s5,Bob,7,mg/L,N,,76
`
	c := compare(t, text, Options{Chart: one(), LimitFor: limited(10)})
	assert.Equal(t, 1, c.OtherStrip)
	assert.Equal(t, 2, c.OtherTime, "11 s apart; and one call after the read window")
	require.NotNil(t, c.Alike)
	assert.Equal(t, 2, c.Alike.Pairs)
	assert.Equal(t, 0, c.Alike.Opposite.Count)
	assert.Equal(t, 2, c.Opposite.Count)
	assert.Zero(t, c.Alike.Bias.Value)
	c = compare(t, text, Options{})
	assert.Equal(t, 1, c.OtherTime, "without the chart no window is known")
}

func TestRepeatedCallsAreMeans(t *testing.T) {
	c := compare(t, "sample,reader,value\ns1,A,10\ns1,A,12\ns1,B,10\ns2,A,20\ns2,A,20\ns2,B,18\n", Options{})
	require.Len(t, c.Pairs, 2)
	assert.Equal(t, 11.0, c.Pairs[0].Value[0])
	near(t, 1.5, c.Differences.Bias.Value, 1e-12, "bias")
	assert.Equal(t, 2, c.Repeats[0].Samples)
	near(t, 1, c.Repeats[0].Spread, 1e-12, "within samples: sqrt((2+0)/2)")
	assert.Contains(t, c.Repeats[1].Within.Why, "no sample is called twice")
	// 0.25 + 0.25 of the differences of means, 0.5 x 1 more for single calls of A.
	near(t, 1, c.Differences.Spread, 1e-12, "spread of single calls")
}

func TestErrorsAgainstTheReference(t *testing.T) {
	c := compare(t, "sample,reader,value,reference\ns1,A,10,11\ns1,B,13,\ns2,A,20,22\ns2,B,23,22\ns3,A,5,\ns3,B,5,\ns4,A,5,1\ns4,B,5,2\n", Options{})
	near(t, -1.5, c.Errors[0].Bias.Value, 1e-12, "A")
	near(t, 1.5, c.Errors[1].Bias.Value, 1e-12, "B")
	assert.Equal(t, 2, c.Errors[0].N, "no reference; two that contradict each other")
	none := compare(t, calls([]string{"1"}, []string{"1"}), Options{})
	assert.False(t, none.Errors[0].Bias.Defined())
}

func TestVerdicts(t *testing.T) {
	many := func(s string, n int) (out []string) {
		for range n {
			out = append(out, s)
		}
		return out
	}
	up := append(many("3", 4), many("7", 8)...)
	mixed := append(many("3", 4), many("12", 8)...)
	for _, c := range []struct {
		a, b []string
		o    Options
		want Verdict
	}{
		{up, up, Options{Chart: one()}, Agree},
		{up[:5], up[:5], Options{Chart: one()}, Few},
		{up, up, Options{}, NoMeasure},
		{up, up, Options{LimitFor: limited(10)}, Agree},
		{up, mixed, Options{Chart: one(), LimitFor: limited(10)}, Opposite},
		{many("3", 12), many("7", 12), Options{Chart: one(), LimitFor: limited(10)}, Steady},
		{many("3", 12), many("12", 12), Options{Chart: one(), LimitFor: limited(2)}, StepsApart},
	} {
		assert.Equal(t, c.want, compare(t, calls(c.a, c.b), c.o).Verdict, "%v %v", c.a, c.b)
	}
	var open []string
	for range 12 {
		open = append(open, "5-15")
	}
	assert.Equal(t, Few, compare(t, calls(open, open), Options{LimitFor: limited(10)}).Verdict, "no side of the limit can be told")
	x := compare(t, "sample,reader,value\ns1,A,1\ns2,B,1\n", Options{})
	assert.Equal(t, NoPairs, x.Verdict)
	assert.Equal(t, 2, x.LeftCount)
}

func TestCompareRefuses(t *testing.T) {
	two := testChart()
	text := calls([]string{"1"}, []string{"1"})
	many := "sample,reader,value\n"
	for _, r := range "abcdefghi" {
		many += "s," + string(r) + ",1\n"
	}
	for why, try := range map[string]func() error{
		"all calls that can be used are by Ann; a comparison needs two readers":          func() error { return refusal(t, "sample,reader,value\ns,Ann,1\n", Options{}) },
		`there is no call by "Cid"; the readers are Ann, Bob`:                            func() error { return refusal(t, text, Options{Readers: [2]string{"Ann", "Cid"}}) },
		"there are over 8 readers; name the two to compare":                              func() error { return refusal(t, many, Options{}) },
		`the calls name no analyte and the chart invented has 2; add a column "analyte"`: func() error { return refusal(t, text, Options{Chart: &two}) },
		"no limit for nothing": func() error {
			return refusal(t, text, Options{LimitFor: func(string, units.Unit) (*Limit, error) { return nil, errors.New("no limit for nothing") }})
		},
		"no row can be used; the first that is left out is line 2: sample s, A: no value": func() error { return refusal(t, "sample,reader,value\ns,A,\n", Options{}) },
		`the chart invented has no analyte "iron"; name another chart, or mend the column "analyte"`: func() error {
			return refusal(t, "sample,reader,value,analyte\ns,A,1,iron\n", Options{Chart: &two})
		},
		"no row can be used; line 2: sample s, A: is in ppm where the chart is in mg/L as N": func() error {
			return refusal(t, "sample,reader,value,unit\ns,A,1,ppm\n", Options{Chart: one()})
		},
	} {
		assert.EqualError(t, try(), why)
	}
}

func refusal(t *testing.T, text string, o Options) error {
	_, err := read(t, text).Compare(o)
	return err
}

// Three readers are compared two by two; two analytes one after the other.
func TestSeveralReadersAndAnalytes(t *testing.T) {
	chart := testChart()
	all, err := read(t, "sample,reader,value,analyte\ns,A,7,nitrate\ns,B,7,nitrate\ns,C,7,nitrate\ns,A,7,pH\ns,B,8,pH\n").Compare(Options{Chart: &chart})
	require.NoError(t, err)
	var got []string
	for _, c := range all {
		checkSane(t, c)
		got = append(got, c.Analyte+" "+c.Readers[0]+c.Readers[1]+" "+UnitText(c.Unit, c.As))
	}
	assert.Equal(t, []string{"nitrate AB mg/L as N", "nitrate AC mg/L as N", "nitrate BC mg/L as N", "pH AB pH"}, got)
}

// How many pairs: with s = 1 and n pairs the limit is known to t sqrt(1/n +
// 1.96²/(2(n-1))); for 0.34 Bland (2004, "How can I decide the sample size for a
// study of agreement", from memory) gives about 100 with his round factor sqrt(3/n) x 1.96.
func TestNeeded(t *testing.T) {
	n := Needed(1, 0.34)
	assert.InDelta(t, 100, n, 3)
	assert.LessOrEqual(t, student(float64(n-1))*symmetricError(1, float64(n)), 0.34)
	assert.Greater(t, student(float64(n-2))*symmetricError(1, float64(n-1)), 0.34)
	assert.Zero(t, Needed(0, 1))
	assert.Zero(t, Needed(1, 0))
	assert.Zero(t, Needed(1, 1e-9))
	c := compare(t, calls([]string{"1", "2", "5"}, []string{"2", "2", "4"}), Options{Wanted: 0.5})
	assert.Equal(t, c.Need.Total-3, c.Need.More)
	assert.Equal(t, Needed(c.Differences.Spread, 0.5), c.Need.Total)
}

// Equal values share the mean of their ranks: Conover's way, by hand.
func TestRanksOfEqualValues(t *testing.T) {
	assert.Equal(t, []float64{2.5, 1, 2.5, 4}, ranks([]float64{7, 3, 7, 12}))
}

// Without a chart the classes are the values in order, an open end beside its number.
func TestClassesByValueAreInOrder(t *testing.T) {
	c := compare(t, calls([]string{"3", ">3", "<3", "2-4"}, []string{"1", "1", "1", "5"}), Options{})
	assert.Equal(t, []string{"1", "<3", "2-4", "3", ">3", "5"}, c.Table.Labels)
	assert.Equal(t, -1, compareValues(Value{Low: -inf, High: 3}, Number(3)))
	assert.Equal(t, 1, compareValues(Value{Low: 3, High: inf}, Number(3)))
	assert.Equal(t, -1, compareValues(Value{Low: 2, High: 4}, Number(3)), "the same middle: the range first")
	assert.Zero(t, compareValues(Number(3), Number(3)))
}

func TestStepsAreCountedApart(t *testing.T) {
	c := compare(t, calls([]string{"0", "0", "0", "1", "3", "7", "7"}, []string{"1", "3", "7", "12", "12", "7", "25"}), Options{Chart: one()})
	assert.Equal(t, [3]int{2, 3, 2}, c.Apart, "steps apart: 1 2 3 3 2 0 2")
	assert.Equal(t, 7.0, c.Regions[c.Parting()].Swatch, "of those over one step apart, middles 1, 1.5, 2.5, 3 and 4: two are nearest to 7")
}

// A steady difference of less than half a step is no matter.
func TestASmallSteadyDifferenceIsNone(t *testing.T) {
	var a, b []string
	for range 12 {
		a, b = append(a, "7"), append(b, "8")
	}
	c := compare(t, calls(a, b), Options{Chart: one()})
	near(t, -0.2, c.Steps.Bias.Value, 1e-9, "steps")
	assert.True(t, c.Steps.Bias.Excludes(0))
	assert.Equal(t, Agree, c.Verdict)
}
