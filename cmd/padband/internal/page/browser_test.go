package page_test

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// TestInABrowser does what a person does, in a real browser with real mouse,
// touch and key events, on the page of the built command. It needs chromium
// and, for what people with other senses or hands meet, the accessibility
// checker axe-core; the contributor's script gets both.
func TestInABrowser(t *testing.T) {
	b := newBrowser(t)
	for _, one := range []struct {
		name string
		do   func(t *testing.T, b *browser)
	}{
		{"mouse", byMouse},
		{"adjusting", adjusting},
		{"corners", byCorners},
		{"curved row", curvedRow},
		{"curved untold", curvedUntold},
		{"curved by hand", curvedByHand},
		{"touch", byTouch},
		{"typing", typing},
		{"dip first", dipFirst},
		{"colours kept", coloursKept},
		{"colours of a new bottle", coloursOfANewBottle},
		{"said by tap", saidByTap},
		{"said by keys", saidByKeys},
		{"daylight at night", daylightAtNight},
		{"wet white", wetWhite},
		{"water before the dip", waterBeforeDip},
		{"half a date", halfADate},
		{"one strip", oneStrip},
		{"one strip slips", oneStripSlips},
		{"one strip really", oneStripReally},
		{"read first", readFirst},
		{"help fits", helpFits},
		{"keyboard", byKeyboard},
		{"labels", labels},
		{"beside a mark", besideMarked},
		{"white swatch", whiteSwatch},
		{"other row", otherRow},
		{"sure after a refusal", sureAfterRefusal},
		{"backwards", backwards},
		{"contradicted", contradicted},
		{"exchanged rows", exchanged},
		{"put off", putOff},
		{"again", again},
		{"again uploaded", againUploaded},
		{"keeping", keepByMouse},
		{"keeping by keys", keepByKeys},
		{"unsaved by mouse", unsavedByMouse},
		{"unsaved by keys", unsavedByKeys},
		{"unsaved and kept", unsavedKept},
		{"unsaved facts", unsavedFacts},
		{"unsaved layout", unsavedLayout},
		{"unsaved answered late", answeredTooLate},
		{"against a limit", againstALimit},
		{"begun with limits", begunWithLimits},
		{"stamps by mouse", stampsByMouse},
		{"stamps by keys", stampsByKeys},
		{"places", places},
		{"places shown", placesShown},
		{"accessible", accessible},
		{"focus", focusIsSeen},
		{"large photo", largePhoto},
		{"found", found},
		{"found turned", foundTurned},
		{"found asked", foundAsked},
		{"found exchanged", foundExchanged},
		{"found by hand", foundByHand},
		{"found nothing", foundNothing},
		{"found before", foundBefore},
		{"found open", foundOpen},
		{"found upside down", foundUpsideDown},
		{"found parts", foundParts},
		{"found late", foundLate},
		{"found without strip", foundWithoutStrip},
		{"found by another", foundByAnother},
		{"found several", foundSeveral},
		{"found only yes", foundOnlyYes},
		{"found really", foundReally},
		{"blind by mouse", blindByMouse},
		{"blind by touch", blindByTouch},
		{"blind by keyboard", blindByKeyboard},
		{"blind parts", blindParts},
		{"blind unshown", blindUnshown},
		{"blind accessible", blindAccessible},
	} {
		t.Run(one.name, func(t *testing.T) { one.do(t, b) })
	}
}

// browser is the browser and the program that the tests share.
type browser struct {
	ctx     context.Context
	program string // the built command
	axe     string // the source of the accessibility checker
}

// newBrowser builds the command and starts the browser, or leaves the tests
// out, with the reason, where one of the tools is missing. CI must have them.
func newBrowser(t *testing.T) *browser {
	t.Helper()
	if testing.Short() {
		t.Skip("whole jobs in a browser; left out with -short")
	}
	axe, err := os.ReadFile(os.Getenv("PADBAND_AXE"))
	if err != nil {
		missing(t, "PADBAND_AXE does not name axe-core's axe.min.js")
	}
	chromium := onPath("chromium", "chromium-browser", "google-chrome")
	if chromium == "" {
		missing(t, "there is no chromium here")
	}
	b := &browser{program: filepath.Join(t.TempDir(), "padband"), axe: string(axe)}
	out, err := exec.Command("go", "build", "-o", b.program, "padband/cmd/padband").CombinedOutput()
	require.NoError(t, err, string(out))
	b.ctx = startChromium(t, chromium)
	return b
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what + "; .ci/run gets what the tests in a browser need")
}

func onPath(names ...string) string {
	for _, n := range names {
		if p, err := exec.LookPath(n); err == nil {
			return p
		}
	}
	return ""
}

// startChromium starts a browser of nobody's: a fresh folder, no updates, no
// calls of its own to anywhere.
func startChromium(t *testing.T, chromium string) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("no-pings", true), chromedp.Flag("lang", "en-US"))
	root, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, stop := chromedp.NewContext(root)
	t.Cleanup(stop)
	require.NoError(t, chromedp.Do(ctx), "chromium does not start")
	return ctx
}

// address finds the page's address in what the command prints.
var address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/[a-z2-7]{16}/`)

// serve runs the command on a photo, or none, as [browser.run] does. All is marked by
// hand: what becomes of outlines that are found has tests of its own.
func (b *browser) serve(t *testing.T, folder, photo string) string {
	t.Helper()
	args := []string{"mark", "--no-browser", "--by-hand", "--into", folder}
	if photo != "" {
		args = append(args, filepath.Join(folder, photo))
	}
	return b.run(t, args...)
}

// run starts the command and gives the address of the page that it serves. The
// command is ended as Ctrl-C ends it, and must then say that all is well.
func (b *browser) run(t *testing.T, args ...string) string {
	t.Helper()
	cmd := exec.Command(b.program, args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		require.NoError(t, cmd.Process.Signal(os.Interrupt))
		kill := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
		defer kill.Stop()
		require.NoError(t, cmd.Wait(), "the command does not end well")
	})
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if a := address.FindString(lines.Text()); a != "" {
			return a
		}
	}
	t.Fatal("the command prints no address")
	return ""
}

// read is what the command reads from a photo in a folder, as JSON.
func (b *browser) read(t *testing.T, folder, photo string) string {
	t.Helper()
	cmd := exec.Command(b.program, "read", "--json", filepath.Join(folder, photo))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	return string(out)
}
