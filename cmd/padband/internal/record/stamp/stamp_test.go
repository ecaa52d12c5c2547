package stamp

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Replies of a real authority, openssl's, are read in the tests of package record.
func TestWhatIsNoStamp(t *testing.T) {
	for _, reply := range []string{"", "no stamp", "\x30\x00", "\x30\x05\x30\x03\x02\x01\x00"} {
		_, err := Check([]byte(reply), []byte("m"))
		assert.EqualError(t, err, "is not a timestamp reply (RFC 3161) in DER form", "%q", reply)
	}
	_, err := Check([]byte("\x30\x05\x30\x03\x02\x01\x02"), []byte("m"))
	assert.EqualError(t, err, "is a refusal of the timestamp authority (status 2); ask it again")
}

func FuzzCheck(f *testing.F) {
	f.Add([]byte{0x30, 0x05, 0x30, 0x03, 0x02, 0x01, 0x02})
	f.Fuzz(func(t *testing.T, data []byte) {
		if _, err := Check(data, []byte("m")); err != nil {
			assert.NotContains(t, err.Error(), "\n")
		}
	})
}
