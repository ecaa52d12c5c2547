package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// bareArgument makes a process of the tests do nothing but decode a JPEG with the
// standard library: what the whole command is compared with.
const bareArgument = "bare-decode-for-benchmarks"

func bareDecode(name string) {
	data, err := os.ReadFile(name)
	if err == nil {
		_, err = jpeg.Decode(bytes.NewReader(data))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(exitError)
	}
}

// closePhoto writes a photo of 12 megapixels and 3 to 4 MB as a phone makes them,
// with the profile and the Exif block of the demo photo, the chart's patches on it,
// and its marks beside it.
func closePhoto(tb testing.TB) (name string) {
	tb.Helper()
	const w, h = 4032, 3024
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	rng := rand.New(rand.NewPCG(7, 7))
	for i := range m.Y {
		m.Y[i] = uint8(186 + rng.IntN(30))
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = uint8(125+rng.IntN(7)), uint8(125+rng.IntN(7))
	}
	marks := charts.Marks{Format: 1, Chart: "orchard-well"}
	patch := func(mark charts.Mark, x, y int, c color.RGBA) {
		luma, cb, cr := color.RGBToYCbCr(c.R, c.G, c.B)
		for v := y; v < y+200; v++ {
			for u := x; u < x+200; u++ {
				m.Y[m.YOffset(u, v)] = luma + uint8(rng.IntN(10))
				m.Cb[m.COffset(u, v)], m.Cr[m.COffset(u, v)] = cb, cr
			}
		}
		r, err := colorimetry.NewRect(float64(x+20), float64(y+20), 160, 160)
		require.NoError(tb, err)
		mark.Region = r
		marks.Regions = append(marks.Regions, mark)
	}
	all := charts.Bundled()
	chart := all[slices.IndexFunc(all, func(c charts.Chart) bool { return c.Name == marks.Chart })]
	for row, a := range chart.Analytes {
		y := 300 + 800*row
		patch(charts.Mark{Role: charts.RolePad, Analyte: a.Name, Part: 1}, 200, y, color.RGBA{200, uint8(180 - 20*row), 190, 255})
		for i, s := range a.Swatches {
			patch(charts.Mark{Role: charts.RoleSwatch, Analyte: a.Name, Part: 1, Value: s.Value}, 800+450*i, y, color.RGBA{uint8(225 - 15*i), uint8(220 - 25*i), uint8(210 - 8*i), 255})
		}
	}
	for i := range 9 {
		patch(charts.Mark{Role: charts.RoleWhite, Material: "card"}, 500+380*i, 650, color.RGBA{222, 222, 220, 255})
	}
	var b bytes.Buffer
	require.NoError(tb, jpeg.Encode(&b, m, &jpeg.Options{Quality: 88}))
	name = filepath.Join(tb.TempDir(), "close.jpg")
	file := append(append(bytes.Clone(b.Bytes()[:2]), demoSegments(tb)...), b.Bytes()[2:]...)
	require.NoError(tb, os.WriteFile(name, file, 0o644))
	data, err := marks.Encode()
	require.NoError(tb, err)
	require.NoError(tb, os.WriteFile(filepath.Join(filepath.Dir(name), "close.marks.json"), data, 0o644))
	return name
}

// demoSegments are the Exif and profile segments of the demo photo.
func demoSegments(tb testing.TB) (out []byte) {
	tb.Helper()
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(tb, err)
	for i := 2; data[i+1] != 0xda; {
		n := 2 + int(binary.BigEndian.Uint16(data[i+2:]))
		if mark := data[i+1]; mark == 0xe1 || mark == 0xe2 {
			out = append(out, data[i:i+n]...)
		}
		i += n
	}
	require.Greater(tb, bytes.Count(out, []byte("Exif\x00"))+bytes.Count(out, []byte("ICC_PROFILE\x00")), 1)
	return out
}

func TestClosePhotoIsAsPhonesMakeThem(t *testing.T) {
	if testing.Short() {
		t.Skip("a large photo; left out with -short")
	}
	name := closePhoto(t)
	info, err := os.Stat(name)
	require.NoError(t, err)
	require.True(t, info.Size() > 3_000_000 && info.Size() < 4_000_000, "%d bytes", info.Size())
	code, _, errOut := call("read", name)
	require.Equal(t, exitOK, code, errOut)
}

// timed runs a process and reports the processor time it takes, start and end included.
func timed(b *testing.B, args ...string) {
	self, err := os.Executable()
	require.NoError(b, err)
	var seconds float64
	for b.Loop() {
		cmd := exec.Command(self, args...)
		cmd.Env = append(os.Environ(), "PADBAND_BENCHMARK=1")
		out, err := cmd.CombinedOutput()
		require.NoError(b, err, "%s", out)
		seconds += (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	}
	b.ReportMetric(1000*seconds/float64(b.N), "cpu-ms/op")
}

// The whole command is to take at most 0.60 of the processor time of a bare decode
// by the standard library in a process of its own.
func BenchmarkReadProcess(b *testing.B) {
	name := closePhoto(b)
	b.Run("read", func(b *testing.B) { timed(b, "read", name) })
	b.Run("bare", func(b *testing.B) { timed(b, bareArgument, name) })
}
