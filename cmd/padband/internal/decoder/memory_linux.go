package decoder

import (
	"os"
	"strconv"
	"strings"
	"syscall"
)

// capMemory lets this process have at most so many bytes of address space more
// than it has. Where that cannot be set the decoder's own bound of 4 GiB is left.
func capMemory(more int64) {
	data, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return
	}
	pages, _, _ := strings.Cut(string(data), " ")
	have, err := strconv.ParseInt(pages, 10, 64)
	if err != nil {
		return
	}
	most := uint64(have*int64(os.Getpagesize()) + more)
	_ = syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: most, Max: most})
}
