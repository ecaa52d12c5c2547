package page_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stamped are the times in what the page sends.
type stamped struct {
	Marks struct {
		Sample struct{ Taken, Dipped string }
	}
}

// stampsByMouse stamps the dip of a photo that says itself when it was taken.
func stampsByMouse(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	inNewfoundland(p)
	p.next("All is marked")
	p.push("#sample-part > summary")
	assert.Equal(t, "Photo taken at 2026-11-14 08:41:10-05:00, as the photo itself says.", p.text("#taken-own"))
	assert.False(t, eval[bool](p, `document.querySelector('[name="taken"]').checkVisibility()`), "its own time counts")
	assert.Contains(t, p.text("#moments"), "45 to 60 s after the dip, for nitrate, total hardness and pH")
	before := time.Now()
	p.push("#dipped-now")
	p.until(`document.querySelector('[name="dipped"]').value > '2026-11-15'`)
	isNow(t, before, sent[stamped](p, "/reading").Marks.Sample.Dipped)
	p.push("#save")
	p.push("#ask-yes")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	saved := sent[stamped](p, "/save").Marks.Sample.Dipped
	isNow(t, before, saved)
	assert.Contains(t, fileText(t, filepath.Join(folder, "kitchen.marks.json")), saved)
}

// stampsByKeys stamps dip and photo, where the photo does not say its time,
// without a mouse.
func stampsByKeys(t *testing.T, b *browser) {
	folder := newFolder(t)
	located(t, folder)
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	inNewfoundland(p)
	p.next("All is marked")
	p.tabTo("#sample-part > summary")
	p.key(kb.Enter)
	assert.False(t, eval[bool](p, `document.getElementById('taken-own').checkVisibility()`))
	before := time.Now()
	p.tabTo("#taken-now")
	p.key(kb.Enter)
	p.tabTo("#dipped-now")
	p.key(kb.Enter)
	p.quiet()
	s := sent[stamped](p, "/reading").Marks.Sample
	isNow(t, before, s.Taken)
	isNow(t, before, s.Dipped)
}

// inNewfoundland sets the page's clock to a zone that no machine of a test has by
// chance, with half an hour in its offset (IANA time zone database, from memory).
func inNewfoundland(p *tab) {
	p.t.Helper()
	send(p, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "America/St_Johns"})
}

// isNow checks a stamp of a moment since before.
func isNow(t *testing.T, before time.Time, stamp string) {
	t.Helper()
	at, err := time.Parse(time.RFC3339, stamp)
	require.NoError(t, err)
	assert.WithinRange(t, at, before.Add(-time.Second), time.Now())
	assert.True(t, strings.HasSuffix(stamp, "-03:30") || strings.HasSuffix(stamp, "-02:30"), stamp)
}
