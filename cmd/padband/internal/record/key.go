package record

import (
	"errors"
	"fmt"
	"net"
	"os"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
)

// OpenKey returns the signer of a key file. A private key with a passphrase,
// or the public half (KEY.pub), is used through the running ssh-agent. done lets
// the agent go. The error names what to do, not the file.
func OpenKey(name string) (s Signer, done func(), err error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, nil, cause(err)
	}
	s, err = ssh.ParsePrivateKey(data)
	var locked *ssh.PassphraseMissingError
	if err == nil {
		return s, func() {}, nil
	}
	public, _, _, _, pubErr := ssh.ParseAuthorizedKey(data)
	if errors.As(err, &locked) {
		if public = locked.PublicKey; public == nil {
			return nil, nil, errors.New("has a passphrase and an old form; add it with ssh-add and name its .pub file")
		}
	} else if pubErr != nil {
		return nil, nil, errors.New("is not an SSH key; name a private key, or a .pub file whose key the agent holds")
	}
	return fromAgent(public)
}

func fromAgent(public ssh.PublicKey) (Signer, func(), error) {
	advice := "start ssh-agent and add the key with ssh-add"
	conn, err := net.Dial("unix", os.Getenv("SSH_AUTH_SOCK"))
	if err != nil {
		return nil, nil, fmt.Errorf("needs its passphrase, and no agent answers; %s", advice)
	}
	signers, err := agent.NewClient(conn).Signers()
	for _, s := range signers {
		if KeyName(s.PublicKey()) == KeyName(public) {
			return s, func() { conn.Close() }, nil
		}
	}
	conn.Close()
	if err != nil {
		return nil, nil, fmt.Errorf("needs its passphrase, and the agent fails: %w; %s", err, advice)
	}
	return nil, nil, fmt.Errorf("needs its passphrase, and the agent does not hold it; %s", advice)
}
