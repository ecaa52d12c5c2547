package guide

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPrinted(t *testing.T) {
	long := strings.Repeat("x", 70) + " 0123456789"
	page := "# One page\n\n## Its part\n\nType `padband read`:\n\n```text\n# a `mark`\n\n\tend\n```\n\n```console\n$ padband\n" + long + "\n```\n- last\n"
	want := "One page\n\nITS PART\n\nType padband read:\n\n  # a `mark`\n\n  \tend\n\n$ padband\n" + strings.Repeat("x", 70) + "\n  0123456789\n- last\n"
	assert.Equal(t, want, printed(page))
	assert.Equal(t, "One page", title(page))
}
