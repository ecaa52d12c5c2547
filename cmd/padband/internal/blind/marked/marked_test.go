package marked

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry/photo"
)

func demoFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("../../../../../testdata/demo/" + name)
	require.NoError(t, err)
	return data
}

// What cannot be used is left out and named, and the rest is called.
func TestFindLeavesOut(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, data []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o600))
	}
	for _, name := range []string{"kitchen.jpg", "kitchen.marks.json", "cellar.jpg", "cellar.marks.json"} {
		put(name, demoFile(t, name))
	}
	put("lone.marks.json", []byte(`{}`))
	put("two.marks.json", []byte(`{}`))
	put("two.jpg", []byte("x"))
	put("two.PNG", []byte("x"))
	put("bad.marks.json", []byte(`{"colour": 1}`))
	put("bad.jpg", []byte("x"))
	put("chartless.marks.json", []byte(`{}`))
	put("chartless.jpg", []byte("x"))
	put("half.jpg", []byte("x"))
	half := strings.Replace(string(demoFile(t, "cellar.marks.json")), "[[611.6, 309], [1838, 370.4], [1821.2, 1212.3], [574.9, 1172.4]]", "[]", 1)
	put("half.marks.json", []byte(half))
	put("unseen.jpg", []byte("x"))
	put("unseen.marks.json", []byte(strings.Replace(string(demoFile(t, "cellar.marks.json")), `"regions"`, `"checked": false, "regions"`, 1)))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "rec"), 0o755))
	put(filepath.Join("rec", "bagit.txt"), []byte("x"))
	photos, left, err := Find(dir, photo.Limits{})
	require.NoError(t, err)
	assert.Len(t, photos, 2)
	require.Len(t, left, 7)
	for i, want := range []string{
		"bad.jpg: ", "chartless.jpg: the marks name no chart", "half: ", "lone.marks.json: there is no photo beside these marks",
		"rec: data/photo/ holds 0 files", "two.marks.json: these marks may be for two.PNG or two.jpg",
		"unseen: nobody has looked at the outlines that the program found; look at them on the marking page",
	} {
		assert.True(t, strings.HasPrefix(left[i], want), "%q: %q", want, left[i])
	}
}

func TestFindWithoutPhotos(t *testing.T) {
	dir := t.TempDir()
	var none *NoPhotosError
	_, _, err := Find(dir, photo.Limits{})
	require.ErrorAs(t, err, &none)
	assert.EqualError(t, err, dir+": there is no marked photo and no record in it")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "lone.marks.json"), []byte("{}"), 0o600))
	_, _, err = Find(dir, photo.Limits{})
	assert.EqualError(t, err, dir+": there is no marked photo and no record in it that can be used (lone.marks.json: there is no photo beside these marks; put it there)")
	_, _, err = Find(filepath.Join(dir, "lone.marks.json"), photo.Limits{})
	assert.ErrorContains(t, err, "is no folder; name the folder of marked photos")
}
