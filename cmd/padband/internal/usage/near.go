// Package usage tells others than the command itself how a command is called. [Bash],
// [Fish] and [Zsh] write the completions of these shells, [Man] writes the manual
// page, and [Near] finds the word that a mistyped one was probably meant to be. Start
// at [Program], which describes the commands; the package runs none of them.
package usage

import (
	"slices"
	"strings"
)

// shortest is the length from which the beginning of a word is taken as the word.
const shortest = 2

// Near are the words that another was probably meant to be, nearest first in
// the order given: those at the least distance, when that is near enough, else
// those that begin with it. There may be none. It does not mind capitals.
func Near(typed string, words []string) (out []string) {
	typed = strings.ToLower(typed)
	least := 0
	for _, w := range words {
		d := distance(typed, w)
		switch {
		case d > slips(typed, w) || slices.Contains(out, w):
		case len(out) == 0 || d < least:
			out, least = []string{w}, d
		case d == least:
			out = append(out, w)
		}
	}
	if len(out) > 0 || len(typed) < shortest {
		return out
	}
	for _, w := range words {
		if strings.HasPrefix(w, typed) {
			out = append(out, w)
		}
	}
	return out
}

// slips is how many slips of the finger are believed between two words: one in
// a short word, and one more for each six letters (common practice, no source).
func slips(a, b string) int { return 1 + min(len([]rune(a)), len([]rune(b)))/6 }

// distance is the least number of letters to put in, leave out, exchange or
// swap with their neighbour that makes one word the other, no place touched
// twice: the optimal string alignment distance.
func distance(one, other string) int {
	a, b := []rune(one), []rune(other)
	rows := make([][]int, len(a)+1) // rows[i][j] is the distance of a[:i] and b[:j]
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range b {
		rows[0][j+1] = j + 1
	}
	for i := range a {
		for j := range b {
			exchanged := rows[i][j]
			if a[i] != b[j] {
				exchanged++
			}
			d := min(rows[i][j+1]+1, rows[i+1][j]+1, exchanged)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d = min(d, rows[i-1][j-1]+1)
			}
			rows[i+1][j+1] = d
		}
	}
	return rows[len(a)][len(b)]
}
