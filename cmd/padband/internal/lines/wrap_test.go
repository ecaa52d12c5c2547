package lines

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWrap(t *testing.T) {
	var b strings.Builder
	Wrap(&b, "  - ", "    ", strings.Repeat("word ", 16)+"end")
	assert.Equal(t, "  - "+strings.TrimSpace(strings.Repeat("word ", 15))+"\n    word end\n", b.String())
	b.Reset()
	Paragraph(&b, "", strings.Repeat("a", 80)+" b")
	assert.Equal(t, strings.Repeat("a", 80)+"\nb\n", b.String(), "a line may fill all 80 columns")
}
