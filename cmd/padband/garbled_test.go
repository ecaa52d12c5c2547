package main

import (
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/agreement"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/colorimetry"
)

// garbled is a sentence made unreadable: each word is as long as it was and of
// other letters, without digits or stops. The same sentence is garbled alike.
func garbled(s string) string {
	h := fnv.New64a()
	h.Write([]byte(s))
	seed, i := h.Sum64(), 0
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '%' { // which is kept on one line with its figure
			return r
		}
		i++
		return 'a' + rune((seed>>(i%48)+uint64(i))%26)
	}, s)
}

func eachGarbled(in []string) (out []string) {
	for _, s := range in {
		out = append(out, garbled(s))
	}
	return out
}

func garbledWarnings(in []calib.Warning) []calib.Warning {
	out := slices.Clone(in)
	for i := range out {
		out[i].Seen, out[i].Then = garbled(out[i].Seen), garbled(out[i].Then)
	}
	return out
}

func garbledReading(r calib.Reading) calib.Reading {
	r.Warnings = garbledWarnings(r.Warnings)
	return r
}

func garbledJudgement(j judge.Judgement) judge.Judgement {
	j.Reason, j.RestsOn, j.Words, j.Next = garbled(j.Reason), garbled(j.RestsOn), eachGarbled(j.Words), eachGarbled(j.Next)
	return j
}

// garbledAnswer is a whole answer with all its sentences garbled.
func garbledAnswer(r *strip.Result) *strip.Result {
	out := *r
	out.Light.Warnings = garbledWarnings(r.Light.Warnings)
	out.Readings, out.Meanings, out.Sums, out.Notes = nil, nil, nil, slices.Clone(r.Notes)
	for i := range out.Notes {
		out.Notes[i].Text = garbled(out.Notes[i].Text)
	}
	for _, x := range r.Readings {
		out.Readings = append(out.Readings, garbledReading(x))
	}
	for _, m := range r.Meanings {
		m.Refused = garbled(m.Refused)
		if m.Undiluted != nil {
			u := garbledReading(*m.Undiluted)
			m.Undiluted = &u
		}
		m.Judgements = slices.Clone(m.Judgements)
		for i, j := range m.Judgements {
			m.Judgements[i] = garbledJudgement(j)
		}
		out.Meanings = append(out.Meanings, m)
	}
	for _, j := range r.Sums {
		out.Sums = append(out.Sums, garbledJudgement(j))
	}
	return &out
}

// asked are the demo's answers to questions of all kinds.
func asked(t *testing.T) map[string]*strip.Result {
	t.Helper()
	read := func(name string, o askOptions) *strip.Result {
		ask, err := o.ask()
		require.NoError(t, err)
		in, err := readInput(demo+name, "", "")
		require.NoError(t, err)
		in.marks.Sample.Kit.Expires = "2026-10"
		r, err := strip.Read(strip.Input{Photo: in.photo, Chart: in.chart.Chart, Marks: in.marks, Ask: ask, Whole: true})
		require.NoError(t, err)
		return r
	}
	out := map[string]*strip.Result{}
	for _, name := range []string{"kitchen.jpg", "cellar.jpg"} {
		out[name] = read(name, askOptions{limits: []string{"us-epa", "usgs-hardness", "nitrate 24 mg/L as N"}})
		out[name+" diluted"] = read(name, askOptions{limits: []string{"who"}, dilution: "1+1", undiluted: demo + "kitchen.jpg"})
		out[name+" by a standard"] = read(name, askOptions{limits: []string{"eu"}, standard: "nitrate 4 mg/L as N", standardPhoto: demo + "kitchen.jpg"})
	}
	return out
}

// layout is a text with each word made x, in words as many.
func layout(s string) string { return regexp.MustCompile(`[^\s<>]+`).ReplaceAllString(s, "x") }

// What the program says, it does not read: with all sentences garbled every
// decision is as it was, in judging, in putting down, and in what reads the files.
func TestNoSentenceIsRead(t *testing.T) {
	for name, r := range asked(t) {
		t.Run(name, func(t *testing.T) {
			g := garbledAnswer(r)
			sameJudgements(t, r, g)
			sameShown(t, r, g)
			sameFiles(t, r, g)
		})
	}
}

// sameJudgements judges garbled readings anew.
func sameJudgements(t *testing.T, r, g *strip.Result) {
	seen := 0
	for i, x := range g.Readings {
		if u := g.Meanings[i].Undiluted; u != nil {
			x = *u
		}
		y := r.Readings[i]
		if u := r.Meanings[i].Undiluted; u != nil {
			y = *u
		}
		for _, was := range r.Meanings[i].Judgements {
			was, now := judge.Against(y, was.Limit, was.Guard), judge.Against(x, was.Limit, was.Guard)
			assert.Equal(t, fmt.Sprint(was), fmt.Sprint(now), "of %s", x.Analyte.Name) // NaN is a figure here
			seen++
		}
	}
	assert.Positive(t, seen)
	was, now := slices.Clone(r.Readings), slices.Clone(g.Readings)
	assert.Equal(t, judge.CheckNitrite(was), judge.CheckNitrite(now))
}

// sameShown compares what people see, word for word but for the words.
func sameShown(t *testing.T, r, g *strip.Result) {
	was, now := report.Of("p.jpg", "cc", "1", r), report.Of("p.jpg", "cc", "1", g)
	assert.Equal(t, layout(report.Text(was)), layout(report.Text(now)))
	crop := func(colorimetry.Region) string { return "api/x" }
	a, err := report.HTML(was, crop)
	require.NoError(t, err)
	b, err := report.HTML(now, crop)
	require.NoError(t, err)
	attributes := regexp.MustCompile(`(data-where|data-code|data-analyte|class|href|src|id)="[^"]*"`)
	assert.Equal(t, attributes.FindAllString(a, -1), attributes.FindAllString(b, -1))
	assert.Equal(t, layout(a), layout(b))
	one, err := paper.Page(paper.Input{Source: was, Subject: "x", Crop: crop})
	require.NoError(t, err)
	two, err := paper.Page(paper.Input{Source: now, Subject: "x", Crop: crop})
	require.NoError(t, err)
	assert.Equal(t, layout(unbroken(one)), layout(unbroken(two)))
	rows, err := report.CSV(was)
	require.NoError(t, err)
	again, err := report.CSV(now)
	require.NoError(t, err)
	assert.Equal(t, string(rows), string(again))
}

// unbroken is a page of sheets without the breaks between them. Where they stand hangs
// on how wide letters are.
func unbroken(page []byte) string {
	return regexp.MustCompile(`(?s)</section>\s*<section class="paper-sheet".*?</header>\s*`).ReplaceAllString(string(page), "")
}

// sameFiles compares what is read from the reading files: by a comparison of two
// readers, by a search, and again by the file's own reader.
func sameFiles(t *testing.T, r, g *strip.Result) {
	file := func(r *strip.Result, garble func(string) string) ([]byte, reading.File) {
		f := reading.Of(r, reading.Origin{File: "p.jpg", Version: "1"})
		for i := range f.Readings {
			for k := range f.Readings[i].Budget {
				f.Readings[i].Budget[k].Source = garble(f.Readings[i].Budget[k].Source)
			}
		}
		data, err := f.Encode()
		require.NoError(t, err)
		f, err = reading.Parse(data)
		require.NoError(t, err)
		return data, f
	}
	a, was := file(r, func(s string) string { return s })
	b, now := file(g, garbled)
	assert.NotEqual(t, string(a), string(b))
	singles, err := agreement.ParseReading("p", a)
	require.NoError(t, err)
	again, err := agreement.ParseReading("p", b)
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprint(singles), fmt.Sprint(again))
	for _, s := range singles {
		assert.Positive(t, s.Own)
	}
	for _, text := range []string{"3 mg/L as N", "10 mg/L as N", "100 mg/L as CaCO3"} {
		for _, o := range []findOptions{{over: text}, {under: text}} {
			s, err := o.search()
			require.NoError(t, err)
			var one, two history.Tally
			hits, found := s.In(record.Summary{Readings: was.Readings}, &one), s.In(record.Summary{Readings: now.Readings}, &two)
			assert.Equal(t, one, two)
			require.Len(t, found, len(hits))
			for i := range hits {
				assert.Equal(t, hits[i].Text(), found[i].Text())
			}
		}
	}
}

// Errors and the page's words are for people too: no code looks into them.
func TestNoErrorOrTextIsSearched(t *testing.T) {
	looking := map[string]*regexp.Regexp{
		".go": regexp.MustCompile(`strings\.(Contains|HasPrefix|HasSuffix|TrimPrefix|TrimSuffix|CutPrefix|CutSuffix|Cut|Index|Replace|Split)\w*\([^;{}]*(\.Error\(\)|\.Text\(\)|\.Seen\b|\.Reason\b|\.RestsOn\b)`),
		".js": regexp.MustCompile(`(textContent|innerText|\.text|\.message|\.came)(\s*\|\|\s*'')?\)?\.(startsWith|endsWith|includes|indexOf|match|search|replace)\(`),
	}
	seen := map[string]int{}
	require.NoError(t, filepath.WalkDir("../..", func(path string, d os.DirEntry, err error) error {
		ext := filepath.Ext(path)
		if err != nil || d.IsDir() || looking[ext] == nil || strings.HasSuffix(path, "_test.go") {
			return err
		}
		data, err := os.ReadFile(path)
		seen[ext]++
		assert.Empty(t, looking[ext].FindString(string(data)), path)
		return err
	}))
	assert.Greater(t, seen[".go"], 100)
	assert.Greater(t, seen[".js"], 20)
}

// Every code that is written anywhere is in the one table, once, with all that is
// to be known of it.
func TestEveryCodeIsKnown(t *testing.T) {
	seen := map[calib.Code]bool{}
	for _, f := range calib.Codes() {
		assert.False(t, seen[f.Code], f.Code)
		seen[f.Code] = true
		assert.NotEmpty(t, f.Name, f.Code)
		assert.NotEmpty(t, f.About, f.Code)
		assert.True(t, strings.HasSuffix(f.Advice, "."), f.Code)
	}
	constants := regexp.MustCompile(`(?m)^\s+Code\w+\s+Code = "([a-z-]+)"`)
	data, err := os.ReadFile("../../calib/codes.go")
	require.NoError(t, err)
	all := constants.FindAllStringSubmatch(string(data), -1)
	assert.Len(t, all, len(seen))
	for _, c := range all {
		assert.True(t, seen[calib.Code(c[1])], c[1])
	}
	literal := regexp.MustCompile(`Code:\s*"`)
	require.NoError(t, filepath.WalkDir("../..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		assert.Empty(t, literal.FindString(string(text)), "%s: name the code by its constant", path)
		return err
	}))
}
