package record

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/stamp"
)

// authority is a timestamp authority of the test's own: openssl in a folder.
type authority struct {
	t   *testing.T
	dir string
}

func newAuthority(t *testing.T) authority {
	a := authority{t, t.TempDir()}
	require.NoError(t, os.WriteFile(filepath.Join(a.dir, "c.cnf"), []byte(`[req]
distinguished_name=dn
x509_extensions=ext
prompt=no
[dn]
CN=invented authority
[ext]
extendedKeyUsage=critical,timeStamping
[tsa]
default_tsa=t
[t]
serial=serial
signer_digest=sha256
default_policy=1.2.3.4
digests=sha256,sha512,sha1
`), 0o600))
	a.run("req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-keyout", "k.pem", "-out", "c.pem", "-config", "c.cnf")
	return a
}

func (a authority) run(args ...string) string {
	a.t.Helper()
	c := exec.Command(tool(a.t, "openssl"), args...)
	c.Dir = a.dir
	out, err := c.CombinedOutput()
	require.NoError(a.t, err, string(out))
	return string(out)
}

// stamp is the reply for a file.
func (a authority) stamp(of, alg string) []byte {
	a.t.Helper()
	a.run("ts", "-query", "-data", of, "-"+alg, "-cert", "-out", "q")
	a.run("ts", "-reply", "-config", "c.cnf", "-queryfile", "q", "-signer", "c.pem", "-inkey", "k.pem", "-out", "r")
	data, err := os.ReadFile(filepath.Join(a.dir, "r"))
	require.NoError(a.t, err)
	return data
}

func TestStampOfThisRecordOnly(t *testing.T) {
	dir, a := keep(t, nil), newAuthority(t)
	tag := filepath.Join(dir, bag.TagManifest)
	_, err := AddStamp(dir, a.stamp(filepath.Join(dir, "bagit.txt"), "sha512"), stamp.Check)
	assert.ErrorContains(t, err, "stamp of something else")
	_, err = AddStamp(dir, a.stamp(filepath.Join(keep(t, testKey(t, "anna")), bag.TagManifest), "sha512"), stamp.Check)
	assert.ErrorContains(t, err, "stamp of something else", "of another record")
	_, err = AddStamp(dir, a.stamp(tag, "sha1"), stamp.Check)
	assert.ErrorContains(t, err, "a hash that is not read here")
	_, err = AddStamp(dir, []byte("no stamp"), stamp.Check)
	assert.ErrorContains(t, err, "is not a timestamp reply")
	assert.NoFileExists(t, filepath.Join(dir, StampPath))

	before := time.Now().Add(-2 * time.Second)
	at, err := AddStamp(dir, a.stamp(tag, "sha256"), stamp.Check)
	require.NoError(t, err)
	assert.WithinRange(t, at, before, time.Now().Add(2*time.Second), "the authority's clock is this machine's")
	res := verify(t, dir, nil)
	assert.Zero(t, res.Faults(), lines(res.Findings))
	said := at.UTC().Format(time.RFC3339)
	assert.Contains(t, lines(res.Findings), "remark: "+StampPath+": is for this record and says "+said+"; the authority's signature and certificates were not checked here")
	assert.NotContains(t, lines(res.Findings), "one of the two clocks")
	var exists *ExistsError
	_, err = AddStamp(dir, a.stamp(tag, "sha512"), stamp.Check)
	assert.ErrorAs(t, err, &exists)

	// By hand, as the package's documentation says.
	a.run("ts", "-verify", "-data", tag, "-in", filepath.Join(dir, StampPath), "-CAfile", "c.pem")
	text := a.run("ts", "-reply", "-in", filepath.Join(dir, StampPath), "-text")
	assert.Contains(t, text, at.UTC().Format("Jan _2 15:04:05 2006 GMT"), "openssl reads the same time")

	require.NoError(t, os.WriteFile(filepath.Join(dir, StampPath), a.stamp(filepath.Join(dir, "bagit.txt"), "sha512"), 0o644))
	assert.Equal(t, 1, verify(t, dir, nil).Faults())
}

// A record stamped before its photo was taken, by the photo's own clock.
func TestStampBeforeThePhoto(t *testing.T) {
	a := newAuthority(t)
	next := time.Now().UTC().Add(time.Hour)
	for _, c := range []struct {
		taken    string
		remarked bool
	}{
		{next.Format(time.RFC3339), true},
		{next.Add(-2 * time.Hour).Format(time.RFC3339), false},
		{next.Format("2006-01-02T15:04:05"), false}, // without an offset: it may be of the far east
		{next.Add(14 * time.Hour).Format("2006-01-02T15:04:05"), true},
		{"", false},
	} {
		x := content()
		x.Reading = []byte(strings.Replace(keptReading, `"sha256"`, `"taken":"`+c.taken+`","sha256"`, 1))
		files, err := Make(x, nil)
		require.NoError(t, err)
		parent := t.TempDir()
		require.NoError(t, inFolder(parent, "rec", files))
		dir := filepath.Join(parent, "rec")
		_, err = AddStamp(dir, a.stamp(filepath.Join(dir, bag.TagManifest), "sha512"), stamp.Check)
		require.NoError(t, err)
		assert.Equal(t, c.remarked, strings.Contains(lines(verify(t, dir, nil).Findings), "before the photo was taken by its own time, "+c.taken+": one of the two clocks was wrong"), c.taken)
	}
}

func TestStampOfNoFolder(t *testing.T) {
	parent := t.TempDir()
	require.NoError(t, inZipFile(parent, "rec", made(t, nil)))
	name := filepath.Join(parent, "rec.zip")
	before, err := os.ReadFile(name)
	require.NoError(t, err)
	_, err = AddStamp(name, []byte("x"), stamp.Check)
	assert.EqualError(t, err, "is no folder, and a stamp goes into a record's folder; unpack the zip file, stamp the folder, and zip that again")
	after, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	_, err = AddStamp(filepath.Join(parent, "nowhere"), []byte("x"), stamp.Check)
	assert.ErrorContains(t, err, "is not there")
	_, err = AddStamp(parent, []byte("x"), stamp.Check)
	assert.ErrorContains(t, err, "is no record's folder")
}
