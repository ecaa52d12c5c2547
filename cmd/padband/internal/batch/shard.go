package batch

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// mostShards is far more than there are machines to share photos among.
const mostShards = 1_000_000

// Shard is one of N equal shares of a batch: its photos K, K+N, K+2N ... counted
// from 1. Shards 1 to N share out every photo once. The zero value is the whole.
type Shard struct{ K, N int }

// Of returns the shard's photos.
func (s Shard) Of(all []Photo) []Photo {
	if s.N == 0 {
		return all
	}
	var out []Photo
	for i := s.K - 1; i < len(all); i += s.N {
		out = append(out, all[i])
	}
	return out
}

// String is K/N, or empty for the whole.
func (s Shard) String() string {
	if s.N == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", s.K, s.N)
}

// Set reads K/N, K from 1 to N.
func (s *Shard) Set(text string) error {
	first, second, found := strings.Cut(text, "/")
	k, err1 := strconv.Atoi(first)
	n, err2 := strconv.Atoi(second)
	if !found || err1 != nil || err2 != nil || n < 1 || n > mostShards || k < 1 || k > n {
		return errors.New("it is K/N, such as 3/16, with K from 1 to N")
	}
	*s = Shard{k, n}
	return nil
}

// Type is what the help calls the value.
func (s Shard) Type() string { return "K/N" }
