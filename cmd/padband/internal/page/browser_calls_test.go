package page_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/chromedp/cdproto/cdp"
)

// call is one request of the page.
type call struct {
	id     network.RequestID
	method string
	url    string
	body   []byte
	status int64
	done   bool
	failed bool
}

// calls notes every request of a tab, and what its console says.
type calls struct {
	mu      sync.Mutex
	byID    map[network.RequestID]*call
	all     []*call
	lastAt  time.Time
	console []string
	asks    int // dialogs of the browser itself
}

func (c *calls) take(ev any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		one := &call{id: e.RequestID, method: e.Request.Method, url: e.Request.URL}
		for _, part := range e.Request.PostDataEntries {
			one.body = append(one.body, part.Bytes...)
		}
		c.byID[e.RequestID], c.all, c.lastAt = one, append(c.all, one), time.Now()
	case *network.EventResponseReceived:
		if one := c.byID[e.RequestID]; one != nil {
			one.status = e.Response.Status
		}
	case *network.EventLoadingFinished:
		c.end(e.RequestID, false)
	case *network.EventLoadingFailed:
		c.end(e.RequestID, true)
	case *page.EventJavascriptDialogOpening:
		c.asks++
	case *runtime.EventExceptionThrown:
		c.console = append(c.console, e.ExceptionDetails.Text+" "+described(e.ExceptionDetails.Exception))
	case *cdplog.EventEntryAdded:
		if e.Entry.Level == cdplog.EntryLevelError && e.Entry.Source != cdplog.EntrySourceNetwork {
			c.console = append(c.console, e.Entry.Text)
		}
	}
}

func described(o *runtime.RemoteObject) string {
	if o == nil {
		return ""
	}
	return o.Description
}

func (c *calls) end(id network.RequestID, failed bool) {
	if one := c.byID[id]; one != nil {
		one.done, one.failed, c.lastAt = true, failed, time.Now()
	}
}

// asked is how often the browser itself has asked something.
func (c *calls) asked() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.asks
}

// list are the calls so far to addresses that hold some words.
func (c *calls) list(words string) (out []call) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, one := range c.all {
		if strings.Contains(one.url, words) {
			out = append(out, *one)
		}
	}
	return out
}

// quiet waits until nothing is under way: no delay or call of the page's scripts,
// and no picture.
func (p *tab) quiet() {
	p.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if eval[bool](p, `document.readyState === 'complete' && watched.rests()`) && p.calls.rest() {
			return
		}
	}
	require.FailNow(p.t, "the page never rests")
}

// rest is whether all calls ended a little while ago: what came of them, such as
// a picture, has had its time.
func (c *calls) rest() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, one := range c.all {
		if !one.done && !strings.HasPrefix(one.url, "data:") {
			return false
		}
	}
	return time.Since(c.lastAt) > 100*time.Millisecond
}

// sent is the body of the page's last call of a kind.
func sent[T any](p *tab, kind string) (out T) {
	p.t.Helper()
	p.quiet()
	all := p.calls.list(kind)
	require.NotEmpty(p.t, all, "no call to %s", kind)
	require.NoError(p.t, json.Unmarshal(all[len(all)-1].body, &out))
	return out
}

// reading is the server's answer that the page shows now.
type reading struct {
	JSON     string `json:"json"`
	HTML     string `json:"html"`
	Say      string `json:"say"`
	Complete bool   `json:"complete"`
	Placed   []mark `json:"placed"`
}

func (p *tab) reading() (out reading) {
	p.t.Helper()
	p.quiet()
	all := p.calls.list("/reading")
	require.NotEmpty(p.t, all, "nothing was read")
	last := all[len(all)-1]
	require.False(p.t, last.failed)
	answer := send(p, network.GetResponseBody, network.GetResponseBodyParams{RequestID: last.id})
	require.EqualValues(p.t, 200, last.status, string(answer.Body))
	require.NoError(p.t, json.Unmarshal(answer.Body, &out))
	return out
}

func send[P, R any](p *tab, command cdp.Command[P, R], params P) R {
	p.t.Helper()
	out, err := chromedp.Call(p.ctx, command, params)
	require.NoError(p.t, err)
	return out
}

// shot keeps a picture of the page for the eye, where a folder for it is named.
func (p *tab) shot(name string) {
	folder := os.Getenv("PADBAND_SHOTS")
	if folder == "" {
		return
	}
	png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if assert.NoError(p.t, err) {
		file := strings.Map(plainRune, p.t.Name()+"-"+name) + ".png"
		assert.NoError(p.t, os.WriteFile(filepath.Join(folder, file), png, 0o644))
	}
}

func plainRune(r rune) rune {
	if strings.ContainsRune("/ ", r) {
		return '-'
	}
	return r
}
