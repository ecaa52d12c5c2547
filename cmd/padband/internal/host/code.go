//go:build !js

package host

import (
	"fmt"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// code is an address as a square of dark and light, with a light border of the
// four modules that ISO/IEC 18004 asks for; nil when it does not fit.
func code(address string) [][]bool {
	c, err := qr.Encode(address, qr.M, qr.Auto)
	if err != nil {
		return nil
	}
	const border = 4
	n := c.Bounds().Dx()
	out := make([][]bool, n+2*border)
	for y := range out {
		out[y] = make([]bool, n+2*border)
		for x := range out[y] {
			i, j := x-border, y-border
			if i >= 0 && j >= 0 && i < n && j < n {
				r, _, _, _ := c.At(i, j).RGBA()
				out[y][x] = r == 0
			}
		}
	}
	return out
}

// CodeSVG is the address as a QR code for the page.
func CodeSVG(address string) string {
	c := code(address)
	var path strings.Builder
	for y, row := range c {
		for x, dark := range row {
			if dark {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x, y)
			}
		}
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %[1]d %[1]d" role="img" `+
		`aria-label="The address as a code to photograph">`+
		`<path fill="#fff" d="M0 0h%[1]dv%[1]dH0z"/>`+
		`<path fill="#000" d="%[2]s"/></svg>`, len(c), path.String())
}

// Code is the address as a QR code for a terminal of light letters on dark: two
// modules a character, one above the other, the light ones drawn.
func Code(address string) string {
	c := code(address)
	if len(c)%2 == 1 {
		c = append(c, make([]bool, len(c)))
	}
	blocks := map[[2]bool]string{{false, false}: "█", {false, true}: "▀", {true, false}: "▄", {true, true}: " "}
	var b strings.Builder
	for y := 0; y+1 < len(c); y += 2 {
		for x := range c[y] {
			b.WriteString(blocks[[2]bool{c[y][x], c[y+1][x]}])
		}
		b.WriteString("\n")
	}
	return b.String()
}
