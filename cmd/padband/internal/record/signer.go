package record

import "time"

// Signer signs a record with a person's key.
type Signer interface {
	// Name is the key's fingerprint as ssh-keygen -l prints it.
	Name() string
	// Sign returns the file of the signature of a message. The error says what to do.
	Sign(message []byte) ([]byte, error)
}

// Check returns the name of the key, as [Signer.Name], that signed a message. The
// error says what is wrong with the signature's file.
type Check func(signature, message []byte) (key string, err error)

// Signers are who may sign, and with which key.
type Signers interface {
	// Whose says who holds a key, named as [Signer.Name]. why tells why nobody who
	// may sign does; everyone is whether the key is given to any name at all.
	Whose(key string, now time.Time) (names string, everyone bool, why string)
}

// Stamp reads a timestamp reply (RFC 3161) and returns the time that it says. The
// error says what is wrong with it, or that it is not of this message.
type Stamp func(reply, message []byte) (time.Time, error)
