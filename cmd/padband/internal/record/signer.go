package record

import "time"

// Signer signs a record with a person's key.
type Signer interface {
	// Name is the key's fingerprint as ssh-keygen -l prints it.
	Name() string
	// Sign returns the file of the signature of a message. The error says what to do.
	Sign(message []byte) ([]byte, error)
}

// Check returns the name of the key that signed a message, in the form of
// [Signer.Name]. The error says what is wrong with the signature's file.
type Check func(signature, message []byte) (key string, err error)

// Signers knows who may sign, and with which key.
type Signers interface {
	// Whose says who holds a key, which is named as [Signer.Name] names it. why says
	// why nobody who may sign holds it; everyone is true when the key is given to any
	// name at all.
	Whose(key string, now time.Time) (names string, everyone bool, why string)
}

// Stamp reads a timestamp reply (RFC 3161) and returns the time in it. The error says
// what is wrong with the reply, or that it is for another message.
type Stamp func(reply, message []byte) (time.Time, error)
