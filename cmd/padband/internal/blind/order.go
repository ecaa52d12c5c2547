package blind

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"
)

// shuffled puts the pads in the order of the seed: by the SHA-256 of the seed, the
// sample and the analyte, with a zero byte after each of the first two. So one seed
// gives one order in every version of the program, whatever order the pads come in.
func shuffled(pads []pad, seed uint64) []pad {
	key := func(p pad) []byte {
		sum := sha256.Sum256(fmt.Appendf(nil, "%d\x00%s\x00%s", seed, p.Sample, p.analyte.Name))
		return sum[:]
	}
	out := slices.Clone(pads)
	slices.SortStableFunc(out, func(a, b pad) int { return bytes.Compare(key(a), key(b)) })
	return out
}

// mostSeed is the largest seed that the program chooses: it is short enough to be
// typed.
const mostSeed = 999_999_999

// newSeed chooses a seed from 1 to mostSeed.
func newSeed() (uint64, error) {
	n, err := rand.Int(rand.Reader, big.NewInt(mostSeed))
	if err != nil {
		return 0, fmt.Errorf("%w: %w", ErrSeed, err)
	}
	return n.Uint64() + 1, nil
}

// setOf is a name for a set of pads that tells it from other sets: 16 hexadecimal
// digits of the SHA-256 of what is to be called, whatever its order.
func setOf(pads []pad) string {
	var lines []string
	for _, p := range pads {
		var values []string
		for _, s := range p.analyte.Swatches {
			values = append(values, plainFigure(s.Value))
		}
		lines = append(lines, strings.Join(append(identity(p), values...), "\x00"))
	}
	slices.Sort(lines)
	sum := sha256.Sum256([]byte(strings.Join(lines, "\n")))
	return hex.EncodeToString(sum[:8])
}

// identity is what tells a pad's row in the file from other rows.
func identity(p pad) []string {
	return []string{p.Sample, p.analyte.Name, p.analyte.Unit, p.analyte.As}
}

// oneLine puts a text on one line: what does not print becomes a space.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
	return strings.Join(strings.Fields(s), " ")
}
