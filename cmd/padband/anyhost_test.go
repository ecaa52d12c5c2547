package main

import (
	"compress/gzip"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ownHost are what only a host on a machine has: nothing of it may come along
// with the page into a browser, for its size or for what it needs.
var ownHost = regexp.MustCompile(`^(net|net/http|crypto/tls|crypto/x509|os/exec|html/template|text/template|mime/multipart)$` +
	`|^golang\.org/x/crypto/(ssh|blowfish)|^github\.com/(boombuler/barcode|gen2brain/heic)|^gonum\.org/v1/plot|/fonts?(/|$)|fpdf|freetype`)

// inBrowser is the page alone, as a program for a browser.
const inBrowser = "padband/cmd/padband/testdata/browser"

func forBrowser(args ...string) *exec.Cmd {
	cmd := exec.Command("go", args...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	return cmd
}

// The marking page with all that it reads, writes and reports stands on any host.
func TestThePageStandsOnAnyHost(t *testing.T) {
	out, err := forBrowser("list", "-deps", inBrowser).Output()
	require.NoError(t, err)
	deps := strings.Fields(string(out))
	for _, p := range []string{"page", "record", "report", "host"} {
		assert.Contains(t, deps, "padband/cmd/padband/internal/"+p)
	}
	assert.Contains(t, deps, "padband/calib/strip")
	for _, d := range deps {
		assert.False(t, ownHost.MatchString(d), d)
	}
}

// The page itself opens no file, and asks no system for anything but the time.
func TestThePageIsNoHost(t *testing.T) {
	for _, p := range listPackages(t) {
		if slices.Contains([]string{"page", "blind", "hosted"}, strings.TrimPrefix(p.ImportPath, "padband/cmd/padband/internal/")) {
			for _, i := range outside {
				assert.NotContains(t, p.Imports, i, p.ImportPath)
			}
		}
	}
}

// mostBytes caps what a phone loads before the page works, gzipped: decided with
// the photo's reading at 2.1 MB, records and JSON at 0.6, and the page to show and
// what is typed at 0.1. The search for outlines, with the words of its questions, has
// 0.15 more, photos of one strip in one answer and one record 0.07, white that is found
// and prints that are remembered 0.07.
const mostBytes = 3_550_000

func TestThePageIsSmallEnoughToLoad(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole build for another system; left out with -short")
	}
	name := filepath.Join(t.TempDir(), "page.wasm")
	out, err := forBrowser("build", "-trimpath", "-ldflags", "-s -w", "-o", name, inBrowser).CombinedOutput()
	require.NoError(t, err, string(out))
	n := gzipped(t, name)
	t.Logf("%d bytes gzipped, at most %d", n, mostBytes)
	assert.Less(t, n, int64(mostBytes))
	assert.Greater(t, n, int64(1_000_000), "this is no whole page")
}

// gzipped is how many bytes a file is, packed as well as gzip can.
func gzipped(t *testing.T, name string) (n int64) {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewWriterLevel((*byteCount)(&n), gzip.BestCompression)
	require.NoError(t, err)
	_, err = io.Copy(z, f)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return n
}

type byteCount int64

func (c *byteCount) Write(p []byte) (int, error) { *c += byteCount(len(p)); return len(p), nil }
