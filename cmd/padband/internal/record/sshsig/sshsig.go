// Package sshsig makes and checks the SSH signatures of a record. Start at [OpenKey]
// to sign, at [Check] to find the key that signed, and at [ParseSigners] to find who
// holds that key. Its types are those that package record asks for. Neither package
// imports the other, so that a program that neither signs nor checks holds no SSH.
package sshsig

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"golang.org/x/crypto/ssh"
)

// Namespace binds a signature to its purpose: a signature made for a record
// is no signature for anything else.
const Namespace = "record@padband"

// Signer signs with a person's key.
type Signer struct{ key ssh.Signer }

// NewSigner is the signer of a key that is open.
func NewSigner(key ssh.Signer) Signer { return Signer{key} }

// Name is the key's fingerprint as ssh-keygen -l prints it.
func (s Signer) Name() string { return keyName(s.key.PublicKey()) }

// keyName is what a key is called wherever one is named.
func keyName(k ssh.PublicKey) string { return ssh.FingerprintSHA256(k) }

// How a signature's file begins and ends, and the blob in it.
const (
	armourBegin = "-----BEGIN SSH SIGNATURE-----"
	armourEnd   = "-----END SSH SIGNATURE-----"
	preamble    = "SSHSIG"
)

// signature is the blob after its preamble (OpenSSH PROTOCOL.sshsig, version 1).
type signature struct {
	Version   uint32
	PublicKey []byte
	Namespace string
	Reserved  string
	Hash      string
	Signature []byte
}

// signed is what the key signs, after the preamble.
type signed struct{ Namespace, Reserved, Hash, Digest string }

// toSign is what a key signs of a message: its digest with purpose and hash.
func toSign(namespace, hash string, message []byte) []byte {
	var digest []byte
	if hash == "sha256" {
		d := sha256.Sum256(message)
		digest = d[:]
	} else {
		d := sha512.Sum512(message)
		digest = d[:]
	}
	return append([]byte(preamble), ssh.Marshal(signed{namespace, "", hash, string(digest)})...)
}

// Sign returns the armoured signature of a message in the [Namespace], with
// SHA-512; RSA keys sign as rsa-sha2-512. The error is the key's or the agent's.
func (s Signer) Sign(message []byte) ([]byte, error) {
	data, public := toSign(Namespace, "sha512", message), s.key.PublicKey()
	var sig *ssh.Signature
	var err error
	if public.Type() == ssh.KeyAlgoRSA {
		a, ok := s.key.(ssh.AlgorithmSigner)
		if !ok {
			return nil, errors.New("this RSA key cannot sign with SHA-512; use an ed25519 key")
		}
		sig, err = a.SignWithAlgorithm(rand.Reader, data, ssh.KeyAlgoRSASHA512)
	} else {
		sig, err = s.key.Sign(rand.Reader, data)
	}
	if err != nil {
		return nil, fmt.Errorf("the key did not sign: %w; check the key or the agent", err)
	}
	blob := append([]byte(preamble), ssh.Marshal(signature{1, public.Marshal(), Namespace, "", "sha512", ssh.Marshal(sig)})...)
	return armour(blob, 70), nil
}

// armour is the blob in base64, in lines of this width, as ssh-keygen writes it.
func armour(blob []byte, width int) []byte {
	var b strings.Builder
	b.WriteString(armourBegin + "\n")
	for s := base64.StdEncoding.EncodeToString(blob); s != ""; {
		n := min(width, len(s))
		b.WriteString(s[:n] + "\n")
		s = s[n:]
	}
	b.WriteString(armourEnd + "\n")
	return []byte(b.String())
}

// unarmour takes the form that ssh-keygen writes and nothing around it: lines
// of 70 (or 76) characters, LF. So no byte of the file can change unseen.
func unarmour(data []byte) ([]byte, error) {
	text := strings.ReplaceAll(string(data), "\n", "")
	text, begins := strings.CutPrefix(text, armourBegin)
	text, ends := strings.CutSuffix(text, armourEnd)
	if !begins || !ends {
		return nil, errors.New("is not an SSH signature file")
	}
	blob, err := base64.StdEncoding.Strict().DecodeString(text)
	if err != nil {
		return nil, errors.New("is damaged: its base64 does not decode")
	}
	if !bytes.Equal(data, armour(blob, 70)) && !bytes.Equal(data, armour(blob, 76)) {
		return nil, errors.New("is not as a signing program writes it: its lines were changed")
	}
	return blob, nil
}

// Check returns the name of the key, as ssh-keygen -l prints it, that signed the
// message in the [Namespace]. It says nothing of whose key it is. The error says
// what is wrong with the signature's file.
func Check(armoured, message []byte) (key string, err error) {
	k, err := checkIn(armoured, message, Namespace)
	if err != nil {
		return "", err
	}
	return keyName(k), nil
}

// checkIn reads a signature's file and returns the key that made it for this message
// and purpose.
func checkIn(armoured, message []byte, namespace string) (ssh.PublicKey, error) {
	blob, err := unarmour(armoured)
	if err != nil {
		return nil, err
	}
	rest, ok := bytes.CutPrefix(blob, []byte(preamble))
	var s signature
	if !ok || ssh.Unmarshal(rest, &s) != nil {
		return nil, errors.New("is damaged: its parts cannot be told apart")
	}
	switch {
	case s.Version != 1:
		return nil, fmt.Errorf("is of version %d; only version 1 is read", s.Version)
	case s.Namespace == "":
		return nil, errors.New("has no namespace, so it was made for no purpose")
	case s.Namespace != namespace:
		return nil, fmt.Errorf("was made for %.60q, not for %q", s.Namespace, namespace)
	case s.Reserved != "":
		return nil, errors.New("holds more than a signature: its reserved part, which no signing program fills, was filled in")
	case s.Hash != "sha512" && s.Hash != "sha256":
		return nil, fmt.Errorf("uses the hash %.20q; only sha256 and sha512 are read", s.Hash)
	}
	return s.verify(message)
}

// verify checks the signature itself, with the key that it holds.
func (s signature) verify(message []byte) (ssh.PublicKey, error) {
	key, err := ssh.ParsePublicKey(s.PublicKey)
	if err != nil {
		return nil, errors.New("holds a key of a kind that is not read here")
	}
	if _, cert := key.(*ssh.Certificate); cert {
		return nil, errors.New("is by a certificate; certificates are not read here")
	}
	if t := key.Type(); t == ssh.KeyAlgoSKED25519 || t == ssh.KeyAlgoSKECDSA256 {
		return nil, errors.New("is by a key in a security device (sk), which is not read here")
	}
	var sig ssh.Signature
	if err := ssh.Unmarshal(s.Signature, &sig); err != nil {
		return nil, errors.New("is damaged: the key's own signature cannot be read")
	}
	if sig.Format == ssh.KeyAlgoRSA {
		return nil, errors.New("rests on SHA-1, which can be forged; sign again with RSA and SHA-512, or ed25519")
	}
	if err := key.Verify(toSign(s.Namespace, s.Hash, message), &sig); err != nil {
		return nil, errors.New("does not fit: the signed file or the signature was changed")
	}
	return key, nil
}
