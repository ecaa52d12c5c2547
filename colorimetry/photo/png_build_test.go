package photo

import (
	"bytes"
	"compress/zlib"
)

// withICCP embeds a profile in a PNG.
func withICCP(file, profile []byte) []byte { return afterIHDR(file, iccpChunk(profile)) }

func iccpChunk(profile []byte) []byte {
	var z bytes.Buffer
	w := zlib.NewWriter(&z)
	_, _ = w.Write(profile) // a buffer takes everything
	_ = w.Close()
	return chunk("iCCP", join([]byte("name\x00\x00"), z.Bytes()))
}
