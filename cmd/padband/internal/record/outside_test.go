package record

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"
)

// A person without this program checks the record.
func TestRecordVerifiesByHand(t *testing.T) {
	dir, s := keep(t, testKey(t, "anna")), testKey(t, "anna")
	for _, alg := range []string{"sha256", "sha512"} {
		check := func() error {
			c := exec.Command(tool(t, alg+"sum"), "--strict", "-c", "manifest-"+alg+".txt", "tagmanifest-"+alg+".txt")
			c.Dir = dir
			return c.Run()
		}
		assert.NoError(t, check())
		chart := filepath.Join(dir, chartPath)
		rewrite(t, chart, func(b []byte) []byte { b[0]++; return b })
		assert.Error(t, check())
		rewrite(t, chart, func(b []byte) []byte { b[0]--; return b })
	}
	signers := filepath.Join(t.TempDir(), "signers")
	require.NoError(t, os.WriteFile(signers, append([]byte("anna "), ssh.MarshalAuthorizedKey(s.PublicKey())...), 0o600))
	tag, err := os.Open(filepath.Join(dir, TagManifest))
	require.NoError(t, err)
	defer tag.Close()
	c := exec.Command(tool(t, "ssh-keygen"), "-Y", "verify", "-f", signers, "-I", "anna", "-n", Namespace, "-s", filepath.Join(dir, SignaturePath))
	c.Stdin = tag
	out, err := c.CombinedOutput()
	assert.NoError(t, err, string(out))
}

// An authority of the test's own stamps the record with openssl.
func TestStampOfThisRecordOnly(t *testing.T) {
	openssl := tool(t, "openssl")
	dir, work := keep(t, nil), t.TempDir()
	run := func(args ...string) {
		c := exec.Command(openssl, args...)
		c.Dir = work
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	require.NoError(t, os.WriteFile(filepath.Join(work, "c.cnf"), []byte(`[req]
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
	run("req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-keyout", "k.pem", "-out", "c.pem", "-config", "c.cnf")
	stamp := func(of, alg string) []byte {
		run("ts", "-query", "-data", of, "-"+alg, "-cert", "-out", "q")
		run("ts", "-reply", "-config", "c.cnf", "-queryfile", "q", "-signer", "c.pem", "-inkey", "k.pem", "-out", "r")
		data, err := os.ReadFile(filepath.Join(work, "r"))
		require.NoError(t, err)
		return data
	}
	tag := filepath.Join(dir, TagManifest)
	for of, want := range map[string]string{filepath.Join(dir, "bagit.txt"): "stamp of something else"} {
		_, err := AddStamp(dir, stamp(of, "sha512"))
		assert.ErrorContains(t, err, want)
	}
	_, err := AddStamp(dir, stamp(tag, "sha1"))
	assert.ErrorContains(t, err, "a hash that is not read here")
	_, err = AddStamp(dir, []byte("no stamp"))
	assert.ErrorContains(t, err, "is not a timestamp reply")
	assert.NoFileExists(t, filepath.Join(dir, StampPath))

	_, err = AddStamp(dir, stamp(tag, "sha256"))
	require.NoError(t, err)
	res := verify(t, dir, nil)
	assert.Zero(t, res.Faults(), lines(res.Findings))
	assert.Contains(t, lines(res.Findings), "signature and certificates were not checked here")
	var exists *ExistsError
	_, err = AddStamp(dir, stamp(tag, "sha512"))
	assert.ErrorAs(t, err, &exists)

	require.NoError(t, os.WriteFile(filepath.Join(dir, StampPath), stamp(filepath.Join(dir, "bagit.txt"), "sha512"), 0o644))
	assert.Equal(t, 1, verify(t, dir, nil).Faults())
}
