package main

import (
	"io"
	"log"
	"os"
	"os/exec"
	"runtime"
	"syscall"
)

// endSignals are those that end the page.
var endSignals = []os.Signal{os.Interrupt, syscall.SIGTERM}

// silent drops what the network library has to say: of clients that vanish.
var silent = log.New(io.Discard, "", 0)

// openBrowser asks the system to open an address, and does not wait for it.
func openBrowser(address string) error {
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
