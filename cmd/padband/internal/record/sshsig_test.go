package record

import (
	"bytes"
	"encoding/base64"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"
)

// A signature made by ssh-keygen of OpenSSH 9.2p1 with a fresh Ed25519 key, over
// "strip check message" and a line break, in the namespace check@example.org.
const (
	vectorKey = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIHcy4XLHxzCxF94h+PbiameiyrGwkzWzCZO1XFdRBN90"
	vector    = `-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAADMAAAALc3NoLWVkMjU1MTkAAAAgdzLhcsfHMLEX3iH49uJqZ6LKsb
CTNbMJk7VcV1EE33QAAAARY2hlY2tAZXhhbXBsZS5vcmcAAAAAAAAABnNoYTUxMgAAAFMA
AAALc3NoLWVkMjU1MTkAAABAWUfCaWXWoDCSyZ0u5xAguhO7V7wnSX7Q2NRmHFs7dboaec
UjjSq/Xvzp6DiI8fhChbRUfYkNtXenDBNewAWkDg==
-----END SSH SIGNATURE-----
`
)

var vectorMessage = []byte("strip check message\n")

func TestSignatureMadeByAnotherProgram(t *testing.T) {
	key, err := CheckSignature([]byte(vector), vectorMessage, "check@example.org")
	require.NoError(t, err)
	assert.Equal(t, vectorKey, strings.TrimSpace(string(ssh.MarshalAuthorizedKey(key))))

	_, err = CheckSignature([]byte(vector), vectorMessage, "other@example.org")
	assert.ErrorContains(t, err, `was made for "check@example.org"`)
	_, err = CheckSignature([]byte(vector), []byte("strip check massage\n"), "check@example.org")
	assert.ErrorContains(t, err, "does not fit")
}

// No byte of a signature file can change unseen.
func TestEveryByteOfASignatureCounts(t *testing.T) {
	for i := range vector {
		for _, change := range []byte{1, 0x20} {
			b := []byte(vector)
			b[i] ^= change
			_, err := CheckSignature(b, vectorMessage, "check@example.org")
			assert.Error(t, err, "byte %d changed by %#x", i, change)
		}
	}
}

func TestSignaturesThatAreNotRead(t *testing.T) {
	blob, err := unarmour([]byte(vector))
	require.NoError(t, err)
	var s signature
	require.NoError(t, ssh.Unmarshal(blob[len(preamble):], &s))
	again := func(change func(*signature)) error {
		c := s
		change(&c)
		_, err := CheckSignature(armour(append([]byte(preamble), ssh.Marshal(c)...), 70), vectorMessage, "check@example.org")
		return err
	}
	require.NoError(t, again(func(*signature) {}))
	assert.ErrorContains(t, again(func(s *signature) { s.Version = 2 }), "version 2")
	assert.ErrorContains(t, again(func(s *signature) { s.Hash = "md5" }), `"md5"`)
	assert.ErrorContains(t, again(func(s *signature) { s.Reserved = "x" }), "reserved part")
	old := ssh.Marshal(ssh.Signature{Format: "ssh-rsa", Blob: make([]byte, 64)})
	assert.ErrorContains(t, again(func(s *signature) { s.Signature = old }), "SHA-1")
	_, err = CheckSignature([]byte(strings.ReplaceAll(vector, "\n", "\r\n")), vectorMessage, "check@example.org")
	assert.Error(t, err)
	_, err = CheckSignature(append([]byte("x\n"), vector...), vectorMessage, "check@example.org")
	assert.ErrorContains(t, err, "is not an SSH signature file")
}

// ssh-keygen makes keys of each kind; we sign, it verifies; it signs, we verify.
func TestSignaturesBothWaysWithSSHKeygen(t *testing.T) {
	keygen := tool(t, "ssh-keygen")
	for _, kind := range []string{"ed25519", "rsa", "ecdsa"} {
		t.Run(kind, func(t *testing.T) {
			dir := t.TempDir()
			run := func(in []byte, args ...string) error {
				c := exec.Command(keygen, args...)
				c.Dir, c.Stdin = dir, bytes.NewReader(in)
				out, err := c.CombinedOutput()
				t.Logf("%s", out)
				return err
			}
			require.NoError(t, run(nil, "-q", "-t", kind, "-N", "", "-f", "key", "-C", "anna"))
			s, done, err := OpenKey(filepath.Join(dir, "key"))
			require.NoError(t, err)
			defer done()
			sig, err := Sign(s, vectorMessage)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "sig"), sig, 0o600))
			line := `anna namespaces="record@padband" ` + string(ssh.MarshalAuthorizedKey(s.PublicKey()))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "signers"), []byte(line), 0o600))
			check := []string{"-Y", "verify", "-f", "signers", "-I", "anna", "-n", Namespace, "-s", "sig"}
			assert.NoError(t, run(vectorMessage, check...))
			assert.Error(t, run([]byte("another"), check...))

			require.NoError(t, os.WriteFile(filepath.Join(dir, "m"), vectorMessage, 0o600))
			require.NoError(t, run(nil, "-q", "-Y", "sign", "-f", "key", "-n", Namespace, "m"))
			theirs, err := os.ReadFile(filepath.Join(dir, "m.sig"))
			require.NoError(t, err)
			key, err := CheckSignature(theirs, vectorMessage, Namespace)
			require.NoError(t, err)
			assert.Equal(t, KeyName(s.PublicKey()), KeyName(key))
		})
	}
}

func TestKeyWithPassphraseGoesThroughTheAgent(t *testing.T) {
	keygen := tool(t, "ssh-keygen")
	dir := t.TempDir()
	t.Setenv("SSH_AUTH_SOCK", filepath.Join(dir, "none"))
	name := filepath.Join(dir, "key")
	require.NoError(t, exec.Command(keygen, "-q", "-t", "ed25519", "-N", "secret", "-f", name).Run())
	for _, n := range []string{name, name + ".pub"} {
		_, _, err := OpenKey(n)
		assert.ErrorContains(t, err, "no agent answers; start ssh-agent")
	}
	require.NoError(t, os.WriteFile(name, []byte("no key"), 0o600))
	_, _, err := OpenKey(name)
	assert.ErrorContains(t, err, "is not an SSH key")
}

// The rules are those of ssh-keygen(1), ALLOWED SIGNERS (from memory).
func TestSignersFile(t *testing.T) {
	key, _, _, _, err := ssh.ParseAuthorizedKey([]byte(vectorKey))
	require.NoError(t, err)
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	for line, want := range map[string]string{
		"anna@example.org " + vectorKey:                                            "anna@example.org",
		"anna,bert " + vectorKey + " a comment":                                    "anna, bert",
		`"anna lee" ` + vectorKey:                                                  "anna lee",
		`anna namespaces="file,record@*" ` + vectorKey:                             "anna",
		`anna namespaces="file" ` + vectorKey:                                      "!may not sign in the namespace",
		`anna valid-after="20261125",valid-before="20261126Z" ` + vectorKey:        "anna",
		`anna valid-before="20261125115959Z" ` + vectorKey:                         "!was valid only until",
		`anna valid-after="202611251201Z" ` + vectorKey:                            "!is valid only from",
		"bert " + string(ssh.MarshalAuthorizedKey(testKey(t, "bert").PublicKey())): "!does not name",
	} {
		s, err := ParseSigners([]byte("# who may sign\n\n" + line))
		require.NoError(t, err, line)
		names, everyone, why := s.whose(key, now)
		assert.False(t, everyone)
		if no, refused := strings.CutPrefix(want, "!"); refused {
			assert.Contains(t, why, no, line)
		} else {
			assert.Equal(t, want, names, line)
			assert.Empty(t, why)
		}
	}
	for line, want := range map[string]string{
		"anna cert-authority " + vectorKey:       "line 1: it names a certificate authority",
		"anna valid-after=\"2026\" " + vectorKey: "is not a time",
		"anna touch-required " + vectorKey:       `"touch-required" is not known`,
		"anna":                                   "it takes names, options, and a public key",
		"# nobody":                               "it names no signer",
		"anna ssh-ed25519 " + base64.StdEncoding.EncodeToString([]byte("x")): "public key",
	} {
		_, err := ParseSigners([]byte(line))
		assert.ErrorContains(t, err, want)
	}
	s, err := ParseSigners([]byte("* " + vectorKey))
	require.NoError(t, err)
	_, everyone, why := s.whose(key, now)
	assert.True(t, everyone)
	assert.Empty(t, why)
}
