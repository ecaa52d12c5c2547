package profile

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"unicode/utf16"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"padband/colorimetry"
)

// MaxBytes caps an embedded profile. Camera and display profiles are a few
// hundred bytes to a few kilobytes, table profiles up to about 2 MB.
const MaxBytes = 4 << 20

// reasonError is what any unusable profile comes down to; its text says why.
type reasonError struct{ why string }

func (e *reasonError) Error() string { return e.why }

func spoiled(format string, args ...any) error { return &reasonError{fmt.Sprintf(format, args...)} }

// Open turns an embedded ICC profile into a transform, after checking
// that it fits the pixels and that what it says makes sense: declared lengths
// fit, white is white, greys are grey and rise. A profile that fails is an
// error, never a colour.
//
// Colours are relative colorimetric. The profile's own white is scaled, each
// component on its own, onto [colorimetry.D50], which the profile's rounded
// D50 (0.9642, 1, 0.8249) misses by up to 1e-4.
func Open(data []byte, grey bool) (t *Transform, err error) {
	// The profile library answers some malformed tables with a panic.
	defer func() {
		if r := recover(); r != nil {
			t, err = nil, spoiled("its tables are malformed")
		}
	}()
	if err := check(data, grey); err != nil {
		return nil, err
	}
	f, err := functionOf(data, grey)
	if err != nil {
		return nil, err
	}
	f, err = onWhite(f)
	if err != nil {
		return nil, err
	}
	t = tabulate(f)
	return t, Plausible(t)
}

// colourFunction takes channels from 0 to 1 to XYZ.
type colourFunction = func(r, g, b float64) colorimetry.XYZ

// functionOf asks the profile library for the way to its connection space.
func functionOf(data []byte, grey bool) (colourFunction, error) {
	p, err := icc.NewProfileReader(bytes.NewReader(data)).ReadProfile()
	if err != nil {
		return nil, spoiled("its table of tags is malformed")
	}
	channels := 3
	if grey {
		channels = 1
	}
	pipe, err := p.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, channels, true)
	if err != nil {
		return nil, spoiled("it lacks a usable way from its channels to colour")
	}
	lab := p.Header.ProfileConnectionSpace == icc.ColorSpaceLab
	return func(r, g, b float64) colorimetry.XYZ {
		if grey {
			g, b = 0, 0
		}
		x, y, z := pipe.Transform(r, g, b)
		if lab {
			return colorimetry.Lab{L: x, A: y, B: z}.XYZ(colorimetry.D50)
		}
		return colorimetry.XYZ{X: x, Y: y, Z: z}
	}, nil
}

// How far a profile's white and greys may stray, in CIELAB. Real display and
// camera profiles stay within a few tenths of the D50 they are made for.
const (
	whiteLightness = 2.0
	whiteChroma    = 2.0
	greyChroma     = 4.0
)

// iccD50 is the connection space's white as the ICC prints it (ICC.1:2022, 7.2.16).
var iccD50 = colorimetry.XYZ{X: 0.9642, Y: 1, Z: 0.8249}

// onWhite scales a colour function so that full channels give D50 exactly.
func onWhite(f colourFunction) (colourFunction, error) {
	w := f(1, 1, 1)
	c := w.Lab(iccD50)
	if !(math.Abs(c.L-100) <= whiteLightness && math.Hypot(c.A, c.B) <= whiteChroma) {
		return nil, spoiled("its white is not white (L* %.0f, a* %.0f, b* %.0f)", c.L, c.A, c.B)
	}
	d := colorimetry.D50
	sx, sy, sz := d.X/w.X, d.Y/w.Y, d.Z/w.Z
	return func(r, g, b float64) colorimetry.XYZ {
		x := f(r, g, b)
		return colorimetry.XYZ{X: x.X * sx, Y: x.Y * sy, Z: x.Z * sz}
	}, nil
}

// Plausible checks that greys are grey and rise with their code.
func Plausible(t *Transform) error {
	last := math.Inf(-1)
	for i := range 33 {
		v := float64(i) / 32
		c := t.XYZ(v, v, v).Lab(colorimetry.D50)
		if !(math.Hypot(c.A, c.B) <= greyChroma) {
			return spoiled("its greys are not grey")
		}
		if !(c.L >= last-0.01) {
			return spoiled("its greys do not rise")
		}
		last = c.L
	}
	if c := t.XYZ(0.5, 0.5, 0.5).Lab(colorimetry.D50); !(c.L > 5 && c.L < 95) {
		return spoiled("its middle grey is black or white")
	}
	return nil
}

// check looks at the lengths and counts of a profile before anything
// is built from them.
func check(data []byte, grey bool) error {
	if len(data) < 132 || len(data) > MaxBytes {
		return spoiled("its length of %d bytes is out of range", len(data))
	}
	if n := binary.BigEndian.Uint32(data); int64(n) != int64(len(data)) && (int64(n) > int64(len(data)) || n < 132) {
		return spoiled("it says it is %d bytes long and %d are there", n, len(data))
	}
	want := "RGB "
	if grey {
		want = "GRAY"
	}
	if space := string(data[16:20]); space != want {
		return spoiled("it is for %q channels and the picture's are %q", space, want)
	}
	if binary.BigEndian.Uint32(data[64:]) > 3 {
		return spoiled("its rendering intent is unknown")
	}
	tags, err := tagsOf(data)
	if err != nil {
		return err
	}
	for _, tag := range tags {
		if err := checkTag(tag, grey); err != nil {
			return err
		}
	}
	return nil
}

// entry is one entry of a profile's table of tags.
type entry struct {
	name string
	body []byte
}

// maxTags is far above the dozen or two that profiles have.
const maxTags = 200

func tagsOf(data []byte) ([]entry, error) {
	if len(data) < 132 {
		return nil, spoiled("it has no table of tags")
	}
	n := int64(binary.BigEndian.Uint32(data[128:]))
	if n < 1 || n > maxTags || 132+12*n > int64(len(data)) {
		return nil, spoiled("its table of tags does not fit")
	}
	var tags []entry
	for k := range int(n) {
		e := data[132+12*k:]
		at, size := int64(binary.BigEndian.Uint32(e[4:])), int64(binary.BigEndian.Uint32(e[8:]))
		if at < 132+12*n || at+size > int64(len(data)) || size < 8 {
			return nil, spoiled("its tag %.6q does not fit", e[:4])
		}
		tags = append(tags, entry{string(e[:4]), data[at : at+size]})
	}
	return tags, nil
}

// checkTag refuses curve and grid sizes that the tag cannot hold.
func checkTag(tag entry, grey bool) error {
	kind := string(tag.body[:4])
	switch kind {
	case "curv", "mAB ":
		if !curvesFit(tag.body) {
			return spoiled("a curve in its tag %.6q does not fit", tag.name)
		}
	}
	if len(tag.name) < 3 || tag.name[:3] != "A2B" {
		return nil
	}
	switch kind {
	case "mAB ":
		return checkModular(tag.body, grey)
	case "mft1", "mft2":
		if len(tag.body) < 52 || tag.body[8] != inputs(grey) || tag.body[9] != 3 {
			return spoiled("its table is for other channels")
		}
	}
	return nil
}

func inputs(grey bool) byte {
	if grey {
		return 1
	}
	return 3
}

// curvesFit checks the count of every sampled curve in a tag.
func curvesFit(body []byte) bool {
	for at := 0; ; {
		k := bytes.Index(body[at:], []byte("curv"))
		if k < 0 {
			return true
		}
		at += k
		if at+12 > len(body) || 2*int64(binary.BigEndian.Uint32(body[at+8:])) > int64(len(body)-at-12) {
			return false
		}
		at += 4
	}
}

// checkModular checks the grid of an mAB tag: its precision is 1 or 2 bytes
// and its axes are alike, which the profile library takes for granted.
func checkModular(body []byte, grey bool) error {
	if len(body) < 32 || body[8] != inputs(grey) || body[9] != 3 {
		return spoiled("its table is for other channels")
	}
	at := int64(binary.BigEndian.Uint32(body[24:]))
	if at == 0 {
		return nil
	}
	if at+20 > int64(len(body)) {
		return spoiled("its grid does not fit")
	}
	grid := body[at:]
	for k := byte(1); k < inputs(grey); k++ {
		if grid[k] != grid[0] {
			return spoiled("its grid has unequal sides")
		}
	}
	if grid[16] != 1 && grid[16] != 2 {
		return spoiled("its grid has an unknown precision")
	}
	return nil
}

// Describe returns a profile's own description as it stands there, empty where
// it has none that can be read.
func Describe(data []byte) string {
	tags, err := tagsOf(data)
	if err != nil {
		return ""
	}
	for _, t := range tags {
		if t.name == "desc" {
			return descriptionText(t.body)
		}
	}
	return ""
}

// descriptionText reads the ASCII of a version 2 description or the first
// string of a version 4 one.
func descriptionText(body []byte) string {
	switch {
	case string(body[:4]) == "desc" && len(body) >= 12:
		n := min(int64(binary.BigEndian.Uint32(body[8:])), int64(len(body)-12))
		return string(body[12 : 12+n])
	case string(body[:4]) == "mluc" && len(body) >= 28:
		n, at := int64(binary.BigEndian.Uint32(body[20:])), int64(binary.BigEndian.Uint32(body[24:]))
		if at+n > int64(len(body)) {
			return ""
		}
		return utf16Text(body[at : at+min(n, 400)])
	}
	return ""
}

// Reason gives the reason of any profile error.
func Reason(err error) string {
	var p *reasonError
	if errors.As(err, &p) {
		return p.why
	}
	return "it cannot be read"
}

// utf16Text decodes big-endian UTF-16.
func utf16Text(b []byte) string {
	var units []uint16
	for ; len(b) >= 2; b = b[2:] {
		units = append(units, binary.BigEndian.Uint16(b))
	}
	return string(utf16.Decode(units))
}
