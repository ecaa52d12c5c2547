package batch

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/cmd/padband/internal/report"
)

// A fault of the program itself is that photo's row, and the others are read.
func TestBatchSurvivesItsOwnFaults(t *testing.T) {
	for _, table := range []bool{false, true} {
		m := RowMaker{Table: table, Read: func(name string) (report.Source, error) {
			var none []int
			return report.Source{}, fmt.Errorf("%d", none[len(name)])
		}}
		row := m.Row(Photo{Name: "=p.jpg", File: "=p.jpg"})
		assert.Equal(t, Failed, row.Outcome)
		assert.Contains(t, string(row.Data), "the program itself failed: runtime error: index out of range [6] with length 0; keep the file")
		assert.Equal(t, 1, strings.Count(string(row.Data), "\n"))
		assert.Equal(t, table, strings.HasPrefix(string(row.Data), "'=p.jpg,"), "no formula")
	}
	row := RowMaker{}.Row(Photo{File: "p", Err: errors.New("two\nlines\x1b[2J")})
	assert.Equal(t, "{\"format\":1,\"photo\":{\"file\":\"p\"},\"error\":\"two lines\ufffd[2J\"}\n", string(row.Data))
}
