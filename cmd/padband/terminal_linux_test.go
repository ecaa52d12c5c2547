package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

const endOfInput = "\x04" // Ctrl-D

// pseudoTerminal is a terminal and the end that a person types at.
func pseudoTerminal(t *testing.T) (person, program *os.File) {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { person.Close() })
	require.NoError(t, unix.IoctlSetPointerInt(int(person.Fd()), unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(int(person.Fd()), unix.TIOCGPTN)
	require.NoError(t, err)
	program, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { program.Close() })
	return person, program
}

// typed runs the command at a terminal. After each prompt that ends in ": " the
// next of the answers is typed, as a person does. screen is what the terminal
// showed by itself.
func typed(t *testing.T, answers []string, args ...string) (code int, out, errOut, screen string) {
	t.Helper()
	person, program := pseudoTerminal(t)
	var shown bytes.Buffer
	read := make(chan struct{})
	go func() {
		defer close(read)
		_, _ = io.Copy(&shown, person) // ends with an error when the terminal closes
	}()
	var o bytes.Buffer
	e := &prompts{answers: answers, to: person}
	done := make(chan int, 1)
	go func() { done <- run(args, program, &o, e) }()
	select {
	case code = <-done:
	case <-time.After(time.Minute):
		require.Fail(t, "waits for more than it was told", e.said.String())
	}
	program.Close()
	<-read
	return code, o.String(), e.said.String(), shown.String()
}

// prompts types an answer whenever it is asked something.
type prompts struct {
	said    bytes.Buffer
	answers []string
	to      *os.File
}

func (p *prompts) Write(b []byte) (int, error) {
	p.said.Write(b)
	if bytes.HasSuffix(b, []byte(": ")) && len(p.answers) > 0 {
		answer := p.answers[0]
		p.answers = p.answers[1:]
		secret := bytes.HasPrefix(b, []byte("passphrase"))
		go func() { // the terminal shows nothing once the program waits for what is secret
			for secret && p.echoes() {
				time.Sleep(time.Millisecond)
			}
			_, _ = io.WriteString(p.to, answer) // a line that is not typed is missed by the test
		}()
	}
	return len(b), nil
}

func (p *prompts) echoes() bool {
	state, err := unix.IoctlGetTermios(int(p.to.Fd()), unix.TCGETS)
	return err == nil && state.Lflag&unix.ECHO != 0
}

// keptAt runs keep at a terminal; the record is whole, and bagInfo is what it holds.
func keptAt(t *testing.T, answers []string, args ...string) (errOut, bagInfo string) {
	t.Helper()
	dir := t.TempDir()
	code, out, errOut, _ := typed(t, answers, append([]string{"keep", demoKitchen, "--into", dir}, args...)...)
	require.Equal(t, exitOK, code, errOut)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, 1, out)
	rec := filepath.Join(dir, entries[0].Name())
	code, out, _ = call("verify", rec)
	require.Equal(t, exitOK, code, out)
	info, err := os.ReadFile(filepath.Join(rec, "bag-info.txt"))
	require.NoError(t, err)
	return errOut, string(info)
}

// Each fact that nobody gave is asked for once; an empty answer leaves it out.
func TestQuestionsAtATerminal(t *testing.T) {
	asked := []string{"who dipped and read", "time of reading by eye", "the photo's light", "the water before the dip", "the kit's handling rule", "a note"}
	errOut, info := keptAt(t, []string{"A. Reader\n", "\n", "Tube\n", "\n", "  yes  \n", "\n"}, "--place", "Mill Lane 7")
	for _, q := range asked {
		assert.Equal(t, 1, strings.Count(errOut, q), q)
	}
	assert.NotContains(t, errOut, "place, such as the house", "it was given")
	assert.Equal(t, len(asked), strings.Count(errOut, "(empty when not known): "))
	for _, line := range []string{"Place: Mill Lane 7", "Tester: A. Reader", "Light: tube", "Handling-Rule-Followed: yes", "Facts-Missing: Read, Note"} {
		assert.Contains(t, info, line+"\n")
	}
	errOut, info = keptAt(t, []string{"neon\n", "lamp\n", endOfInput}, "--tester", "A. Reader", "--read", "8:41")
	assert.Contains(t, errOut, "that is \"neon\"; write one of daylight, lamp, tube, flash")
	assert.Contains(t, info, "Light: lamp\n")
}

// The end of the input ends the asking; what was begun counts.
func TestEndOfInputEndsTheAsking(t *testing.T) {
	for _, first := range []string{endOfInput, "half past eight" + endOfInput + endOfInput} {
		errOut, info := keptAt(t, []string{first, "must not be asked\n"})
		assert.Equal(t, 1, strings.Count(errOut, "(empty when not known)"), errOut)
		assert.Equal(t, first != endOfInput, strings.Contains(info, "half past eight"), info)
		assert.NotContains(t, info, "must not be asked")
	}
}

// Odd answers give a whole bag-info.txt that reads back; one that is too long is
// said to be, and asked for again.
func TestOddAnswersAtATerminal(t *testing.T) {
	said := []string{"--light", "lamp", "--water", "clear"}
	odd := "a\x01b \x1b[31mred\x1b[0m \u202etfel\tx\x00 \xff é\n"
	errOut, info := keptAt(t, []string{odd, "one\ntwo\n", "", "\n"}, append(said, "--tester", "A. Reader")...)
	assert.Contains(t, info, "Read: a\ufffdb \ufffd[31mred\ufffd[0m \ufffdtfel x\ufffd \ufffd é\n", errOut)
	assert.Contains(t, info, "Handling-Rule-Followed: one\n")
	assert.Contains(t, info, "Note: two\n", "a line that was pasted with the one before answers the next question")

	errOut, info = keptAt(t, []string{strings.Repeat("x", 10_000) + "\n", "08:39\n", "\n", "\n", "\n"}, append(said, "--tester", "A. Reader")...)
	assert.Contains(t, errOut, "that is over 1000 letters and was not taken; say it shorter, or keep it in a file with --attach\n")
	assert.Contains(t, info, "Read: 08:39\n")

	_, info = keptAt(t, []string{strings.Repeat("ü", 1000) + "\n", "\n", "\n", "\n"}, append(said, "--tester", "A. Reader")...)
	assert.Contains(t, info, "Read: "+strings.Repeat("ü", 1000)+"\n")

	dir := t.TempDir()
	code, out, errOut := call("keep", demoKitchen, "--into", dir, "--note", strings.Repeat("x", 10_000))
	assert.Equal(t, exitError, code, out)
	assert.Equal(t, "padband: "+demoKitchen+": Note is 10000 letters long and may be 1000; say it shorter, or keep it in a file with --attach\n", errOut)
	code, _, _ = call("keep", demoKitchen, "--into", dir, "--note", "one\r\ntwo\u2028\n\n three\x1b")
	assert.Equal(t, exitOK, code)
	got, err := filepath.Glob(filepath.Join(dir, "*", "bag-info.txt"))
	require.NoError(t, err)
	require.Len(t, got, 1, "and the one that was too long left nothing")
	data, err := os.ReadFile(got[0])
	require.NoError(t, err)
	assert.Contains(t, string(data), "Note: one\n  two\n  three\ufffd\n")
}

// What cannot work is said before anything is asked.
func TestNothingIsAskedInVain(t *testing.T) {
	for _, args := range [][]string{{"--into", filepath.Join(demoKitchen, "records")}, {"--into", demoKitchen}, {"--into", t.TempDir(), "--sign", demoKitchen}, {"--into", t.TempDir(), "--attach", "nowhere"}} {
		code, _, errOut, _ := typed(t, nil, append([]string{"keep", demoKitchen}, args...)...)
		assert.Equal(t, exitError, code)
		assert.Equal(t, 1, strings.Count(errOut, "\n"), errOut)
		assert.NotContains(t, errOut, "(empty when not known)")
	}
}

// A photo that is to come from a terminal is not waited for.
func TestNoPhotoIsTyped(t *testing.T) {
	code, out, errOut, _ := typed(t, nil, "read", "-", "--marks", demo+"kitchen.marks.json")
	assert.Equal(t, exitError, code)
	assert.Empty(t, out)
	assert.Equal(t, "padband: standard input: is a terminal; send a photo into it, as in padband read - --marks MARKS < PHOTO, or name the photo's file\n", errOut)
}

// The passphrase of a key is asked for and never shown.
func TestPassphraseAtATerminal(t *testing.T) {
	keygen, err := exec.LookPath("ssh-keygen")
	if err != nil {
		require.NotEqual(t, "true", os.Getenv("CI"), "ssh-keygen is needed")
		t.Skip("ssh-keygen is not on this machine; it makes the key of this test")
	}
	t.Setenv("SSH_AUTH_SOCK", filepath.Join(t.TempDir(), "none"))
	key := filepath.Join(t.TempDir(), "key")
	require.NoError(t, exec.Command(keygen, "-q", "-t", "ed25519", "-N", "s3cret words", "-f", key).Run())
	keep := []string{"keep", demoKitchen, "--sign", key, "--into"}

	dir := t.TempDir()
	code, out, errOut, screen := typed(t, []string{"s3cret words\n", endOfInput}, append(keep, dir)...)
	require.Equal(t, exitOK, code, errOut)
	assert.Contains(t, errOut, "passphrase of "+key+": ")
	assert.Contains(t, out, "signed: this says who signed")
	assert.NotContains(t, out+errOut+screen, "s3cret")

	dir = t.TempDir()
	for answer, want := range map[string]string{"wrong\n": "does not open with this passphrase; try again", "\n": "needs its passphrase, and none was given"} {
		code, _, errOut, _ = typed(t, []string{answer}, append(keep, dir)...)
		assert.Equal(t, exitError, code)
		assert.Contains(t, errOut, "padband: "+key+": "+want+"\n")
	}
	code, _, errOut = call(append(keep, dir)...)
	assert.Equal(t, exitError, code)
	assert.Equal(t, "padband: "+key+": needs its passphrase, and no agent answers; start ssh-agent and add the key with ssh-add\n", errOut)
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, left)
}
