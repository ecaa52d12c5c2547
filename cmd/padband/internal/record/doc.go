// Package record writes, signs and verifies the evidence record of a reading. A record
// is a BagIt folder (RFC 8493) or a zip file of it, with the photo as received, its
// chart, marks and reading, and the facts of the sample. Start at [Made] and [Write]
// to keep a record, at [Verify] to check one, and at [Walk] to look through many. The
// package is given its signer and the check of a signature, and holds no SSH itself:
// package sshsig has both.
//
// A person can check a record by hand, within its folder:
//
//	sha256sum -c manifest-sha256.txt
//	sha512sum -c tagmanifest-sha512.txt
//	ssh-keygen -Y verify -f SIGNERS -I NAME -n record@padband -s tagmanifest-sha512.txt.sig < tagmanifest-sha512.txt
//
// Both lists must be checked. The first covers the files in data. The second covers
// the first list and the facts, and the fingerprint and a signature are made of it.
// SIGNERS holds a line "NAME ssh-ed25519 AAAA..." for each person who may sign. A
// stamp is requested from an authority and checked with openssl ts:
//
//	openssl ts -query -data tagmanifest-sha512.txt -sha512 -cert -out query.tsq
//	openssl ts -verify -data tagmanifest-sha512.txt -in tagmanifest-sha512.txt.tsr -CAfile AUTHORITY.pem
package record
