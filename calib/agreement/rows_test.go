package agreement

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(t *testing.T, text string) *Calls {
	t.Helper()
	c, err := Read(strings.NewReader(text))
	require.NoError(t, err)
	return c
}

func TestReadTakesWhatSpreadsheetsWrite(t *testing.T) {
	for name, text := range map[string]string{
		"plain":      "sample,reader,value,unit,as,seconds,reference\ns 1,Ann,6.8,mg/L,N,60,7.1\n",
		"order":      "VALUE, Reader ,reference,sample,seconds,unit,note\n6.8,Ann,7.1,s 1,60,mg/L as N,ignored\n",
		"semicolons": "sample;reader;value;unit;as;seconds;reference\r\ns 1;Ann;6,8;mg/L;N;60;7,1\r\n",
		"tabs":       "sample\treader\tvalue\tunit\tas\tseconds\treference\ns 1\tAnn\t6.8\tmg/L\tN\t60\t7.1\n",
		"mark, comments": "\xef\xbb\xbf# from the bench\n\n# of Monday\nsample,reader,value,unit,as,seconds,reference\ns " +
			"1,Ann,6.8,mg/L,N,60,7.1",
		"quotes": "\"sample\",\"reader\",\"value\",\"unit\",\"as\",\"seconds\",\"reference\"\n\"s " +
			"1\",\"Ann\",\"6.8\",\"mg/L\",\"N\",\"60\",\"7.1\"\n",
	} {
		c := read(t, text)
		require.Len(t, c.Rows, 1, name)
		got := c.Rows[0]
		want := Call{Row: 2, Sample: "s 1", Reader: "Ann", Value: Number(6.8), Unit: "mg/L", As: "N", Seconds: 60, Reference: 7.1}
		if strings.HasPrefix(name, "mark") {
			want.Row = 5
		}
		assert.Equal(t, want, got, name)
	}
}

// Rows that cannot be used are named by their line, and the others are read.
func TestReadNamesRowsItLeavesOut(t *testing.T) {
	c := read(t, "# a comment\nsample,reader,value,seconds\n"+
		"s1,Ann,7,60\n"+ // 3
		"s1,Bob,seven,60\n"+
		",Ann,7,60\n"+
		"s2,,7,60\n"+
		"s2,Ann,,60\n"+
		"s2,Bob,7\n"+
		"s3,Ann,7,soon\n"+
		"s3,Bo\"b,7,60\n"+
		"#4,Ann,7,60\n"+ // a sample may be named so
		strings.Repeat("x", 201)+",Ann,7,60\n"+
		"\xff,Ann,7,60\n")
	assert.Len(t, c.Rows, 2)
	assert.Equal(t, "#4", c.Rows[1].Sample)
	assert.Equal(t, []LeftOut{
		{4, `sample s1, Bob: "seven" is no number; write the number alone, a range such as 3-7, <1 or >25`},
		{5, "names no sample"}, {6, "names no reader"}, {7, "sample s2, Ann: no value"}, {8, "has 3 fields where the header has 4"},
		{9, `sample s3, Ann: its seconds "soon" is no number; write the number alone, a range such as 3-7, <1 or >25`},
		{10, "a quotation mark stands inside a field; write it twice and the field in quotes"},
		{12, "its sample is over 200 bytes long or no text"}, {13, "its sample is over 200 bytes long or no text"},
	}, c.Left)
	assert.Equal(t, 9, c.LeftCount)
}

func TestReadRefusesAFile(t *testing.T) {
	for text, why := range map[string]string{
		"":                                        "holds no header",
		"# only a comment\n":                      "holds no header",
		"sample,reader\n":                         `line 1: there is no column "value"`,
		"#\n\nsample,reader,value,sample\n":       `line 3: the column "sample" stands there twice`,
		"sample,reader,value\n":                   "holds no calls",
		"sample,reader,value\na,b,1\n\"c,d,2":     "line 3: a quotation mark opens here",
		"sample,reader,value\na,\"b,1\nc,d\",2\n": "line 2: a field runs over several lines",
		"\"\n": "line 1: the header cannot be read",
	} {
		_, err := Read(strings.NewReader(text))
		var fault *RowsError
		require.ErrorAs(t, err, &fault, "%q", text)
		assert.ErrorContains(t, err, why, "%q", text)
	}
}

// zeros gives bytes without an end: a file that is one endless field.
type zeros struct{ c byte }

func (z zeros) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = z.c
	}
	return len(p), nil
}

func TestReadIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 64 MB several times; left out with -short")
	}
	for _, c := range []byte{'x', '\n', '#'} {
		_, err := Read(zeros{c})
		assert.Error(t, err)
	}
	_, err := Read(&repeated{head: "sample,reader,value\n", row: "s,r,1\n"})
	assert.ErrorContains(t, err, "there are over 1000000 rows")
	_, err = Read(&repeated{head: "sample,reader,value,note\n", row: "s,r,1," + strings.Repeat("n", 5000) + "\n"})
	assert.ErrorContains(t, err, "over the limit of 64 MB")
}

// repeated is a header and then one row for ever.
type repeated struct {
	head, row string
	rest      []byte
}

func (r *repeated) Read(p []byte) (int, error) {
	if len(r.rest) == 0 {
		r.rest = []byte(r.head + r.row)
		r.head = ""
	}
	n := copy(p, r.rest)
	r.rest = r.rest[n:]
	return n, nil
}

// bigFile holds the calls of two readers, half the rows each.
func bigFile(rows int) []byte {
	var b bytes.Buffer
	b.WriteString("sample,reader,value,analyte,unit,as,strip,seconds,reference\n")
	for i := range rows / 2 {
		v := float64(i%97) / 4
		fmt.Fprintf(&b, "s%d,Ann,%.1f,nitrate,mg/L,N,,60,%.1f\ns%d,Bob,%.1f,nitrate,mg/L,N,,62,\n", i, v, v, i, v*(1+float64(i%7)/20))
	}
	return b.Bytes()
}

// BenchmarkRead100000Rows reads and compares a file of 100,000 calls.
func BenchmarkRead100000Rows(b *testing.B) {
	data := bigFile(100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		c, err := Read(bytes.NewReader(data))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := c.Compare(Options{LimitFor: limited(10)}); err != nil {
			b.Fatal(err)
		}
	}
}

// 100,000 rows and what is made of them keep less than 1 kB a row, and take
// less than 3 kB a row on the way.
func TestMemoryOfManyRows(t *testing.T) {
	data := bigFile(100_000)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	c := read(t, string(data))
	all, err := c.Compare(Options{})
	require.NoError(t, err)
	runtime.GC()
	runtime.ReadMemStats(&after)
	assert.Less(t, int64(after.HeapAlloc)-int64(before.HeapAlloc), int64(100<<20))
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(300<<20))
	runtime.KeepAlive(all)
	runtime.KeepAlive(c)
}

func FuzzCalls(f *testing.F) {
	f.Add([]byte("sample,reader,value\ns1,a,3-7\ns1,b,<1\n"), 10.0)
	f.Add([]byte("sample;reader;value;unit;seconds;reference;strip\ns1;a;3,5;mg/L as N;60;4;x\ns1;b;>25;mg/L as N;90;;y\n"), 0.0)
	f.Add([]byte("\xef\xbb\xbf#c\nvalue,sample,reader,analyte\n7,s,a,nitrate\n12,s,b,nitrate\n7,s,b,nitrate\n"), 7.0)
	chart := testChart()
	f.Fuzz(func(t *testing.T, data []byte, limit float64) {
		c, err := Read(bytes.NewReader(data))
		if err != nil {
			return
		}
		for _, o := range []Options{{}, {Chart: &chart}, {LimitFor: limited(limit)}} {
			all, err := c.Compare(o)
			if err != nil {
				continue
			}
			for _, x := range all {
				checkSane(t, x)
			}
		}
	})
}

// One unit may be written in several ways; pH is its own.
func TestUnitsAreSpelledAlike(t *testing.T) {
	c := read(t, "sample,reader,value,analyte,unit,as\ns,A,7,nitrate,mg/l,NO3-N\ns,B,7,nitrate,mg/L as "+
		"N,\ns,A,7,pH,,\ns,B,7,pH,pH,\ns,A,7,glow,blinks,x\ns,B,7,glow,blinks as x,\n")
	all, err := c.Compare(Options{})
	require.NoError(t, err)
	var got []string
	for _, x := range all {
		assert.Len(t, x.Pairs, 1)
		got = append(got, UnitText(x.Unit, x.As))
	}
	assert.Equal(t, []string{"mg/L as N", "pH", "blinks as x"}, got)
}
