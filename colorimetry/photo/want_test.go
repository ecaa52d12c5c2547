package photo

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

func decodeFor(t testing.TB, file []byte, want ...colorimetry.Region) *Photo {
	t.Helper()
	p, err := Decode(file, Limits{}, want...)
	require.NoError(t, err)
	return p
}

func polygonOf(t testing.TB, xy ...float64) colorimetry.Region {
	t.Helper()
	var points []colorimetry.Point
	for i := 0; i < len(xy); i += 2 {
		points = append(points, colorimetry.Point{X: xy[i], Y: xy[i+1]})
	}
	r, err := colorimetry.NewPolygon(points...)
	require.NoError(t, err)
	return r
}

func discOf(t testing.TB, x, y, radius float64) colorimetry.Region {
	t.Helper()
	r, err := colorimetry.NewCircle(colorimetry.Point{X: x, Y: y}, radius)
	require.NoError(t, err)
	return r
}

// A region that was wanted, and any in it, gives what it gives of the whole photo;
// any other gives no colour and says where.
func TestOnlyWhatIsWantedIsSampled(t *testing.T) {
	file := jpegOf(t, scene(97, 61), exifSegment(orientationBlock(6)))
	all := decodeFor(t, file)
	wide, disc := rect(t, 4, 30, 50, 40), discOf(t, 30, 15, 12)
	p := decodeFor(t, file, wide, disc)
	assert.Equal(t, []int{61, 97}, []int{p.Width, p.Height})
	assert.Equal(t, all.Facts, p.Facts)
	for _, r := range []colorimetry.Region{wide, disc, rect(t, 4, 30, 20, 40), discOf(t, 31, 15, 11), polygonOf(t, 10, 32, 50, 40, 20, 68)} {
		assert.Equal(t, mustSample(t, all, r), mustSample(t, p, r), "%v", r)
	}
	for _, r := range []colorimetry.Region{rect(t, 4, 75, 20, 20), rect(t, 3, 30, 20, 20), discOf(t, 30, 15, 12.1), rect(t, 20, 10, 20, 40)} {
		s, err := p.Sample(r)
		var unwanted *NotWantedError
		require.ErrorAs(t, err, &unwanted, "%v", r)
		oneLine(t, err, "not wanted")
		assert.Zero(t, s)
	}
	_, err := p.Sample(rect(t, 4, 75, 20.5, 20))
	assert.EqualError(t, err, "the region from (4.0, 75.0) to (24.5, 95.0) was left out when the photo was decoded: decode the photo with it, or whole")
}

// What is wrong with a region is said as ever, whether or not it was wanted, and
// no region that breaks a rule makes a photo whole.
func TestWantedRegionsThatCannotBe(t *testing.T) {
	file := pngOf(t, scene(97, 61))
	bent := colorimetry.Region{Shape: colorimetry.Polygon, Points: []colorimetry.Point{{X: 10, Y: 10}, {X: 40, Y: 40}, {X: 40, Y: 10}, {X: 10, Y: 40}}}
	beyond := rect(t, 80, 40, 30, 30)
	for _, p := range []*Photo{decodeFor(t, file, bent, beyond), decodeFor(t, file)} {
		_, err := p.Sample(bent)
		var broken *colorimetry.RegionError
		assert.ErrorAs(t, err, &broken)
		_, err = p.Sample(beyond)
		var outside *OutsideError
		assert.ErrorAs(t, err, &outside)
	}
	var unwanted *NotWantedError
	_, err := decodeFor(t, file, bent).Sample(rect(t, 15, 15, 20, 20))
	assert.ErrorAs(t, err, &unwanted)
	_, err = decodeFor(t, file, beyond).Sample(rect(t, 80, 40, 17, 21))
	assert.NoError(t, err, "what of a region lies in the photo was wanted")
}

// A caller that changes its region afterwards changes nothing of what was wanted.
func TestWantedRegionsAreTheCallersNoMore(t *testing.T) {
	mine := rect(t, 5, 5, 30, 30)
	p := decodeFor(t, pngOf(t, scene(97, 61)), mine)
	mine.Points[0].X = 60
	_, err := p.Sample(mine)
	var unwanted *NotWantedError
	assert.ErrorAs(t, err, &unwanted)
}

// No picture is made of what was not wanted.
func TestPicturesOfWhatIsWanted(t *testing.T) {
	all := decodeFor(t, jpegOf(t, scene(480, 360)))
	part := *all
	part.want = wanted([]colorimetry.Region{rect(t, 180, 140, 100, 80)})
	assert.Equal(t, all.Image(image.Rect(180, 140, 280, 220)), part.Image(image.Rect(180, 140, 280, 220)))
	require.NoError(t, part.Wants(image.Rect(180, 140, 280, 220)))
	for _, area := range []image.Rectangle{image.Rect(0, 0, 480, 360), image.Rect(179, 140, 200, 160), image.Rect(300, 10, 310, 20)} {
		assert.True(t, part.Image(area).Bounds().Empty(), "%v", area)
		assert.False(t, all.Image(area).Bounds().Empty())
		var unwanted *NotWantedError
		require.ErrorAs(t, part.Wants(area), &unwanted)
		oneLine(t, part.Wants(area), "not wanted")
	}
	part.want = wanted([]colorimetry.Region{rect(t, 0, 0, 480, 360)})
	assert.Equal(t, all.Image(image.Rect(-5, -5, 500, 500)), part.Image(image.Rect(-5, -5, 500, 500)), "all of it in one region")
}

// regionsOf are regions of many forms in a photo of w by h pixels: squares, thin
// strips, discs, tilted bars and hooks.
func regionsOf(t *testing.T, w, h float64) (out []colorimetry.Region) {
	t.Helper()
	rng := rand.New(rand.NewPCG(11, 2))
	out = append(out, rect(t, 0, 0, w, h), rect(t, 0, 0, w, 11), rect(t, 0, h/2, w, 10), rect(t, 3, 3, 12, 12), discOf(t, w/2, h/2, h/2))
	for range 40 {
		x, y := rng.Float64()*w, rng.Float64()*h
		long, wide := 12+rng.Float64()*w/2, 12+rng.Float64()*20
		sin, cos := math.Sincos(rng.Float64() * 2 * math.Pi)
		at := func(u, v float64) colorimetry.Point {
			return colorimetry.Point{X: x + u*cos - v*sin, Y: y + u*sin + v*cos}
		}
		bar, err := colorimetry.NewPolygon(at(0, 0), at(long, 0), at(long, wide), at(0, wide))
		require.NoError(t, err)
		hook, err := colorimetry.NewPolygon(at(0, 0), at(long+wide, 0), at(long+wide, 3*wide), at(long, 3*wide), at(long, wide), at(0, wide))
		require.NoError(t, err)
		for _, r := range []colorimetry.Region{rect(t, x, y, long, wide), rect(t, x, y, wide, wide), discOf(t, x, y, wide), bar, hook} {
			if r.Inside(int(w), int(h)) {
				out = append(out, r)
			}
		}
	}
	return out
}

// No pixel is read whose centre lies farther from a region than is promised, and
// the promise is no wider than some region needs.
func TestReadsStayWithinReach(t *testing.T) {
	for _, orientation := range []int{1, 6, 7} {
		const w, h = 300, 200
		card := image.NewNRGBA(image.Rect(0, 0, w, h))
		fill(card, card.Rect, padColour)
		file := jpegOf(t, storedFor(card, orientation), exifSegment(orientationBlock(orientation)))
		widest, regions := math.Inf(-1), regionsOf(t, w, h)
		require.Greater(t, len(regions), 50)
		for _, r := range regions {
			p := decodeFor(t, file, r)
			require.Equal(t, []int{w, h}, []int{p.Width, p.Height})
			read, seen, wide := p.read, make([]bool, w*h), p.Facts.StoredWidth
			p.read = func(x, y int) pixel {
				seen[y*wide+x] = true
				return read(x, y)
			}
			mustSample(t, p, r)
			far := 0.0
			for v := range h {
				for u := range w {
					centre := colorimetry.Point{X: float64(u) + 0.5, Y: float64(v) + 0.5}
					if x, y := p.turn.stored(u, v); seen[y*wide+x] && !r.Contains(centre) {
						far = math.Max(far, -r.DistanceInside(centre))
					}
				}
			}
			assert.LessOrEqual(t, far, reach(r), "%v", r)
			widest = math.Max(widest, far-reach(r))
		}
		assert.Greater(t, widest, -3.0, "the promise is too wide by %.1f pixels", -widest)
	}
}

// The size is that of the photo decoded, however it was stored.
func TestSizeIsTheUprightPhotos(t *testing.T) {
	files := map[string][]byte{"PNG": pngOf(t, scene(97, 61))}
	for n := 1; n <= 8; n++ {
		files[fmt.Sprint("JPEG ", n)] = jpegOf(t, scene(97, 61), exifSegment(orientationBlock(n)))
		files[fmt.Sprint("TIFF ", n)] = rgbTIFF(scene(24, 20), short(274, uint16(n)))
		files[fmt.Sprint("WebP ", n)] = losslessWebP(scene(24, 20), nil, riffChunk("EXIF", orientationBlock(n)))
	}
	files["HEIC"] = heicWith(t, "corners.heic", rotateProp(1), mirrorProp(0))
	files["HEIC, cut"] = heicWith(t, "corners.heic", cutProp(30, 1, 20, 1, 40, 1, 20, 1), rotateProp(3))
	for name, file := range files {
		p, err := Decode(file, Limits{HEIC: emptyDecoder})
		require.NoError(t, err, name)
		w, h, err := Size(file, Limits{})
		require.NoError(t, err, name)
		assert.Equal(t, []int{p.Width, p.Height}, []int{w, h}, name)
	}
}

// What keeps a photo from being decoded before its pixels keeps it from having a
// size, in the same words; nothing else does.
func TestSizeOfWhatIsRefused(t *testing.T) {
	small, narrow := Limits{Pixels: 97*61 - 1}, Limits{Bytes: 100}
	refused, told := 0, 0
	for _, file := range [][]byte{jpegOf(t, scene(97, 61)), pngOf(t, scene(97, 61)), losslessWebP(scene(24, 20), nil, nil), rgbTIFF(scene(24, 20)), heicWith(t, "corners.heic")} {
		for _, limits := range []Limits{{}, small, narrow} {
			limits.HEIC = emptyDecoder
			for n := range len(file) {
				if n > 600 && n%97 != 0 {
					continue
				}
				_, _, err := Size(file[:n], limits)
				_, decoding := Decode(file[:n], limits)
				if decoding != nil {
					refused++
				}
				if err != nil {
					told++
					assert.Equal(t, decoding, err, "%d bytes", n)
				}
			}
		}
	}
	assert.Greater(t, told, 1000)
	assert.Greater(t, refused, told, "some are broken in their pixels alone")
}
