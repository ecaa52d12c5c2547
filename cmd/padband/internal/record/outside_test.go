package record

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
)

// A person without this program checks the record.
func TestRecordVerifiesByHand(t *testing.T) {
	dir := keep(t, testKey(t, "anna"))
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
	require.NoError(t, os.WriteFile(signers, signersLine(t, "anna", "anna"), 0o600))
	tag, err := os.Open(filepath.Join(dir, bag.TagManifest))
	require.NoError(t, err)
	defer tag.Close()
	c := exec.Command(tool(t, "ssh-keygen"), "-Y", "verify", "-f", signers, "-I", "anna", "-n", sshsig.Namespace, "-s", filepath.Join(dir, SignaturePath))
	c.Stdin = tag
	out, err := c.CombinedOutput()
	assert.NoError(t, err, string(out))
}
