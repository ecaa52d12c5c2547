package batch

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Names keep their order, their spaces and their repetitions.
func TestList(t *testing.T) {
	photos, err := List(strings.NewReader("b.jpg\r\n\n a.jpg \nb.jpg\n\r\nlast"))
	require.NoError(t, err)
	assert.Equal(t, []string{"b.jpg", " a.jpg ", "b.jpg", "last"}, called(photos))
	assert.Equal(t, " a.jpg ", photos[1].Name)
}

func TestListThatIsNone(t *testing.T) {
	_, err := List(strings.NewReader("a.jpg\n\xff\xd8\xff\x00"))
	assert.ErrorContains(t, err, "line 2: this is no list of names")
	_, err = List(strings.NewReader("a.jpg\n" + strings.Repeat("x", mostName) + "\n"))
	require.NoError(t, err)
	_, err = List(strings.NewReader("a.jpg\n" + strings.Repeat("x", mostName+3)))
	assert.ErrorContains(t, err, "after 1 names: a line of over 4096 bytes is no name")
}
