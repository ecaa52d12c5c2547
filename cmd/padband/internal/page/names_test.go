package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Names as browsers, or people who mean harm, send them.
func TestNamesFromABrowser(t *testing.T) {
	long := strings.Repeat("é", 200)
	for sent, want := range map[string]string{
		"kitchen.jpg":         "kitchen.jpg",
		"my kitchen (2).JPG":  "my kitchen (2).JPG",
		"été.png":             "été.png",
		"IMG_1.HEIC":          "IMG_1.HEIC",
		"x.webp":              "x.webp",
		"x.tif":               "x.tif",
		"":                    "photo.jpg",
		"..":                  "photo.jpg",
		"../../etc/passwd":    "passwd.jpg",
		`..\..\windows\x.jpg`: "x.jpg",
		"/abs/a.jpg":          "a.jpg",
		"C:/x.jpg":            "x.jpg",
		"a/":                  "photo.jpg",
		".bashrc":             "bashrc.jpg",
		".hidden.jpg":         "hidden.jpg",
		"a\x00b\x1b[2J\n.jpg": "ab[2J.jpg",
		"\u202egpj.exe":       "gpj.exe.jpg",
		"x:y?.jpg":            "xy.jpg",
		"con.jpg":             "photo-con.jpg",
		"NUL":                 "photo-NUL.jpg",
		"lpt1.tar.jpg":        "photo-lpt1.tar.jpg",
		"con .jpg":            "photo-con.jpg",
		"\xff\xfe.jpg":        "jpg.jpg",
		"a. . .jpg":           "a.jpg",
		"x.jpg:stream":        "x.jpgstream.jpg",
		"x.marks.json":        "x.marks.json.jpg",
		"x." + long:           "x." + strings.Repeat("é", 47) + ".jpg",
		long + ".jpg":         strings.Repeat("é", 48) + ".jpg",
	} {
		got := plainName(sent, ".jpg")
		assert.Equal(t, want, got, "%q", sent)
		assert.LessOrEqual(t, len(got), longestName)
		assert.Equal(t, got, plainName(got, ".jpg"), "a safe name stays as it is")
	}
}

// The usual ending comes from the bytes.
func TestEndingOf(t *testing.T) {
	for begins, want := range map[string]string{
		"\xff\xd8\xff": ".jpg", "\x89PNG\r\n": ".png", "RIFF\x00\x00\x00\x00WEBPVP8 ": ".webp", "II*\x00": ".tiff", "MM\x00*": ".tiff",
		"\x00\x00\x00\x18ftypheic": ".heic", "": ".jpg", "RIFF": ".jpg",
	} {
		assert.Equal(t, want, endingOf([]byte(begins)), "%q", begins)
	}
}
