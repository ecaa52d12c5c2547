//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package batch

import (
	"os"
	"syscall"
)

// busy takes a file for this process alone, and tells whether another has it. A
// file system that knows no locks says that none has.
func busy(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == syscall.EWOULDBLOCK
}
