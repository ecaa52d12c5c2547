package main

import (
	"io"
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// codesHelp prints what each code of a warning stands for, and what to do: the
// guide's page of codes. It comes from the table that the decisions come from.
func codesHelp(w io.Writer) {
	var b strings.Builder
	lines.Paragraph(&b, "", "Each warning of a reading ends with a code in brackets, which --json carries too. With a warning that says so, the strip's own error is not known, and the water is never said to be below a limit for health.")
	for _, about := range []calib.About{calib.AboutLight, calib.AboutFile, calib.AboutPad, calib.AboutSwatches, calib.AboutKit, calib.AboutWater} {
		b.WriteString("\n" + lines.UpperFirst(string(about)) + "\n")
		for _, c := range calib.Codes() {
			if c.About == about {
				codeHelp(&b, c)
			}
		}
	}
	io.WriteString(w, b.String())
}

func codeHelp(b *strings.Builder, c calib.CodeFacts) {
	text := string(c.Code) + ": " + c.Name + ". " + c.Advice
	switch {
	case c.Stops:
		text += " Until then no limit is judged."
	case c.Spoils != "":
		text += " Never below a limit for health: " + c.Spoils + "."
	}
	lines.Wrap(b, "  ", "    ", text)
}
