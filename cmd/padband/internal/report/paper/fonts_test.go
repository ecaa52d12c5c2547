package paper_test

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// fontSet is a set of fonts as a machine may have it alone.
type fontSet struct {
	name   string
	folder string // below one that holds fonts
	plain  string // its sans-serif family
}

// fontSets are sets that machines without others have: the first two widely
// spread, the third without either of them.
var fontSets = []fontSet{
	{"DejaVu", "dejavu", "DejaVu Sans"}, {"Liberation", "liberation", "Liberation Sans"}, {"URW", "urw-base35", "Nimbus Sans"},
	{"Noto", "noto", "Noto Sans"},
}

// foundFonts are the sets on this machine and where each is, and the names of
// those that are not.
func foundFonts(t *testing.T) (found []fontSet, without []string) {
	t.Helper()
	own := os.Getenv("XDG_DATA_HOME")
	if home, err := os.UserHomeDir(); own == "" && err == nil {
		own = filepath.Join(home, ".local", "share")
	}
	for _, s := range fontSets {
		folder := ""
		for _, root := range []string{filepath.Join(own, "fonts"), "/usr/local/share/fonts", "/usr/share/fonts"} {
			for _, at := range []string{"truetype", "opentype", ""} {
				name := filepath.Join(root, at, s.folder)
				if i, err := os.Stat(name); err == nil && i.IsDir() && folder == "" {
					folder = name
				}
			}
		}
		if folder == "" {
			without = append(without, s.name)
			continue
		}
		s.folder = folder
		found = append(found, s)
	}
	return found, without
}

// eachFontSet runs a test once for each set of fonts on this machine, with that
// set alone. Where fontconfig does not choose the fonts there is one run, with
// the machine's own.
func eachFontSet(t *testing.T, run func(t *testing.T, env []string)) {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Log("printed with this machine's own fonts alone: sets of fonts are told apart on Linux")
		run(t, nil)
		return
	}
	found, without := foundFonts(t)
	if len(without) > 0 {
		t.Logf("not printed with %s: not on this machine", strings.Join(without, ", "))
	}
	if os.Getenv("CI") == "true" {
		require.GreaterOrEqual(t, len(found), 2, "two sets of fonts at least are needed, one without DejaVu and "+
			"Liberation; .ci/run gets them")
		require.True(t, func() bool {
			for _, s := range found {
				if s.name != "DejaVu" && s.name != "Liberation" {
					return true
				}
			}
			return false
		}(), "a set of fonts without DejaVu and Liberation is needed; .ci/run gets one")
	}
	if len(found) == 0 {
		run(t, nil)
	}
	for _, s := range found {
		t.Run(s.name, func(t *testing.T) { run(t, []string{"FONTCONFIG_FILE=" + s.config(t)}) })
	}
}

// config writes a configuration of fontconfig that knows this set alone.
func (s fontSet) config(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	text := `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
<dir>` + s.folder + `</dir>
<cachedir>` + filepath.Join(dir, "cache") + `</cachedir>
<include ignore_missing="yes">/etc/fonts/conf.d</include>
<match target="pattern"><edit name="family" mode="append_last"><string>` + s.plain + `</string></edit></match>
</fontconfig>
`
	name := filepath.Join(dir, "fonts.conf")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	return name
}
