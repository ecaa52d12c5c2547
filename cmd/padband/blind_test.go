package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/blind"
	"padband/cmd/padband/internal/blind/marked"
)

// blindFolder holds the demonstration photos with their marks.
func blindFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"kitchen.jpg", "kitchen.marks.json", "cellar.jpg", "cellar.marks.json"} {
		write(t, filepath.Join(dir, name), []byte(readText(t, demo+name)))
	}
	return dir
}

// blindNow is what the page is told, as far as a test needs it.
type blindNow struct {
	At, Of int
	Pad    *struct{ Swatches []struct{ Value float64 } }
}

func getBlind(t *testing.T, address string) (s blindNow) {
	t.Helper()
	res, err := http.Get(address + "api/pad")
	require.NoError(t, err)
	defer res.Body.Close()
	require.NoError(t, json.NewDecoder(res.Body).Decode(&s))
	return s
}

func postBlind(address, path, body string) (status int, err error) {
	res, err := http.Post(address+path, "application/json", strings.NewReader(body))
	if err != nil {
		return 0, err
	}
	defer res.Body.Close()
	_, err = io.Copy(io.Discard, res.Body)
	return res.StatusCode, err
}

// showAndCall calls the lowest swatch of the pad whose turn it is.
func showAndCall(t *testing.T, address string, s blindNow, during func()) {
	t.Helper()
	status, err := postBlind(address, fmt.Sprintf("api/pads/%d/shown", s.At), "{}")
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, status)
	sent := make(chan bool)
	go func() {
		defer close(sent)
		postBlind(address, fmt.Sprintf("api/pads/%d/call", s.At), fmt.Sprintf(`{"kind":"swatch","value":%g}`, s.Pad.Swatches[0].Value))
	}()
	during()
	<-sent
}

// The command is killed in the middle of every call, at a moment of chance, and
// started again: each time the file is whole, has that call or has it not, and
// the run goes on from there. At the end each pad has one row, and the file is
// that of a run that was never killed, but for times.
func TestBlindKilledInEveryCall(t *testing.T) {
	dir := blindFolder(t)
	whole, killed := filepath.Join(t.TempDir(), "whole.csv"), filepath.Join(t.TempDir(), "killed.csv")
	args := func(file string) []string {
		return []string{"blind", dir, "--reader", "R", "--no-browser", "--out", file, "--seed", "3"}
	}
	address, stop := running(t, args(whole)...)
	for s := getBlind(t, address); s.Pad != nil; s = getBlind(t, address) {
		showAndCall(t, address, s, func() {})
	}
	code, out := stop(os.Interrupt)
	require.Equal(t, exitOK, code, out)
	assert.Regexp(t, `^The page is at \S+\n0 of 6 pads called\. Every call is kept at once, in \S+whole\.csv\nCtrl-C ends it; the same command goes on\.\nAll 6 pads called: \S+whole\.csv\nTo compare with another reader: padband compare \S+whole\.csv OTHER\.csv\n$`, out)

	chance := rand.New(rand.NewPCG(1, 2))
	made, runs := 0, 0
	for most := 4_000; made < 6; runs++ {
		require.Less(t, runs, 100)
		address, stop := running(t, args(killed)...)
		s := getBlind(t, address)
		require.Equal(t, made, s.At)
		showAndCall(t, address, s, func() {
			time.Sleep(time.Duration(chance.IntN(most)) * time.Microsecond)
			stop(syscall.SIGKILL)
		})
		text := readText(t, killed)
		require.True(t, strings.HasSuffix(text, "\n"))
		rows := strings.Count(text, "\n") - 2
		t.Logf("killed after %d calls: %d are kept", made, rows)
		require.True(t, rows == made || rows == made+1, "%d calls after %d", rows, made)
		most += 2_000 // on a busy machine too, a call comes through at last
		made = rows
	}
	times := regexp.MustCompile(`,screen,[0-9.]+,`)
	assert.Equal(t, times.ReplaceAllString(readText(t, whole), ",screen,,"), times.ReplaceAllString(readText(t, killed), ",screen,,"))
	code, o, errOut := call(args(killed)...)
	assert.Equal(t, exitOK, code, errOut)
	assert.Regexp(t, `^All 6 pads called: \S+killed\.csv\nTo compare`, o, "nothing is left to serve")
}

// Interrupted before its end, it says how far it is.
func TestBlindEnded(t *testing.T) {
	dir := blindFolder(t)
	address, stop := running(t, "blind", dir, "--reader", "Zoë O'Hara", "--no-browser")
	showAndCall(t, address, getBlind(t, address), func() {})
	code, out := stop(os.Interrupt)
	assert.Equal(t, exitOK, code)
	assert.True(t, strings.HasSuffix(out, "1 of 6 pads called; the same command goes on.\n"), out)
	assert.FileExists(t, filepath.Join(dir, "blind-Zoë-O-Hara.csv"))
}

// Photos beside their marks and records, as folders and zip files, are found, in
// the order of their names; two of one stem are told apart by their paths.
func TestBlindFindsPhotosAndRecords(t *testing.T) {
	dir := blindFolder(t)
	kitchen := filepath.Join(dir, "kitchen.jpg")
	for _, args := range [][]string{{"--place", "hut"}, {"--zip", "--place", "zip"}} {
		code, _, errOut := call(append([]string{"keep", kitchen, "--into", dir}, args...)...)
		require.Equal(t, exitOK, code, errOut)
	}
	write(t, filepath.Join(dir, "other.zip"), []byte("PK"))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "sub"), 0o755))
	write(t, filepath.Join(dir, "sub", "cellar.jpg"), []byte(readText(t, demo+"cellar.jpg")))
	write(t, filepath.Join(dir, "sub", "cellar.marks.json"), []byte(readText(t, demo+"cellar.marks.json")))
	write(t, filepath.Join(dir, "sub", "unmarked.jpg"), []byte("x"))
	attached := filepath.Join(dir, "2026-11-14-hut-tap-54ed5e82", "data", "attached")
	require.NoError(t, os.Mkdir(attached, 0o755))
	write(t, filepath.Join(attached, "more.jpg"), []byte("x"))
	write(t, filepath.Join(attached, "more.marks.json"), []byte(readText(t, demo+"cellar.marks.json")))
	for from, to := range map[string]string{"sub/loop": dir, "sub/link.jpg": kitchen, "sub/link.marks.json": filepath.Join(dir, "kitchen.marks.json")} {
		if err := os.Symlink(to, filepath.Join(dir, from)); err != nil {
			t.Logf("no links on this system: %v", err)
		}
	}
	photos, left, err := marked.Find(dir, photoLimits(usualMegapixels))
	require.NoError(t, err)
	assert.Empty(t, left)
	var names []string
	for _, p := range photos {
		names = append(names, p.Sample)
		data, err := p.Read()
		require.NoError(t, err)
		want := "kitchen.jpg"
		if strings.Contains(p.Sample, "cellar") {
			want = "cellar.jpg"
		}
		assert.True(t, bytes.Equal(data, []byte(readText(t, demo+want))), p.Sample)
		assert.Len(t, blind.Marked(p.Marks, p.Chart), 3)
	}
	assert.Equal(t, []string{"2026-11-14-hut-tap-54ed5e82", "2026-11-14-zip-tap-54ed5e82.zip", "cellar", "kitchen", "sub/cellar"}, names)

	only, _, err := marked.Find(filepath.Join(dir, "2026-11-14-hut-tap-54ed5e82"), photoLimits(usualMegapixels))
	require.NoError(t, err)
	require.Len(t, only, 1, "a record by itself")
	assert.Equal(t, "kitchen", only[0].Sample)
}

// Why a run cannot go on with a file is said with the flags that help.
func TestBlindSaysWhatHelps(t *testing.T) {
	why := errors.New("why")
	for m, want := range map[blind.Misfit]string{
		blind.NoneFits:  "c.csv: why; name another with --out",
		blind.Mendable:  "c.csv: why, or name another file with --out",
		blind.Unread:    "c.csv: why; or name another with --out",
		blind.OtherSeed: "c.csv: why; leave --seed out to go on with it, or name another with --out",
		blind.OtherSet:  "c.csv: was begun with other photos, another chart or another --analyte; name those, or another file with --out",
	} {
		assert.EqualError(t, withOut(fmt.Errorf("c.csv: %w", &blind.FileError{Misfit: m, Err: why}), "c.csv"), want)
	}
	assert.EqualError(t, withOut(fmt.Errorf("%w: %w", blind.ErrSeed, why), "c.csv"), "no seed could be drawn: why; name one with --seed")
	assert.Equal(t, why, withOut(why, "c.csv"))
}
