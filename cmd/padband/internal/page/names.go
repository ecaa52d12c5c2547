package page

import (
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName caps a file's name, in bytes.
const longestName = 100

// reserved are names that some systems keep for devices.
var reserved = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com\d|lpt\d)(\.|$)`)

// plainName makes of a name that a browser sent one that is safe as a file's
// on every system: its last element, without what steers a terminal or means
// something to a shell or file system.
func plainName(sent, ending string) string {
	if i := strings.LastIndexAny(sent, `/\`); i >= 0 {
		sent = sent[i+1:]
	}
	name := strings.Map(func(r rune) rune {
		if r == utf8.RuneError || !unicode.IsPrint(r) || strings.ContainsRune(`<>:"|?*`, r) {
			return -1
		}
		return r
	}, sent)
	name = strings.Trim(name, ". ")
	ext := filepath.Ext(name)
	stem := strings.TrimRight(strings.TrimSuffix(name, ext), ". ")
	for len(stem)+len(ext) > longestName && stem != "" {
		_, n := utf8.DecodeLastRuneInString(stem)
		stem = stem[:len(stem)-n]
	}
	if stem == "" || len(ext) > 10 {
		stem, ext = "photo", ending
	}
	if ext == "" {
		ext = ending
	}
	if reserved.MatchString(stem) {
		stem = "photo-" + stem
	}
	return stem + ext
}
