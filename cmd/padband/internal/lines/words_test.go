package lines

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWords(t *testing.T) {
	assert.Equal(t, "a b\ufffd[31m c", OneLine(" a\tb\x1b[31m\r\n c "))
	assert.Equal(t, []string{"", "a", "a and b", "a, b and c"}, []string{List(nil), List([]string{"a"}),
		List([]string{"a", "b"}), List([]string{"a", "b", "c"})})
	assert.Equal(t, []string{"0 days", "1 day", "2 days"}, []string{Count(0, "day"), Count(1, "day"), Count(2, "day")})
	assert.Equal(t, []string{"", "pH", "Åland", "nitrate", "örebro"},
		[]string{UpperFirst(""), UpperFirst("pH"), UpperFirst("åland"), LowerFirst("Nitrate"), LowerFirst("Örebro")})
	assert.Equal(t, []string{"nitrate, mg/L as N", "pH", "iron"}, []string{WithUnit("nitrate", "mg/L as N"),
		WithUnit("pH", "pH"), WithUnit("iron", "")})
	assert.Equal(t, "95\u00a0% of it", Set("95 %\nof it"))
}

func TestBlanked(t *testing.T) {
	assert.Equal(t, "[2Ja  b ?", Blanked("\x1b[2Ja\n b \xff\n"))
}
