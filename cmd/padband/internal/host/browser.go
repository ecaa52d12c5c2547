//go:build !js

package host

import (
	"os/exec"
	"runtime"
)

// OpenBrowser asks the system to open an address, and does not wait for it.
func OpenBrowser(address string) error {
	name, args := opener(runtime.GOOS, address)
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait() // leaves no dead process behind
	return nil
}

// opener is the system's own command that opens an address.
func opener(system, address string) (name string, args []string) {
	switch system {
	case "darwin":
		return "open", []string{address}
	case "windows":
		return "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return "xdg-open", []string{address}
}
