// Package stamp reads the reply of a timestamp authority (RFC 3161) for a record.
// Start at [Check]: it says what time the reply holds, and that the reply is for this
// record. It does not check that the authority signed it; a program that has the
// authority's certificates does, such as openssl ts.
package stamp

import (
	"bytes"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/asn1"
	"errors"
	"fmt"
	"time"

	"golang.org/x/crypto/cryptobyte"
	ct "golang.org/x/crypto/cryptobyte/asn1"
)

// What is looked for in a reply, by the names that ASN.1 gives it.
var (
	oidSignedData = asn1.ObjectIdentifier{1, 2, 840, 113549, 1, 7, 2}        // RFC 5652, section 5.1
	oidTSTInfo    = asn1.ObjectIdentifier{1, 2, 840, 113549, 1, 9, 16, 1, 4} // RFC 3161, section 2.4.2
	oidSHA256     = asn1.ObjectIdentifier{2, 16, 840, 1, 101, 3, 4, 2, 1}    // RFC 5754, section 2.2
	oidSHA512     = asn1.ObjectIdentifier{2, 16, 840, 1, 101, 3, 4, 2, 3}    // RFC 5754, section 2.4
	errStamp      = errors.New("is not a timestamp reply (RFC 3161) in DER form")
	explicit0     = ct.Tag(0).ContextSpecific().Constructed()
)

// Check reads a timestamp reply, checks that it is for this message, a record's
// tag manifest, and returns the time that it says. The authority's signature and
// certificates are not checked here.
func Check(reply, message []byte) (time.Time, error) {
	token, err := grantedToken(reply)
	if err != nil {
		return time.Time{}, err
	}
	info, err := tokenInfo(token)
	if err != nil {
		return time.Time{}, err
	}
	return readInfo(info, message)
}

// grantedToken is the token of a reply whose status is granted (0) or granted with changes (1).
func grantedToken(reply []byte) (cryptobyte.String, error) {
	in := cryptobyte.String(reply)
	var resp, status cryptobyte.String
	var code int
	if !in.ReadASN1(&resp, ct.SEQUENCE) || !in.Empty() || !resp.ReadASN1(&status, ct.SEQUENCE) || !status.ReadASN1Integer(&code) {
		return nil, errStamp
	}
	if code != 0 && code != 1 {
		return nil, fmt.Errorf("is a refusal of the timestamp authority (status %d); ask it again", code)
	}
	var token cryptobyte.String
	if !resp.ReadASN1(&token, ct.SEQUENCE) || !resp.Empty() {
		return nil, errStamp
	}
	return token, nil
}

// tokenInfo takes the TSTInfo out of the signed data (RFC 5652, sections 3, 5.1 and 5.2).
func tokenInfo(token cryptobyte.String) (cryptobyte.String, error) {
	var kind, inner asn1.ObjectIdentifier
	var wrapped, data, content, octets, info cryptobyte.String
	var version int
	ok := token.ReadASN1ObjectIdentifier(&kind) && kind.Equal(oidSignedData) &&
		token.ReadASN1(&wrapped, explicit0) && wrapped.ReadASN1(&data, ct.SEQUENCE) &&
		data.ReadASN1Integer(&version) && data.SkipASN1(ct.SET) &&
		data.ReadASN1(&content, ct.SEQUENCE) && content.ReadASN1ObjectIdentifier(&inner) && inner.Equal(oidTSTInfo) &&
		content.ReadASN1(&octets, explicit0) && octets.ReadASN1(&info, ct.OCTET_STRING)
	if !ok {
		return nil, errStamp
	}
	return info, nil
}

// readInfo compares the message imprint (RFC 3161, section 2.4.2): the hash in the
// reply must be that of the message. The time is the authority's, in UTC.
func readInfo(in cryptobyte.String, message []byte) (at time.Time, err error) {
	var info, imprint, algorithm, digest cryptobyte.String
	var policy, hash asn1.ObjectIdentifier
	var version int
	var serial []byte // read past
	ok := in.ReadASN1(&info, ct.SEQUENCE) && info.ReadASN1Integer(&version) &&
		info.ReadASN1ObjectIdentifier(&policy) && info.ReadASN1(&imprint, ct.SEQUENCE) &&
		imprint.ReadASN1(&algorithm, ct.SEQUENCE) && algorithm.ReadASN1ObjectIdentifier(&hash) &&
		imprint.ReadASN1(&digest, ct.OCTET_STRING) &&
		info.ReadASN1Bytes(&serial, ct.INTEGER) && info.ReadASN1GeneralizedTime(&at)
	if !ok {
		return at, errStamp
	}
	var want []byte
	switch {
	case hash.Equal(oidSHA256):
		sum := sha256.Sum256(message)
		want = sum[:]
	case hash.Equal(oidSHA512):
		sum := sha512.Sum512(message)
		want = sum[:]
	default:
		return at, errors.New("is over a hash that is not read here; ask for one with SHA-256 or SHA-512")
	}
	if !bytes.Equal(want, digest) {
		return at, errors.New("is a stamp of something else, not of this record's tagmanifest-sha512.txt")
	}
	return at, nil
}
