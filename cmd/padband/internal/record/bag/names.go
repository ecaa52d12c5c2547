package bag

import (
	"fmt"
	"path"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// longestName is the most bytes that a name within a record may take, so that it fits
// every common file system even with a folder in front.
const longestName = 200

// leaves says how a path leads out of its folder (RFC 8493, section 5: security
// considerations); it is "" when the path stays inside.
func leaves(p string) string {
	switch {
	case p == "" || strings.HasPrefix(p, "/"):
		return "is empty or starts at the root"
	case strings.HasPrefix(p, "~"):
		return "starts with ~"
	case strings.Contains(p, `\`):
		return `has a \ in it`
	case len(p) > 1 && p[1] == ':':
		return "starts with a drive letter"
	}
	for part := range strings.SplitSeq(p, "/") {
		if part == "" || part == "." || part == ".." {
			return "has an empty part, . or .. in it"
		}
	}
	return ""
}

// odd says what keeps a name from being plain on every system; it is "" for a plain
// name.
func odd(p string) string {
	switch {
	case !utf8.ValidString(p):
		return "is not UTF-8"
	case len(p) > longestName:
		return fmt.Sprintf("is longer than %d bytes", longestName)
	case strings.ContainsFunc(p, func(r rune) bool { return !unicode.IsPrint(r) }):
		return "has a character in it that does not print"
	}
	return ""
}

// Folded is the same for two names that some file system takes for one, because they
// differ only in case or in the Unicode form.
func Folded(p string) string {
	return strings.ToLower(strings.ToUpper(norm.NFKC.String(p)))
}

// reserved are the names that one system keeps for its devices.
var reserved = strings.Fields("con prn aux nul com0 com1 com2 com3 com4 com5 com6 com7 com8 com9 " +
	"lpt0 lpt1 lpt2 lpt3 lpt4 lpt5 lpt6 lpt7 lpt8 lpt9")

// Plain keeps of a text the letters a-z, the digits and the characters in keep. Marks
// on letters go, and anything else becomes one dash.
func Plain(s, keep string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(s) {
		switch {
		case r < utf8.RuneSelf && (unicode.IsLetter(r) || unicode.IsDigit(r)) || strings.ContainsRune(keep, r):
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r):
		case !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-.")
}

// SafeName is a file's name made safe on every system: plain letters, digits, dot,
// dash and underscore, at most 80 bytes, with its ending kept.
func SafeName(name, otherwise string) string {
	ext := Plain(path.Ext(name), "_")
	stem := Plain(strings.TrimSuffix(name, path.Ext(name)), "._")
	if stem == "" {
		stem = otherwise
	}
	for _, r := range reserved {
		if first, _, _ := strings.Cut(stem, "."); strings.EqualFold(first, r) {
			stem = "file-" + stem
		}
	}
	stem, ext = stem[:min(len(stem), 64)], ext[:min(len(ext), 15)]
	if ext == "" {
		return stem
	}
	return stem + "." + ext
}
