package agreement

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"padband/charts/units"
)

// Caps on a file of calls: they bound the memory that it can take.
const (
	maxBytes = 64 << 20
	maxRows  = 1_000_000
	maxField = 200 // bytes
	// maxListed is how many of the left-out rows are kept; all are counted.
	maxListed = 1000
)

// Call is one row: what one reader called for one sample.
type Call struct {
	Row                      int // the line in the file, from 1
	Sample, Reader           string
	Analyte, Unit, As, Strip string
	Value                    Value
	Source                   string  // what was looked at, such as screen; empty when not given
	Seconds                  float64 // from the dip to the call; NaN when not given
	Reference                float64 // the true value where it is known; NaN when not given
}

// Calls are the rows of one file.
type Calls struct {
	Rows []Call
	// Left are the rows that no figure can use, at most 1,000 of them;
	// LeftCount counts them all.
	Left      []LeftOut
	LeftCount int
}

// RowsError says what is wrong with a file of calls as a whole.
type RowsError struct {
	Line int // 0 for the whole file
	What string
}

func (e *RowsError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: %s", e.Line, e.What)
	}
	return e.What
}

// columns of a file of calls; the first three must be there.
var columns = []string{"sample", "reader", "value", "analyte", "unit", "as", "strip", "seconds", "reference", "source"}

// Read reads calls in long form: CSV with a header naming at least sample,
// reader and value, and one row a call. Other columns that it knows are
// analyte, unit, as, strip, seconds, reference and source; those it does not know are
// ignored. Fields are separated by commas, semicolons or tabs (then a comma may
// stand for the decimal point). Lines before the header that begin with # are
// skipped. A row that cannot be used is left out and named by its line; a
// file that cannot be used is a [*RowsError]. It reads at most 64 MB and
// 1,000,000 rows.
func Read(r io.Reader) (*Calls, error) {
	limited := &io.LimitedReader{R: r, N: maxBytes + 1}
	b := bufio.NewReaderSize(limited, 1<<16)
	skipped, err := skipComments(b)
	if err != nil {
		return nil, err
	}
	p := &parser{c: csv.NewReader(b), skipped: skipped, calls: &Calls{}, texts: map[string]string{}, units: map[units.Unit]units.Unit{}}
	p.c.FieldsPerRecord, p.c.ReuseRecord, p.c.TrimLeadingSpace = -1, true, true
	p.c.Comma = separator(b)
	p.comma = p.c.Comma != ','
	if err := p.header(); err != nil {
		return nil, err
	}
	err = p.all()
	switch {
	case limited.N == 0:
		return nil, &RowsError{0, fmt.Sprintf("is over the limit of %d MB; split it", maxBytes>>20)}
	case err != nil:
		return nil, err
	case len(p.calls.Rows) == 0 && p.calls.LeftCount == 0:
		return nil, &RowsError{0, "holds no calls; add a row for each sample and reader"}
	}
	return p.calls, nil
}

// skipComments passes over a byte order mark, and over blank lines and
// comments before the header, and counts their lines.
func skipComments(b *bufio.Reader) (lines int, err error) {
	if head, _ := b.Peek(3); bytes.Equal(head, []byte("\xef\xbb\xbf")) {
		b.Discard(3)
	}
	for {
		head, err := b.Peek(1)
		if err == io.EOF {
			return lines, &RowsError{0, "holds no header; the first row names the columns: sample,reader,value"}
		}
		if err != nil {
			return lines, fmt.Errorf("cannot be read: %w", err)
		}
		if head[0] != '#' && head[0] != '\n' && head[0] != '\r' {
			return lines, nil
		}
		for more := true; more; { // a line may be longer than the buffer
			_, more, err = b.ReadLine()
			if err != nil {
				break
			}
		}
		lines++
	}
}

// separator is what stands most often in the header.
func separator(b *bufio.Reader) rune {
	head, _ := b.Peek(4096)
	if i := bytes.IndexAny(head, "\r\n"); i >= 0 {
		head = head[:i]
	}
	best := ','
	for _, c := range ";\t" {
		if strings.Count(string(head), string(c)) > strings.Count(string(head), string(best)) {
			best = c
		}
	}
	return best
}

// parser holds what the reading of one file needs.
type parser struct {
	c       *csv.Reader
	comma   bool // a comma may be a decimal point
	skipped int
	at      [10]int // where each of columns stands, -1 where it does not
	width   int
	calls   *Calls
	texts   map[string]string         // each text once
	units   map[units.Unit]units.Unit // as they are printed
}

func (p *parser) header() error {
	row, err := p.c.Read()
	if err != nil {
		return &RowsError{p.skipped + 1, "the header cannot be read; the first row names the columns: sample,reader,value"}
	}
	p.width = len(row)
	for i := range p.at {
		p.at[i] = -1
	}
	for i, name := range row {
		k := slices.Index(columns, strings.ToLower(strings.TrimSpace(name)))
		if k < 0 {
			continue
		}
		if p.at[k] >= 0 {
			return &RowsError{p.skipped + 1, fmt.Sprintf("the column %q stands there twice; remove one", columns[k])}
		}
		p.at[k] = i
	}
	for k := range 3 {
		if p.at[k] < 0 {
			return &RowsError{p.skipped + 1, fmt.Sprintf("there is no column %q; the first row names the columns: sample,reader,value", columns[k])}
		}
	}
	return nil
}

// all reads the rows to the end.
func (p *parser) all() error {
	for {
		row, err := p.c.Read()
		if err == io.EOF {
			return nil
		}
		var fault *csv.ParseError
		if errors.As(err, &fault) {
			if errors.Is(fault.Err, csv.ErrQuote) {
				return &RowsError{p.skipped + fault.StartLine, "a quotation mark opens here and is not closed as it should be; mend it"}
			}
			p.leave(p.skipped+fault.Line, "a quotation mark stands inside a field; write it twice and the field in quotes")
			continue
		}
		if err != nil {
			return fmt.Errorf("cannot be read: %w", err)
		}
		line, _ := p.c.FieldPos(0)
		if len(p.calls.Rows)+p.calls.LeftCount >= maxRows {
			return &RowsError{p.skipped + line, fmt.Sprintf("there are over %d rows; split the file", maxRows)}
		}
		if err := p.row(p.skipped+line, row); err != nil {
			return err
		}
	}
}

// row keeps one row or leaves it out.
func (p *parser) row(line int, row []string) error {
	for _, f := range row {
		if strings.ContainsAny(f, "\r\n") {
			return &RowsError{line, "a field runs over several lines: a quotation mark is not closed; mend it"}
		}
	}
	call, why := p.call(line, row)
	if why != "" {
		p.leave(line, why)
		return nil
	}
	p.calls.Rows = append(p.calls.Rows, call)
	return nil
}

func (p *parser) leave(line int, why string) {
	p.calls.leave(LeftOut{line, why})
}

func (c *Calls) leave(l LeftOut) {
	c.LeftCount++
	if len(c.Left) < maxListed {
		c.Left = append(c.Left, l)
	}
}

// call makes a call of a row, or says why there is none.
func (p *parser) call(line int, row []string) (c Call, why string) {
	if len(row) != p.width {
		return c, fmt.Sprintf("has %d fields where the header has %d", len(row), p.width)
	}
	var text [10]string
	for k, i := range p.at {
		if i < 0 {
			continue
		}
		f := strings.TrimSpace(row[i])
		if len(f) > maxField || !utf8.ValidString(f) {
			return c, fmt.Sprintf("its %s is over %d bytes long or no text", columns[k], maxField)
		}
		text[k] = f
	}
	if text[0] == "" || text[1] == "" {
		return c, "names no " + columns[slices.Index(text[:2], "")]
	}
	c = Call{Row: line, Sample: p.once(text[0]), Reader: p.once(text[1]), Analyte: p.once(text[3]),
		Unit: p.once(text[4]), As: p.once(text[5]), Strip: p.once(text[6]), Source: p.once(text[9])}
	p.unit(&c)
	v, err := ParseValue(text[2], p.comma)
	if err != nil {
		return c, fmt.Sprintf("sample %s, %s: %s", clip(c.Sample), clip(c.Reader), err)
	}
	c.Value = v
	if c.Seconds, why = p.optional(c, 7, text[7]); why == "" {
		c.Reference, why = p.optional(c, 8, text[8])
	}
	return c, why
}

// optional reads a number that may be absent.
func (p *parser) optional(c Call, column int, text string) (v float64, why string) {
	if text == "" {
		return math.NaN(), ""
	}
	v, err := parseNumber(text, p.comma)
	if err != nil {
		return v, fmt.Sprintf("sample %s, %s: its %s %q %s", clip(c.Sample), clip(c.Reader), columns[column], clip(text), err)
	}
	return v, ""
}

// once keeps one copy of a text, which the reader's own buffer would not.
func (p *parser) once(s string) string {
	if s == "" {
		return ""
	}
	kept, ok := p.texts[s]
	if !ok {
		kept = strings.Clone(s)
		p.texts[kept] = kept
	}
	return kept
}
