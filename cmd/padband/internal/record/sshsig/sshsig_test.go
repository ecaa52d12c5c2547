package sshsig

import (
	"bytes"
	"crypto/sha512"
	"encoding/base64"
	"encoding/hex"
	"fmt"
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

// The parts have the lengths that the format gives them (OpenSSH PROTOCOL.sshsig 1.4).
func TestPartsOfASignature(t *testing.T) {
	blob, err := unarmour([]byte(vector))
	require.NoError(t, err)
	var s signature
	require.NoError(t, ssh.Unmarshal(blob[6:], &s))
	assert.Len(t, blob, 187)
	assert.Equal(t, "SSHSIG", string(blob[:6]))
	assert.EqualValues(t, 1, s.Version)
	assert.Len(t, s.PublicKey, 51)
	assert.Equal(t, "check@example.org", s.Namespace)
	assert.Empty(t, s.Reserved)
	assert.Equal(t, "sha512", s.Hash)
	assert.Len(t, s.Signature, 83)
	// sha512sum of the message, and what of it is signed: no version in it.
	const digest = "a7f6e65631286803bf0450318f27fe3455b17b7714af96ee513582737392bd40d88fff1184486352eea0aa684c0b2015ce417effd0af30bb3e105ef875d81eed"
	assert.Equal(t, digest, fmt.Sprintf("%x", sha512.Sum512(vectorMessage)))
	sealed := toSign("check@example.org", "sha512", vectorMessage)
	assert.Equal(t, "SSHSIG\x00\x00\x00\x11check@example.org\x00\x00\x00\x00\x00\x00\x00\x06sha512\x00\x00\x00\x40", string(sealed[:45]))
	assert.Equal(t, digest, hex.EncodeToString(sealed[45:]))
}

func TestSignatureMadeByAnotherProgram(t *testing.T) {
	key, err := checkIn([]byte(vector), vectorMessage, "check@example.org")
	require.NoError(t, err)
	assert.Equal(t, vectorKey, strings.TrimSpace(string(ssh.MarshalAuthorizedKey(key))))

	_, err = checkIn([]byte(vector), vectorMessage, "other@example.org")
	assert.ErrorContains(t, err, `was made for "check@example.org"`)
	_, err = checkIn([]byte(vector), []byte("strip check massage\n"), "check@example.org")
	assert.ErrorContains(t, err, "does not fit")
}

// No byte of a signature file can change unseen.
func TestEveryByteOfASignatureCounts(t *testing.T) {
	for i := range vector {
		for _, change := range []byte{1, 0x20} {
			b := []byte(vector)
			b[i] ^= change
			_, err := checkIn(b, vectorMessage, "check@example.org")
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
		_, err := checkIn(armour(append([]byte(preamble), ssh.Marshal(c)...), 70), vectorMessage, "check@example.org")
		return err
	}
	require.NoError(t, again(func(*signature) {}))
	assert.ErrorContains(t, again(func(s *signature) { s.Version = 2 }), "version 2")
	assert.ErrorContains(t, again(func(s *signature) { s.Namespace = "" }), "has no namespace")
	_, err = checkIn(armour(blob, 76), vectorMessage, "check@example.org")
	assert.NoError(t, err, "the format's own width")
	_, err = checkIn(armour(blob, 64), vectorMessage, "check@example.org")
	assert.ErrorContains(t, err, "lines were changed")
	_, err = checkIn(armour(blob[1:], 70), vectorMessage, "check@example.org")
	assert.ErrorContains(t, err, "parts cannot be told apart")
	lacking := ssh.Marshal(struct {
		Version             uint32
		Key                 []byte
		Namespace, Reserved string
		Signature           []byte
	}{1, s.PublicKey, s.Namespace, "", s.Signature})
	_, err = checkIn(armour(append([]byte(preamble), lacking...), 70), vectorMessage, "check@example.org")
	assert.ErrorContains(t, err, "parts cannot be told apart", "without its hash, as the example that the format's own document prints")
	assert.ErrorContains(t, again(func(s *signature) { s.Hash = "md5" }), `"md5"`)
	assert.ErrorContains(t, again(func(s *signature) { s.Reserved = "x" }), "reserved part")
	old := ssh.Marshal(ssh.Signature{Format: "ssh-rsa", Blob: make([]byte, 64)})
	assert.ErrorContains(t, again(func(s *signature) { s.Signature = old }), "SHA-1")
	_, err = checkIn([]byte(strings.ReplaceAll(vector, "\n", "\r\n")), vectorMessage, "check@example.org")
	assert.Error(t, err)
	_, err = checkIn(append([]byte("x\n"), vector...), vectorMessage, "check@example.org")
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
			s, done, err := OpenKey(filepath.Join(dir, "key"), nil)
			require.NoError(t, err)
			defer done()
			sig, err := s.Sign(vectorMessage)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "sig"), sig, 0o600))
			line := `anna namespaces="record@padband" ` + string(ssh.MarshalAuthorizedKey(s.key.PublicKey()))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "signers"), []byte(line), 0o600))
			check := []string{"-Y", "verify", "-f", "signers", "-I", "anna", "-n", Namespace, "-s", "sig"}
			assert.NoError(t, run(vectorMessage, check...))
			assert.Error(t, run([]byte("another"), check...))

			require.NoError(t, os.WriteFile(filepath.Join(dir, "m"), vectorMessage, 0o600))
			for _, hash := range []string{"sha512", "sha256"} {
				os.Remove(filepath.Join(dir, "m.sig"))
				require.NoError(t, run(nil, "-q", "-Y", "sign", "-O", "hashalg="+hash, "-f", "key", "-n", Namespace, "m"))
				theirs, err := os.ReadFile(filepath.Join(dir, "m.sig"))
				require.NoError(t, err)
				key, err := Check(theirs, vectorMessage)
				require.NoError(t, err)
				assert.Equal(t, s.Name(), key)
			}
		})
	}
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
		names, everyone, why := s.Whose(keyName(key), now)
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
	_, everyone, why := s.Whose(keyName(key), now)
	assert.True(t, everyone)
	assert.Empty(t, why)
}
