package sshsig

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/asn1"
	"encoding/base64"
	"encoding/pem"
	"errors"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"
)

// tool is another program's path. It may be missing on a person's machine, not in CI.
func tool(t testing.TB, name string) string {
	t.Helper()
	p, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is needed to check signatures from outside", name)
	}
	if err != nil {
		t.Skipf("%s is not on this machine; the check from outside runs where it is", name)
	}
	return p
}

// testKey is a key made from a word, so that a test is the same each time.
func testKey(t testing.TB, word string) ssh.Signer {
	t.Helper()
	seed := sha256.Sum256([]byte(word))
	s, err := ssh.NewSignerFromKey(ed25519.NewKeyFromSeed(seed[:]))
	require.NoError(t, err)
	return s
}

// startAgent starts an ssh-agent of the test's own, which holds no key yet.
func startAgent(t *testing.T) {
	t.Helper()
	dir, err := os.MkdirTemp("", "agent") // a socket's name must be short
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	socket := filepath.Join(dir, "s")
	c := exec.Command(tool(t, "ssh-agent"), "-D", "-a", socket)
	require.NoError(t, c.Start())
	t.Cleanup(func() {
		_ = c.Process.Kill()
		_ = c.Wait()
	})
	require.Eventually(t, func() bool { _, err := os.Stat(socket); return err == nil }, 10*time.Second, 10*time.Millisecond)
	t.Setenv("SSH_AUTH_SOCK", socket)
}

// newKey makes a key with ssh-keygen and returns the name of its file.
func newKey(t *testing.T, kind, passphrase string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "key")
	out, err := exec.Command(tool(t, "ssh-keygen"), "-q", "-t", kind, "-N", passphrase, "-C", "anna", "-f", name).CombinedOutput()
	require.NoError(t, err, string(out))
	return name
}

// checkedByKeygen is whether ssh-keygen accepts the key's signature of a message.
func checkedByKeygen(t *testing.T, s Signer, message []byte) error {
	t.Helper()
	dir := t.TempDir()
	sig, err := s.Sign(message)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sig"), sig, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "signers"), append([]byte("anna "), ssh.MarshalAuthorizedKey(s.key.PublicKey())...), 0o600))
	c := exec.Command(tool(t, "ssh-keygen"), "-Y", "verify", "-f", "signers", "-I", "anna", "-n", Namespace, "-s", "sig")
	c.Dir, c.Stdin = dir, bytes.NewReader(message)
	out, err := c.CombinedOutput()
	t.Logf("%s", out)
	return err
}

// The agent signs for a public key and for a private key with a passphrase, and
// ssh-keygen accepts it, of each kind of key. RSA signs as rsa-sha2-512.
func TestAgentSigns(t *testing.T) {
	for _, kind := range []string{"ed25519", "rsa", "ecdsa"} {
		t.Run(kind, func(t *testing.T) {
			startAgent(t)
			name := newKey(t, kind, "")
			for _, n := range []string{name + ".pub"} {
				_, _, err := OpenKey(n, nil)
				assert.EqualError(t, err, "is a public key, and the agent does not hold it; start ssh-agent and add the key with ssh-add")
			}
			out, err := exec.Command(tool(t, "ssh-add"), "-q", name).CombinedOutput()
			require.NoError(t, err, string(out))
			require.NoError(t, exec.Command(tool(t, "ssh-keygen"), "-q", "-p", "-P", "", "-N", "secret", "-f", name).Run())
			for _, n := range []string{name, name + ".pub"} {
				s, done, err := OpenKey(n, nil)
				require.NoError(t, err)
				require.NoError(t, checkedByKeygen(t, s, vectorMessage))
				sig, err := s.Sign(vectorMessage)
				require.NoError(t, err)
				if kind == "rsa" {
					blob, err := unarmour(sig)
					require.NoError(t, err)
					assert.Contains(t, string(blob), "rsa-sha2-512")
				}
				key, err := Check(sig, vectorMessage)
				require.NoError(t, err)
				assert.Equal(t, s.Name(), key)
				done()
			}
		})
	}
}

// Without an agent, the passphrase is asked for where somebody can be asked.
func TestPassphrase(t *testing.T) {
	t.Setenv("SSH_AUTH_SOCK", filepath.Join(t.TempDir(), "none"))
	says := func(p string, err error) func() ([]byte, error) {
		return func() ([]byte, error) { return []byte(p), err }
	}
	for _, kind := range []string{"ed25519", "rsa", "ecdsa"} {
		name := newKey(t, kind, "secret")
		s, done, err := OpenKey(name, says("secret", nil))
		require.NoError(t, err)
		require.NoError(t, checkedByKeygen(t, s, vectorMessage))
		done()
		_, _, err = OpenKey(name, says("wrong", nil))
		assert.EqualError(t, err, "does not open with this passphrase; try again")
		_, _, err = OpenKey(name, says("", errors.New("none given")))
		assert.EqualError(t, err, "none given")
		_, _, err = OpenKey(name, nil)
		assert.EqualError(t, err, "needs its passphrase, and no agent answers; start ssh-agent and add the key with ssh-add")
		_, _, err = OpenKey(name+".pub", says("secret", nil))
		assert.EqualError(t, err, "is a public key, and no agent answers; start ssh-agent and add the key with ssh-add")
	}
	old := newKey(t, "rsa", "")
	require.NoError(t, exec.Command(tool(t, "ssh-keygen"), "-q", "-p", "-m", "PEM", "-P", "", "-N", "secret", "-f", old).Run())
	_, _, err := OpenKey(old, nil)
	assert.EqualError(t, err, "has a passphrase and an old form; add it with ssh-add and name its .pub file")
	s, done, err := OpenKey(old, says("secret", nil))
	require.NoError(t, err)
	defer done()
	require.NoError(t, checkedByKeygen(t, s, vectorMessage))
}

// An agent that breaks off is a line, and nothing waits.
func TestAgentThatAnswersNonsense(t *testing.T) {
	startAgent(t)
	name := newKey(t, "ed25519", "")
	require.NoError(t, exec.Command(tool(t, "ssh-add"), "-q", name).Run())
	s, done, err := OpenKey(name+".pub", nil)
	require.NoError(t, err)
	done()
	_, err = s.Sign(vectorMessage)
	assert.ErrorContains(t, err, "the key did not sign: ")
	assert.ErrorContains(t, err, "; check the key or the agent")
}

// Keys that are not used are refused in words, private and public. The numbers of
// the DSA key are of the right length and no more.
func TestKeysThatAreNotUsed(t *testing.T) {
	p := new(big.Int).SetBit(big.NewInt(7), 1023, 1)
	q := new(big.Int).SetBit(big.NewInt(5), 159, 1)
	der, err := asn1.Marshal(struct {
		V             int
		P, Q, G, Y, X *big.Int
	}{0, p, q, big.NewInt(2), big.NewInt(4), big.NewInt(2)})
	require.NoError(t, err)
	dsaPublic := ssh.Marshal(struct {
		Kind       string
		P, Q, G, Y *big.Int
	}{"ssh-dss", p, q, big.NewInt(2), big.NewInt(4)})
	skPublic := ssh.Marshal(struct{ Kind, Key, Application string }{ssh.KeyAlgoSKED25519, string(make([]byte, 32)), "ssh:"})
	skPrivate := append([]byte("openssh-key-v1\x00"), ssh.Marshal(struct {
		Cipher, KDF, Options string
		Keys                 uint32
		Public, Private      []byte
	}{"none", "none", "", 1, skPublic, make([]byte, 64)})...)
	line := func(wire []byte) []byte {
		kind := string(wire[4 : 4+wire[3]])
		return []byte(kind + " " + base64.StdEncoding.EncodeToString(wire) + " anna\n")
	}
	cert := &ssh.Certificate{Key: testKey(t, "anna").PublicKey(), CertType: ssh.UserCert, ValidPrincipals: []string{"anna"}}
	require.NoError(t, cert.SignCert(bytes.NewReader(make([]byte, 64)), testKey(t, "authority")))
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"DSA":         {pem.EncodeToMemory(&pem.Block{Type: "DSA PRIVATE KEY", Bytes: der}), "is a DSA key"},
		"DSA public":  {line(dsaPublic), "is a DSA key"},
		"sk":          {pem.EncodeToMemory(&pem.Block{Type: "OPENSSH PRIVATE KEY", Bytes: skPrivate}), "is a key in a security device (sk), which is not used here; sign with a key of ssh-keygen -t ed25519"},
		"sk public":   {line(skPublic), "is a key in a security device (sk)"},
		"certificate": {ssh.MarshalAuthorizedKey(cert), "is a certificate; name the key itself"},
		"none":        {[]byte("no key"), "is not an SSH key; name a private key"},
		"empty":       {nil, "is empty"},
		"broken":      {pem.EncodeToMemory(&pem.Block{Type: "OPENSSH PRIVATE KEY", Bytes: skPrivate[:40]}), "is not an SSH key"},
	} {
		file := filepath.Join(t.TempDir(), "key")
		require.NoError(t, os.WriteFile(file, c.data, 0o600))
		_, _, err := OpenKey(file, nil)
		assert.ErrorContains(t, err, c.want, name)
	}
	_, _, err = OpenKey(filepath.Join(t.TempDir(), "nowhere"), nil)
	assert.Error(t, err)
	_, _, err = OpenKey(t.TempDir(), nil)
	assert.ErrorContains(t, err, "folder")
}
