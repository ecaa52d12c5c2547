package page

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"padband/cmd/padband/internal/hosted"
)

// longestName caps a file's name, in bytes.
const longestName = 100

// pictures matches the endings that a photo's name may keep.
var pictures = regexp.MustCompile(`(?i)^\.(jpe?g|jpe|jfif|png|heic|heif|hif|webp|tiff?)$`)

// plainName turns a name that a browser sent into one that is safe for a photo on
// every system. It keeps the last element of the name, removes what steers a terminal
// or means something to a shell or a file system, and gives it a photo's ending.
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
	if ext := filepath.Ext(name); pictures.MatchString(ext) {
		name, ending = strings.TrimSuffix(name, ext), ext
	}
	for len(name)+len(ending) > longestName {
		_, n := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-n]
	}
	name = strings.TrimRight(name, ". ")
	if name == "" {
		name = "photo"
	}
	if hosted.Reserved(name) {
		name = "photo-" + name
	}
	return name + ending
}

// endingOf is the usual ending of a photo's name, by its first bytes.
func endingOf(data []byte) string {
	begins := func(at int, s string) bool { return len(data) >= at && bytes.HasPrefix(data[at:], []byte(s)) }
	switch {
	case begins(0, "\x89PNG"):
		return ".png"
	case begins(0, "RIFF") && begins(8, "WEBP"):
		return ".webp"
	case begins(0, "II*\x00"), begins(0, "MM\x00*"):
		return ".tiff"
	case begins(4, "ftyp"):
		return ".heic"
	}
	return ".jpg"
}
