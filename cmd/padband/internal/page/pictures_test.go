package page

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cornered is a JPEG of unequal sides whose upright corners are red, green,
// blue and grey from the top left clockwise, stored as the orientation asks.
func cornered(t *testing.T, orientation uint16) []byte {
	t.Helper()
	const w, h = 160, 96
	at := func(x, y int) color.Color {
		switch {
		case x < 48 && y < 32:
			return color.RGBA{220, 30, 30, 255}
		case x >= 112 && y < 32:
			return color.RGBA{30, 180, 40, 255}
		case x >= 112 && y >= 64:
			return color.RGBA{30, 60, 200, 255}
		case x < 48 && y >= 64:
			return color.RGBA{110, 110, 110, 255}
		}
		return color.RGBA{240, 240, 240, 255}
	}
	// Where the stored pixel (x, y) is shown, CIPA DC-008, tag 0x0112.
	shown := map[uint16]func(x, y int) (int, int){
		1: func(x, y int) (int, int) { return x, y },
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		3: func(x, y int) (int, int) { return w - 1 - x, h - 1 - y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return w - 1 - y, x },
		7: func(x, y int) (int, int) { return w - 1 - y, h - 1 - x },
		8: func(x, y int) (int, int) { return y, h - 1 - x },
	}[orientation]
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation > 4 {
		m = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			m.Set(x, y, at(shown(x, y)))
		}
	}
	return tagged(t, m, orientation)
}

// tagged is the picture as a JPEG with an Exif block that holds its orientation.
func tagged(t *testing.T, m image.Image, orientation uint16) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}))
	exif := append([]byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01"), byte(orientation>>8), byte(orientation), 0, 0, 0, 0, 0, 0)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2))
	return bytes.Join([][]byte{b.Bytes()[:2], segment, exif, b.Bytes()[2:]}, nil)
}

func (r *run) picture(path string) image.Image {
	r.t.Helper()
	status, body := r.get(path)
	require.Equal(r.t, http.StatusOK, status, "%s", body)
	m, err := jpeg.Decode(bytes.NewReader(body))
	require.NoError(r.t, err)
	return m
}

func near(t *testing.T, want, got color.Color, what string) {
	t.Helper()
	r1, g1, b1, _ := want.RGBA()
	r2, g2, b2, _ := got.RGBA()
	for i, d := range []int{int(r1) - int(r2), int(g1) - int(g2), int(b1) - int(b2)} {
		assert.InDelta(t, 0, d>>8, 12, "%s, channel %d", what, i)
	}
}

// One picture stored in all eight orientations has one preview and one part,
// upright, whatever its tag: the page never turns it a second time.
func TestPreviewsOfAllOrientationsAreAlike(t *testing.T) {
	for o := uint16(1); o <= 8; o++ {
		r := start(t)
		status, body := r.post("api/photos?name=o.jpg", cornered(t, o))
		i := ok[PhotoInfo](t, status, body)
		require.Equal(t, [4]int{160, 96, 160, 96}, [4]int{i.Width, i.Height, i.Preview.Width, i.Preview.Height}, "tag %d", o)
		for what, m := range map[string]image.Image{"preview": r.picture("api/photos/1/preview"), "part": r.picture("api/photos/1/part?x=0&y=0&w=160&h=96&to=160")} {
			require.Equal(t, image.Rect(0, 0, 160, 96), m.Bounds(), "%s, tag %d", what, o)
			near(t, color.RGBA{220, 30, 30, 255}, m.At(16, 16), what)
			near(t, color.RGBA{30, 180, 40, 255}, m.At(144, 16), what)
			near(t, color.RGBA{30, 60, 200, 255}, m.At(144, 80), what)
			near(t, color.RGBA{110, 110, 110, 255}, m.At(16, 80), what)
		}
		_, data := r.get("api/photos/1/preview")
		assert.NotContains(t, string(data), "Exif", "a tag left in would turn it again")
	}
}

// A photo of 50 megapixels is shown in under three, and its parts are at full
// detail: a pattern of single pixels, which no smaller picture could hold.
func TestFiftyMegapixels(t *testing.T) {
	if testing.Short() {
		t.Skip("a large photo; left out with -short")
	}
	const w, h = 8160, 6144
	m := image.NewGray(image.Rect(0, 0, w, h))
	for k := range m.Pix {
		m.Pix[k] = 200
	}
	for y := 5000; y < 5064; y++ {
		for x := 7000; x < 7064; x++ {
			m.Pix[y*m.Stride+x] = uint8(20 + 215*(x%2))
		}
	}
	for y := 3000; y < 3300; y++ {
		for x := 7400; x < 7700; x++ {
			m.Pix[y*m.Stride+x] = 30
		}
	}
	r := start(t)
	status, body := r.post("api/photos?name=big.jpg", tagged(t, m, 1))
	i := ok[PhotoInfo](t, status, body)
	assert.Equal(t, [2]int{w, h}, [2]int{i.Width, i.Height})
	p := r.picture("api/photos/1/preview").Bounds()
	assert.Equal(t, [2]int{i.Preview.Width, i.Preview.Height}, [2]int{p.Dx(), p.Dy()})
	assert.Less(t, p.Dx()*p.Dy(), 3_000_000)
	assert.Greater(t, p.Dx()*p.Dy(), 2_000_000)
	assert.InDelta(t, float64(w)/h, float64(p.Dx())/float64(p.Dy()), 0.002)
	part := r.picture("api/photos/1/part?x=7016&y=5016&w=32&h=32&to=32")
	for x := range 32 {
		near(t, color.Gray{uint8(20 + 215*(x%2))}, part.At(x, 16), "a single pixel")
	}
	large := r.picture("api/photos/1/part?x=3960&y=0&w=4200&h=6144&to=420") // so large that it is thinned first
	for x := 330; x < 390; x++ {                                            // the dark block is from 344 to 374
		if want := uint8(200); x < 342 || x > 375 {
			near(t, color.Gray{want}, large.At(x, 315), "beside the block")
		} else if x > 345 && x < 372 {
			near(t, color.Gray{30}, large.At(x, 315), "in the block")
		}
	}
}

func TestPartsAreCutToThePhoto(t *testing.T) {
	r := start(t)
	status, body := r.post("api/photos?name=o.jpg", cornered(t, 1))
	ok[PhotoInfo](t, status, body)
	for query, want := range map[string][2]int{
		"x=10&y=10&w=40&h=20&to=80":        {80, 40},
		"x=-40&y=-40&w=80&h=80&to=40":      {40, 40},
		"x=150&y=90&w=100&h=100&to=20":     {20, 12},
		"x=10.4&y=10.4&w=1.2&h=1.2&to=9":   {9, 9},
		"x=0&y=0&w=1e300&h=1e300&to=1e300": {1200, 720},
		"x=0&y=0&w=1.5&h=96&to=1200":       {1200, 4800},
		"x=0&y=0&w=160&h=96&to=-5":         {1, 1},
	} {
		b := r.picture("api/photos/1/part?" + query).Bounds()
		assert.Equal(t, want, [2]int{b.Dx(), b.Dy()}, query)
	}
	for _, query := range []string{"", "x=a&y=0&w=1&h=1&to=1", "x=NaN&y=0&w=9&h=9&to=9", "x=0&y=0&w=Inf&h=9&to=9", "x=160&y=0&w=9&h=9&to=9", "x=5&y=5&w=-3&h=9&to=9", "x=5&y=5&w=0.2&h=9&to=9"} {
		status, body := r.get("api/photos/1/part?" + query)
		refused(t, http.StatusBadRequest, status, body)
	}
	part := r.picture("api/photos/1/part?x=112&y=64&w=48&h=32&to=96")
	near(t, color.RGBA{30, 60, 200, 255}, part.At(4, 4), "the part begins where it was asked to")
}

// A click in the middle of a pad of the demo photo finds its outline, near the
// mark that the demo's own maker put there.
func TestEdgeOfAPad(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.post("api/photos/1/edge", map[string]float64{"x": 372, "y": 458})
	found := ok[struct{ Polygon [][2]float64 }](t, status, body)
	require.Len(t, found.Polygon, 4)
	for i, want := range [][2]float64{{334.8, 423}, {409, 420.8}, {409.2, 492.4}, {336, 493.9}} { // testdata/demo/kitchen.marks.json
		assert.InDelta(t, want[0], found.Polygon[i][0], 12)
		assert.InDelta(t, want[1], found.Polygon[i][1], 12)
	}
	status, body = r.post("api/photos/1/edge", map[string]float64{"x": -5, "y": 2})
	assert.Equal(t, "no clear edge here; draw a box instead", refused(t, http.StatusUnprocessableEntity, status, body).Error)
	status, body = r.post("api/photos/1/edge", map[string]any{"x": 5, "y": 2, "colour": []int{1, 2, 3}})
	refused(t, http.StatusBadRequest, status, body)
}

// The page shows and marks; it measures nothing. No script reads a pixel, calls
// another place than its own server, or writes style or script into the page.
func TestScriptsMeasureNothing(t *testing.T) {
	reads := regexp.MustCompile(`(?i)canvas|getImageData|createImageBitmap|ImageDecoder|VideoFrame|webgl|readPixels|EyeDropper`)
	outside := regexp.MustCompile(`https?://|//[a-z]+\.|WebSocket|EventSource|sendBeacon|importScripts`)
	inline := regexp.MustCompile(`(?i)\bstyle\s*=|\son\w+\s*=\s*"|<script>|<style|innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function`)
	seen := 0
	require.NoError(t, fs.WalkDir(embedded, "web", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(embedded, name)
		require.NoError(t, err)
		seen++
		text := strings.ReplaceAll(string(data), "http://www.w3.org/2000/svg", "") // a name, not an address
		for _, bad := range []*regexp.Regexp{reads, outside, inline} {
			if bad == reads && strings.HasSuffix(name, ".css") {
				continue // Canvas is a colour of the system there
			}
			assert.Empty(t, bad.FindString(text), name)
		}
		return nil
	}))
	assert.Greater(t, seen, 10)
}
