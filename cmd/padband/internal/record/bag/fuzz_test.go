package bag

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func FuzzManifest(f *testing.F) {
	f.Add([]byte(hello512 + "  data/a%0Ab%25.txt\r\n"))
	f.Add([]byte("x\n\n y"))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := parseManifest(data, "sha512")
		if err != nil {
			return
		}
		again, err := parseManifest(m.text(), "sha512")
		require.NoError(t, err)
		assert.Equal(t, m, again)
	})
}

func FuzzInfo(f *testing.F) {
	f.Add([]byte("Place: here\n  and there\nNote:\tx\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := ParseInfo(data)
		if err != nil {
			return
		}
		again, err := ParseInfo(in.text())
		require.NoError(t, err)
		assert.Equal(t, in.text(), again.text())
	})
}

func FuzzZip(f *testing.F) {
	f.Add(zipOf(f, entry{name: "r/a", data: []byte("x")}, entry{name: "r/../b", data: []byte("y")}))
	f.Add(zipOf(f, entry{name: "r/a", data: []byte("x"), store: true}, entry{name: "r/b", data: []byte("yy"), extra: []byte{0x55, 0x54, 5, 0, 1, 1, 2, 3, 4}}))
	f.Fuzz(func(t *testing.T, data []byte) {
		root, err := readZip(bytes.NewReader(data))
		if err != nil {
			return
		}
		z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		assert.True(t, err == nil || errors.Is(err, zip.ErrInsecurePath))
		for _, name := range root.Names() {
			assert.Empty(t, leaves(name))
			got, err := root.Read(name, 1<<16) // broken entries are errors, not panics
			if err != nil {
				continue
			}
			i := slices.IndexFunc(z.File, func(e *zip.File) bool { return strings.HasSuffix(e.Name, "/"+name) })
			e, err := z.File[i].Open()
			var want []byte
			if err == nil {
				want, err = io.ReadAll(e)
			}
			if err != nil {
				assert.NotEmpty(t, root.Findings, "what the standard library does not read is a fault: %v", err)
				continue
			}
			assert.Equal(t, string(want), string(got))
		}
	})
}
