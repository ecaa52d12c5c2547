package sshsig

import (
	"bytes"
	"cmp"
	"encoding/pem"
	"errors"
	"fmt"
	"net"
	"os"
	"slices"
	"strings"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"padband/cmd/padband/internal/input"
)

// keyBytes is the most bytes of a key's file.
const keyBytes = 4 << 20

// OpenKey returns the signer of a key file: ed25519, ECDSA or RSA. A private key
// with a passphrase, or the public half (KEY.pub), is used through the running
// ssh-agent; a private key that the agent does not hold, with the passphrase that
// ask gives. A nil ask asks nobody. done lets the agent go. The error names what to
// do, not the file.
func OpenKey(name string, ask func() ([]byte, error)) (s Signer, done func(), err error) {
	data, err := input.ReadFile(name, keyBytes)
	if err != nil {
		return s, nil, err
	}
	key, err := ssh.ParsePrivateKey(data)
	var locked *ssh.PassphraseMissingError
	switch {
	case err == nil:
		return opened(key)
	case errors.As(err, &locked):
		return openLocked(data, locked.PublicKey, ask)
	}
	public, _, _, _, err := ssh.ParseAuthorizedKey(data)
	if err != nil {
		return s, nil, cmp.Or(unfit(kindOf(data)), errNoKey)
	}
	return fromAgent(public, "is a public key")
}

// opened is the signer of a private key, which nothing has to let go.
func opened(key ssh.Signer) (Signer, func(), error) {
	return Signer{key}, func() {}, unfit(key.PublicKey().Type())
}

// openLocked opens a private key with a passphrase. public is nil where the key
// is of an old form, which does not tell it.
func openLocked(data []byte, public ssh.PublicKey, ask func() ([]byte, error)) (s Signer, done func(), err error) {
	err = errors.New("has a passphrase and an old form; add it with ssh-add and name its .pub file")
	if public != nil {
		if err := unfit(public.Type()); err != nil {
			return s, nil, err
		}
		s, done, err = fromAgent(public, "needs its passphrase")
	}
	if err == nil || ask == nil {
		return s, done, err
	}
	passphrase, err := ask()
	if err != nil {
		return s, nil, err
	}
	key, err := ssh.ParsePrivateKeyWithPassphrase(data, passphrase)
	if err != nil {
		return s, nil, errors.New("does not open with this passphrase; try again")
	}
	return opened(key)
}

// errNoKey is of a file that holds no key.
var errNoKey = errors.New("is not an SSH key; name a private key, or a .pub file whose key the agent holds")

// unfit says which kinds of key are not used, and what to use.
func unfit(kind string) error {
	const instead = "; sign with a key of ssh-keygen -t ed25519"
	switch {
	case slices.Contains([]string{ssh.KeyAlgoED25519, ssh.KeyAlgoRSA, ssh.KeyAlgoECDSA256, ssh.KeyAlgoECDSA384, ssh.KeyAlgoECDSA521}, kind):
		return nil
	case strings.Contains(kind, "-cert-"):
		return errors.New("is a certificate; name the key itself")
	case strings.HasPrefix(kind, "sk-"):
		return errors.New("is a key in a security device (sk), which is not used here" + instead)
	case kind == kindDSA:
		return errors.New("is a DSA key, which rests on SHA-1 and can be forged" + instead)
	case kind == "":
		return errNoKey
	}
	return fmt.Errorf("is a key of the kind %.40q, which is not used here%s", kind, instead)
}

// kindDSA is the kind of keys that nobody should trust any more (RFC 4253, section 6.6).
const kindDSA = "ssh-dss"

// kindOf is the kind of a key that cannot be read: of a private key of OpenSSH's
// or the oldest form, or of a public key; "" when it is no key.
func kindOf(data []byte) string {
	block, _ := pem.Decode(data)
	if block == nil {
		first, _, _ := strings.Cut(string(data[:min(len(data), 80)]), " ")
		if strings.HasPrefix(first, "ssh-") || strings.HasPrefix(first, "ecdsa-") || strings.HasPrefix(first, "sk-") {
			return first
		}
		return ""
	}
	if block.Type == "DSA PRIVATE KEY" {
		return kindDSA
	}
	var key struct {
		Cipher, KDF, Options string
		Keys                 uint32
		Public               []byte
		Rest                 []byte `ssh:"rest"`
	}
	var public struct {
		Kind string
		Rest []byte `ssh:"rest"`
	}
	inner, ours := bytes.CutPrefix(block.Bytes, []byte("openssh-key-v1\x00"))
	if !ours || ssh.Unmarshal(inner, &key) != nil || ssh.Unmarshal(key.Public, &public) != nil {
		return ""
	}
	return public.Kind
}

// fromAgent is the key as the agent signs with it; otherwise why that is needed.
func fromAgent(public ssh.PublicKey, why string) (s Signer, done func(), err error) {
	const advice = "start ssh-agent and add the key with ssh-add"
	if err := unfit(public.Type()); err != nil {
		return s, nil, err
	}
	conn, err := net.Dial("unix", os.Getenv("SSH_AUTH_SOCK"))
	if err != nil {
		return s, nil, fmt.Errorf("%s, and no agent answers; %s", why, advice)
	}
	held, err := agent.NewClient(conn).Signers()
	for _, key := range held {
		if keyName(key.PublicKey()) == keyName(public) {
			return Signer{key}, func() { conn.Close() }, nil
		}
	}
	conn.Close()
	if err != nil {
		return s, nil, fmt.Errorf("%s, and the agent fails: %w; %s", why, err, advice)
	}
	return s, nil, fmt.Errorf("%s, and the agent does not hold it; %s", why, advice)
}
