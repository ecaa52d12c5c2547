// Package record writes, signs and verifies the evidence record of a reading: a
// BagIt folder (RFC 8493) or a zip file of it, with the photo as received, its
// chart, marks and reading, and the facts of the sample. It is given its signer and
// what checks a signature, as package sshsig has them, and holds no SSH itself.
//
// By hand, within the record's folder:
//
//	sha256sum -c manifest-sha256.txt
//	sha512sum -c tagmanifest-sha512.txt
//	ssh-keygen -Y verify -f SIGNERS -I NAME -n record@padband -s tagmanifest-sha512.txt.sig < tagmanifest-sha512.txt
//
// It takes both lists: the first covers the files in data, the second the first
// list and the facts, and it is what the fingerprint and a signature are of.
// SIGNERS holds a line "NAME ssh-ed25519 AAAA..." for each person who may sign.
// A stamp is asked of an authority and checked with openssl ts:
//
//	openssl ts -query -data tagmanifest-sha512.txt -sha512 -cert -out query.tsq
//	openssl ts -verify -data tagmanifest-sha512.txt -in tagmanifest-sha512.txt.tsr -CAfile AUTHORITY.pem
package record
