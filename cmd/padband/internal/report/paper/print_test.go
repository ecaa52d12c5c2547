package paper_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	tabs "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/history/difference"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/report/sheet"
)

// onPaper is a page to print, and the sheets that it takes; 0 where no number is
// promised, but the one that its heads say.
type onPaper struct {
	name   string
	html   func(t *testing.T) ([]byte, error)
	sheets int
}

// toPrint are the pages that are promised to take no more than so many sheets.
func toPrint() []onPaper {
	one := func(name string, sheets int, make func(t *testing.T) paper.Input) onPaper {
		return onPaper{name, func(t *testing.T) ([]byte, error) { return paper.Page(make(t)) }, sheets}
	}
	sealed := func(in paper.Input) paper.Input { in.Seal = paper.WholeSeal(); return in }
	return []onPaper{
		one("good", 2, func(t *testing.T) paper.Input { return paper.DemoPaper(t, "kitchen") }),
		one("sealed", 2, func(t *testing.T) paper.Input { return sealed(paper.DemoPaper(t, "kitchen")) }),
		one("unreliable", 2, func(t *testing.T) paper.Input { return paper.DemoPaper(t, "cellar") }),
		one("unreliable-sealed", 2, func(t *testing.T) paper.Input { return sealed(paper.DemoPaper(t, "cellar")) }),
		one("past", 2, func(t *testing.T) paper.Input { return paper.PastTheEnd(paper.DemoPaper(t, "kitchen")) }),
		one("worst", 2, paper.WorstPaper),
		one("worst-sealed", 2, func(t *testing.T) paper.Input { return sealed(paper.WorstPaper(t)) }),
		one("many", 0, func(t *testing.T) paper.Input { return paper.ManyPads(t) }),
		{"difference", func(t *testing.T) ([]byte, error) { return difference.Page(demoDifference(t)) }, 1},
		{"difference-doubted", func(t *testing.T) ([]byte, error) { return difference.Page(doubtedDifference(t)) }, 1},
		{"plan", func(t *testing.T) ([]byte, error) { return report.Plan(reporttest.ReadDemo(t, "kitchen").Chart, "1") }, 1},
	}
}

// TestPaperInPrint prints the pages as a browser does, on A4 and on Letter, with
// each set of fonts, and counts their sheets; shows them on a phone, where
// nothing may stick out; and sees that they ask for nothing. It needs chromium,
// which the contributor's script gets. Where PADBAND_SHOTS names a folder, what
// it prints is kept there.
func TestPaperInPrint(t *testing.T) {
	chromium := findChromium(t)
	pages := map[string][]byte{}
	for _, one := range toPrint() {
		html, err := one.html(t)
		require.NoError(t, err)
		pages[one.name] = html
	}
	eachFontSet(t, func(t *testing.T, env []string) {
		ctx := startPrinter(t, chromium, env)
		for _, one := range toPrint() {
			t.Run(one.name, func(t *testing.T) { printOne(t, ctx, one, pages[one.name]) })
		}
	})
}

func printOne(t *testing.T, ctx context.Context, one onPaper, html []byte) {
	t.Helper()
	p := openPage(t, ctx, html)
	for paper, size := range map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}} {
		pdf := p.print(size[0], size[1])
		p.keep(one.name+"-"+paper+".pdf", pdf)
		assert.Equal(t, bytes.Count(html, []byte(`<section class="paper-sheet"`)), sheetsOf(pdf), "%s: as many as the heads say", paper)
		if one.sheets > 0 {
			assert.Equal(t, one.sheets, sheetsOf(pdf), paper)
		}
	}
	for i, high := range p.sheetHeights() {
		assert.Less(t, high, 0.98*sheet.High, "sheet %d has room to spare", i+1)
	}
	for _, wide := range []int64{390, 1200} {
		p.show(wide)
		assert.LessOrEqual(t, p.width(), float64(wide), "nothing sticks out of a screen %d wide", wide)
		p.keep(fmt.Sprintf("%s-%d.png", one.name, wide), p.shot())
	}
	assert.True(t, p.whole(), "every picture is shown")
	assert.Empty(t, p.asked, "the page asks for something")
}

// findChromium is the browser's path; without one the test is left out, but not in CI.
func findChromium(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("pages printed by a browser; left out with -short")
	}
	for _, n := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(n); err == nil {
			return p
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("there is no chromium here")
	}
	t.Skip("there is no chromium here to print with; .ci/run gets one")
	return ""
}

func startPrinter(t *testing.T, chromium string, env []string) context.Context {
	t.Helper()
	root, end := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-component-update", true), chromedp.Flag("no-pings", true), chromedp.Env(env...))...)
	t.Cleanup(end)
	ctx, stop := chromedp.NewContext(root)
	t.Cleanup(stop)
	require.NoError(t, chromedp.Do(ctx), "chromium does not start")
	return ctx
}

// printer is one page in a tab of its own.
type printer struct {
	t     *testing.T
	ctx   context.Context
	asked []string // addresses other than the page's own and data:
}

func openPage(t *testing.T, root context.Context, html []byte) *printer {
	t.Helper()
	name := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(name, html, 0o600))
	p := &printer{t: t}
	ctx, end := chromedp.NewContext(root, chromedp.WithListener(func(ev any) {
		if e, ok := ev.(*network.EventRequestWillBeSent); ok && e.Request.URL != "file://"+name &&
			!regexp.MustCompile(`^data:`).MatchString(e.Request.URL) {
			p.asked = append(p.asked, e.Request.URL)
		}
	}))
	t.Cleanup(end)
	p.ctx, end = context.WithTimeout(ctx, time.Minute)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(p.ctx))
	call(p, network.Enable, network.EnableParams{})
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate("file://"+name)))
	return p
}

func call[P, R any](p *printer, command cdp.Command[P, R], params P) R {
	p.t.Helper()
	out, err := chromedp.Call(p.ctx, command, params)
	require.NoError(p.t, err)
	return out
}

func (p *printer) print(width, height float64) []byte {
	p.t.Helper()
	return call(p, tabs.PrintToPDF, tabs.PrintToPDFParams{PaperWidth: width, PaperHeight: height}).Data
}

// sheetHeights are the heights of the sheets as they are in print on paper that
// is as wide as the narrower of the two, in millimetres.
func (p *printer) sheetHeights() []float64 {
	p.t.Helper()
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	width := sheet.Wide * 96 / 25.4
	call(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: int64(width),
		Height: 900, DeviceScaleFactor: 1})
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[[]float64]("[...document.querySelectorAll('.paper-sheet')].map((s) "+
		"=> s.getBoundingClientRect().height / 96 * 25.4)"))
	require.NoError(p.t, err)
	require.NotEmpty(p.t, out)
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: ""})
	return out
}

func (p *printer) shot() []byte {
	p.t.Helper()
	all := true
	return call(p, tabs.CaptureScreenshot, tabs.CaptureScreenshotParams{CaptureBeyondViewport: &all}).Data
}

func (p *printer) show(width int64) {
	p.t.Helper()
	call(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: 900,
		DeviceScaleFactor: 1, Mobile: width < 600})
}

func (p *printer) width() float64 {
	p.t.Helper()
	w, err := chromedp.Run(p.ctx, chromedp.Evaluate[float64]("document.documentElement.scrollWidth"))
	require.NoError(p.t, err)
	return w
}

// whole is whether every picture of the page is shown.
func (p *printer) whole() bool {
	p.t.Helper()
	ok, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool]("[...document.images].every((i) => i.complete && i.naturalWidth > 0)"))
	require.NoError(p.t, err)
	return ok
}

// keep keeps what was made for the eye, where a folder for it is named.
func (p *printer) keep(name string, data []byte) {
	p.t.Helper()
	if folder := os.Getenv("PADBAND_SHOTS"); folder != "" {
		set, _, _ := strings.Cut(strings.TrimPrefix(p.t.Name(), "TestPaperInPrint/"), "/")
		require.NoError(p.t, os.WriteFile(filepath.Join(folder, set+"-"+name), data, 0o600))
	}
}

var sheet1 = regexp.MustCompile(`/Type\s*/Page\b`)

// sheetsOf counts the sheets of a PDF as the browser writes it: its page objects
// are not compressed.
func sheetsOf(pdf []byte) int { return len(sheet1.FindAll(pdf, -1)) }
