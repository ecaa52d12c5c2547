package decoder

import (
	"bytes"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry/photo"
	"padband/colorimetry/photo/heif"
)

func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == Argument { // a decoder that a test's own process asked for
		if !Answer(os.Stdin, os.Stdout) {
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// plainHEIC is a photo of testdata as the decoder gets it.
func plainHEIC(t *testing.T, name string) (plain []byte, width, height int) {
	t.Helper()
	data, err := os.ReadFile("../../../../testdata/photos/" + name)
	require.NoError(t, err)
	p, err := heif.Read(data)
	require.NoError(t, err)
	return p.Repack(), p.Width, p.Height
}

// The planes come whole out of the other process, the decoder's first samples
// mended. The codes are those that heif-convert 1.15.1 writes as y4m.
func TestDecodeInAChild(t *testing.T) {
	img, err := HEIC(plainHEIC(t, "patches.heic"))
	require.NoError(t, err)
	m := img.(*image.YCbCr)
	assert.Equal(t, image.Rect(0, 0, 128, 128), m.Rect)
	assert.Equal(t, image.YCbCrSubsampleRatio420, m.SubsampleRatio)
	for _, at := range []image.Point{{0, 0}, {20, 0}, {63, 63}} {
		assert.Equal(t, []byte{160, 133, 182}, codesAt(m, at.X, at.Y), at)
	}
	assert.Equal(t, []byte{133, 98, 76}, codesAt(m, 64, 0))
	for name, ratio := range map[string]image.YCbCrSubsampleRatio{"patches422.heic": image.YCbCrSubsampleRatio422, "patches444.heic": image.YCbCrSubsampleRatio444, "odd.heic": image.YCbCrSubsampleRatio420} {
		img, err := HEIC(plainHEIC(t, name))
		require.NoError(t, err)
		assert.Equal(t, ratio, img.(*image.YCbCr).SubsampleRatio)
	}
	grey, err := HEIC(plainHEIC(t, "grey.heic"))
	require.NoError(t, err)
	assert.Equal(t, []byte{158, 158}, grey.(*image.Gray).Pix[:2])
}

func codesAt(m *image.YCbCr, x, y int) []byte {
	c := m.COffset(x, y)
	return []byte{m.Y[m.YOffset(x, y)], m.Cb[c], m.Cr[c]}
}

// What the decoder cannot read is one plain line, and so is another size than was said.
func TestDecoderRefuses(t *testing.T) {
	plain, w, h := plainHEIC(t, "patches.heic")
	for name, c := range map[string]struct {
		plain []byte
		w, h  int
		want  string
	}{
		"nothing":      {nil, w, h, "decode failed"},
		"cut":          {plain[:len(plain)-200], w, h, "decode failed"},
		"another size": {plain, w, h + 1, "its header says 128 x 129 pixels and 128 x 128 came out"},
	} {
		_, err := HEIC(c.plain, c.w, c.h)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
	}
	_, err := HEIC(plain, 96, 128)
	var unusual *photo.UnsupportedError
	require.ErrorAs(t, err, &unusual)
	var b bytes.Buffer
	assert.False(t, Answer(strings.NewReader(""), &b))
	assert.Equal(t, "FAILEOF", b.String())
}

// A child that hangs, dies, floods or answers nonsense costs its parent one error.
func TestChildGoesWrong(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell here to play a bad child with")
	}
	for script, want := range map[string]string{
		"exec sleep 60":                     "took over",
		"cat >/dev/null; printf Y420":       "its decoder stopped halfway",
		"kill -9 $$":                        "its decoder stopped: signal: killed",
		"exit 2":                            "its decoder stopped: exit status 2",
		"printf nonsense":                   "answered nonsense",
		"printf 'FAILno picture'":           "no picture",
		"yes FAIL":                          "",
		"printf 'FAILforeign library'":      "a library of this system",
		"printf Y420; exec sleep 60":        "took over",
		"printf GREY; head -c 99 /dev/zero": "its decoder stopped",
	} {
		start := time.Now()
		_, err := askChild(exec.Command(sh, "-c", script), 500*time.Millisecond, make([]byte, 1<<20), 200, 100)
		require.Error(t, err, script)
		assert.Contains(t, err.Error(), want, script)
		assert.Less(t, len(err.Error()), 250, script)
		assert.Less(t, time.Since(start), 10*time.Second, script)
	}
	img, err := askChild(exec.Command(sh, "-c", "printf GREY; head -c 20000000 /dev/zero"), 10*time.Second, nil, 200, 100)
	require.NoError(t, err, "what is over is not read")
	assert.Equal(t, image.Rect(0, 0, 200, 100), img.Bounds())
	_, err = askChild(exec.Command(filepath.Join(t.TempDir(), "none")), time.Second, nil, 200, 100)
	assert.ErrorContains(t, err, "cannot be started")
}

// The decoder's first samples are taken from the row below.
func TestMend(t *testing.T) {
	luma := append(bytes.Repeat([]byte{1}, 32), bytes.Repeat([]byte{2}, 32)...)
	mend(luma, 32, image.Rect(0, 0, 30, 2))
	assert.Equal(t, byte(2), luma[spoiltLuma-1])
	assert.Equal(t, byte(1), luma[spoiltLuma])
	one := []byte{1, 1}
	mend(one, 2, image.Rect(0, 0, 2, 1))
	assert.Equal(t, []byte{1, 1}, one)
}

// Too few samples are refused before any is written.
func TestWritePlanes(t *testing.T) {
	var b bytes.Buffer
	assert.Error(t, writePlanes(&b, markGrey, plane{make([]byte, 99), 10, 10, 10}))
	assert.Error(t, writePlanes(&b, markGrey, plane{make([]byte, 100), 9, 10, 10}))
	assert.Error(t, writeAnswer(&b, image.NewNRGBA(image.Rect(0, 0, 9, 9))))
	assert.Zero(t, b.Len())
	require.NoError(t, writePlanes(&b, markGrey, plane{[]byte{1, 2, 0, 3, 4}, 3, 2, 2}))
	assert.Equal(t, "GREY\x01\x02\x03\x04", b.String())
}
